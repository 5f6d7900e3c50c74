"""The rooms in order, and the doors between them: a file includes from its own room and from those before it."""
import re

# Each room may take from those above it, and from all of the folders before its own.
order = {
    "parser": ["base", "program", "block", "job", "job_file", "interpreter"],
    "sim": ["numeric", "path", "tool", "observed", "clearance", "placing", "stock", "surface", "pieces", "tabs",
            "parts", "holes", "clock", "load", ""],
    "report": ["base", "facts", "formats/base", "costing", "rules", "rules/shared", "rules/hold_downs",
               "rules/motion", "rules/cutting", "rules/spindle", "rules/parts", "rules/program", "placing", "findings", "causes",
               "formats/drawing", "formats/text", "formats/data", "formats/paper", "formats/page", "command_line",
               "formats/shell", "draft", "commands", ""],
}

# Doors that the order would leave open.
closed = [
    (r"parser/(block|program)", r"parser/job"),               # a line of a program knows nothing of the job
    (r"parser/interpreter", r"parser/job_file"),              # programs are read without the job file's text
    (r"sim/.*", r"parser/(block|interpreter|job_file)"),      # the simulation takes what was read, not how
    (r"report/formats/base", r"parser/(?!base).*|sim/.*"),    # tables and mark-up know nothing of jobs
    (r"report/rules/(hold_downs|motion|cutting|spindle|parts|program)",
     r"report/rules/(hold_downs|motion|cutting|spindle|parts|program)"),  # rules know nothing of each other
    (r"report/draft", r"report/(rules|findings|placing|formats)/.*"),
    (r"report/rules/.*|report/findings", r"report/formats/.*"),  # what is found does not depend on how it is shown
]

# Costly or telling headers stay where they belong.
homes = {
    "openvdb/": r"sim/surface/(stock_grid_data\.h|stock_grid\.cpp|vdb_export\.cpp|hollow_surface\.cpp)",
    "boost/spirit/": r"parser/block/block_grammar\.cpp",
    "toml++/": r"parser/job_file/.*",
    "CLI/": r"report/command_line/.*",
    "spdlog/": r"report/.*\.cpp",
    "nlohmann/json.hpp": r".*\.cpp",
}


def room_of(name):
    """"sim/stock/cut.h" → ("sim", "stock"); None where the folder is not ours."""
    folder, _, rest = name.partition("/")
    return (folder, rest.rpartition("/")[0]) if folder in order else None


def faults(sources):
    """`sources`: name of a file → its text."""
    folders = list(order)
    for name, text in sources.items():
        own = room_of(name)
        if not own:
            continue
        if own[1] not in order[own[0]]:
            yield f"{name}: {own[0]}/{own[1]} is no room that tests/structure/rooms.py lists"
            continue
        for number, line in enumerate(text.splitlines(), 1):
            include = re.match(r'\s*#\s*include\s+["<]([^">]+)[">]', line)
            if not include:
                continue
            where, target = f"{name}:{number}", include.group(1)
            yield from (f"{where}: {target} belongs in {home}" for prefix, home in homes.items()
                        if target.startswith(prefix) and not re.fullmatch(home, name))
            if target.startswith("tests/"):
                yield f"{where}: the product takes nothing from tests/"
            other = room_of(target)
            if not other or other == own:
                continue
            if other[1] not in order[other[0]]:
                yield f"{where}: {target} is in no room"
                continue
            before = folders.index(other[0]) < folders.index(own[0]) or (
                other[0] == own[0] and order[own[0]].index(other[1]) < order[own[0]].index(own[1]))
            shut = any(re.fullmatch(a, "/".join(own)) and re.fullmatch(b, "/".join(other)) for a, b in closed)
            if not before or shut:
                yield f"{where}: {'/'.join(own)} must not take from {'/'.join(other)} ({target})"
