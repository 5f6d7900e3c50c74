"""The layout's rules: includes go one way, costly headers stay where they belong, rules and their list agree."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
folders = ["parser", "sim", "report"]
faults = []

# What a folder may include of ours: itself and those before it.
for place, folder in enumerate(folders):
    for path in sorted((root / folder).rglob("*")):
        if path.suffix not in {".h", ".cpp"}:
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            include = re.match(r'\s*#include\s+["<]([^">]+)[">]', line)
            if not include:
                continue
            target = include.group(1)
            where = f"{path.relative_to(root)}:{number}"
            first = target.split("/")[0]
            if first in folders[place + 1:] or first == "tests":
                faults.append(f"{where}: {folder}/ must not include {target}")
            name = str(path.relative_to(root))
            only = {
                "openvdb/": ("sim/surface/stock_grid_data.h", "sim/surface/stock_grid.cpp", "sim/surface/vdb_export.cpp", "sim/surface/hollow_surface.cpp"),
                "boost/spirit/": ("parser/block/block_grammar.cpp",),
                "CLI/": tuple(f"report/command_line/{name}" for name in ("command_line.cpp", "option_values.h", "syntax.cpp", "syntax.h")),
            }
            for prefix, homes in only.items():
                if target.startswith(prefix) and name not in homes:
                    faults.append(f"{where}: {target} belongs in {', '.join(homes)}")
            if target.startswith("toml++/") and not name.startswith("parser/job_file"):
                faults.append(f"{where}: {target} belongs in parser/job_file*.cpp")
            if target.startswith("spdlog/") and path.suffix == ".h":
                faults.append(f"{where}: {target} must stay out of headers")
            if target == "nlohmann/json.hpp" and path.suffix == ".h":
                faults.append(f"{where}: headers take nlohmann/json_fwd.hpp")

# The parser and the simulation hold facts, no opinions.
for folder in ("parser", "sim"):
    for path in sorted((root / folder).rglob("*.h")):
        if re.search(r"\bLevel::", path.read_text(encoding="utf-8")):
            faults.append(f"{path.relative_to(root)}: levels belong to report/")

# A rule with a file is in the list, and has a test.
listed = (root / "report/rules/list.cpp").read_text(encoding="utf-8")
for path in sorted((root / "report/rules").glob("*.cpp")):
    text = path.read_text(encoding="utf-8")
    for name in re.findall(r"^const Rule (\w+_rule)\b", text, re.MULTILINE):
        if name not in listed:
            faults.append(f"{path.relative_to(root)}: {name} is not in report/rules/list.cpp")

# Files stay small enough to hold in the head.
for folder in folders + ["tests"]:
    for path in sorted((root / folder).rglob("*")):
        if path.suffix in {".h", ".cpp", ".py"} and len(path.read_text(encoding="utf-8").splitlines()) > 600:
            faults.append(f"{path.relative_to(root)}: more than 600 lines")

for path in sorted(root.iterdir()):
    allowed = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "parser", "sim", "report", "tests", "samples"}
    if path.name not in allowed and not path.name.startswith((".", "build")):
        faults.append(f"{path.name}: the top level holds nothing else")

print("\n".join(faults) or "the layout holds")
sys.exit(1 if faults else 0)
