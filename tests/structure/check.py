"""The layout's rules: includes go one way, names have one meaning, files and functions stay small enough to read.

check.py ROOT, or check.py --self-test: what the rules must find in small wrong examples.
"""
import pathlib
import re
import sys
from collections import defaultdict

import cpp_text
import rooms

folders = ("parser", "sim", "report", "tests")
most_lines, most_function_lines, most_class_lines, most_columns, most_stems = 600, 80, 80, 120, 22
top_level = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "parser", "sim", "report", "tests", "samples"}


def sources(root):
    """All C++ of the project: name → text."""
    return {str(path.relative_to(root)): path.read_text(encoding="utf-8")
            for folder in folders for path in sorted((root / folder).rglob("*"))
            if path.suffix in {".h", ".cpp"} and "node_modules" not in path.parts}


def size_faults(files):
    stems = defaultdict(set)
    for name, text in files.items():
        stems[name.rpartition("/")[0]].add(re.sub(r"\.\w+$", "", name))
        lines = text.splitlines()
        if len(lines) > most_lines:
            yield f"{name}: {len(lines)} lines, at most {most_lines}"
        raw = cpp_text.raw_string_lines(text)
        yield from (f"{name}:{n}: {len(line)} columns, at most {most_columns}" for n, line in enumerate(lines, 1)
                    if len(line) > most_columns and n not in raw)
    for folder, inside in stems.items():
        if len(inside) > most_stems:
            yield f"{folder}/: {len(inside)} stems, at most {most_stems}"


def function_faults(functions):
    for name, found in functions.items():
        yield from (f"{name}:{f.line}: {f.name}() has {f.lines} lines, at most {most_function_lines}" for f in found
                    if f.lines > most_function_lines)


def class_faults(types):
    """A longer class inside one .cpp is a long function by another name: its members share everything."""
    for name, found in types.items():
        yield from (f"{name}:{t.line}: {t.name} has {t.lines} lines, at most {most_class_lines}" for t in found
                    if name.endswith(".cpp") and t.lines > most_class_lines)


def type_faults(types):
    """One namespace, one meaning of a name: two types of one name in a program are one to the linker."""
    named, hidden = defaultdict(list), defaultdict(list)
    for file, found in types.items():
        for t in found:
            (hidden if t.anonymous else named)[t.space, t.name].append(f"{file}:{t.line}")
    for (space, name), places in named.items():
        if len(places) > 1:
            yield f"{places[1]}: {space}::{name} is also defined in {places[0]}"
        for place in hidden.get((space, name), ()):
            yield f"{place}: an unnamed namespace's {name} hides {space}::{name} of {places[0]}"


def opinion_faults(files):
    """The parser and the simulation hold facts, no opinions."""
    for name, text in files.items():
        if name.startswith(("parser/", "sim/")) and re.search(r"\bLevel::", text):
            yield f"{name}: levels belong to report/"


def rule_faults(root, files):
    """A rule has a file, a line in the list and a test."""
    listed = files.get("report/rules/list.cpp", "")
    for name, text in files.items():
        if not name.startswith("report/rules/") or not name.endswith(".cpp"):
            continue
        for rule in re.findall(r"^const Rule (\w+)_rule\b", text, re.MULTILINE):
            if not re.search(rf"\b{rule}_rule\b", listed):
                yield f"{name}: {rule}_rule is not in report/rules/list.cpp"
            named = re.compile(rf"\b({rule}(_rule)?|{rule.replace('_', '-')})\b")  # by its name or by its id
            if not any(named.search(text) for test, text in files.items()
                       if test.startswith("tests/") and test.endswith("_test.cpp")):
                yield f"{name}: no test names {rule}"
    for rule in re.findall(r"&(\w+)_rule\b", listed):
        if not any(re.search(rf"^const Rule {rule}_rule\b", text, re.MULTILINE) for text in files.values()):
            yield f"report/rules/list.cpp: {rule}_rule has no file"


def build_faults(root, files):
    """What CMake builds is what is there."""
    built = set()
    for lists in [root / "CMakeLists.txt", *(p for f in folders for p in sorted((root / f).rglob("CMakeLists.txt")))]:
        if "node_modules" in lists.parts:
            continue
        folder = lists.parent
        text = re.sub(r"#[^\n]*", "", lists.read_text(encoding="utf-8"))
        text = text.replace("${PROJECT_SOURCE_DIR}", str(root)).replace("${CMAKE_CURRENT_SOURCE_DIR}", str(folder))
        text = re.sub(r"\$\{\w+\}\S*", "", text)  # what the build makes
        names = set(re.findall(r"[\w./-]+\.cpp\b", text))
        for room, stems in re.findall(r"provecut_room\(\s*\w+\s+(\S+)([^)]*)\)", text):
            names.update(f"{room}/{stem}.cpp" for stem in stems.split() if stem != "APART")
        names.update(f"{name}_fuzz.cpp" for name in re.findall(r"provecut_fuzz\(\s*(\w+)", text))
        for name in names:
            path = (folder / name).resolve()
            if path.exists():
                built.add(str(path.relative_to(root)))
            else:
                yield f"{lists.relative_to(root)}: {name} is not there"
    yield from (f"{name}: no CMakeLists.txt names it" for name in files if name.endswith(".cpp") and name not in built)


def top_level_faults(root):
    yield from (f"{path.name}: the top level holds nothing else" for path in sorted(root.iterdir())
                if path.name not in top_level and not path.name.startswith((".", "build")))


def self_test():
    """Every rule finds what it is for."""
    def expect(what, found, wanted):
        if len(list(found)) != wanted:
            sys.exit(f"the self-test of {what} failed: wanted {wanted}")

    up = {"sim/path/a.h": '#include "sim/stock/b.h"\n', "sim/stock/b.h": '#include "report/base/c.h"\n',
          "report/rules/motion/d.cpp": '#include "report/rules/parts/e.h"\n', "sim/cellar/f.h": "",
          "report/base/g.h": '#include "parser/base/place.h"\n#include "sim/run.h"\n'}
    expect("rooms", rooms.faults(up), 4)
    twice = {"a.h": "namespace p {\nstruct S { int a; };\nnamespace q { struct S {}; }\nstruct T;\n}\n",
             "b.cpp": "namespace p {\nnamespace {\nstruct S { double a; };\nclass U {};\n}\n}\n",
             "c.h": "namespace p::q {\nenum class S : int { a };\n}\n"}
    expect("types", type_faults({name: cpp_text.read(text)[0] for name, text in twice.items()}), 2)
    body = "  a();\n" * 79
    long = {"a.cpp": f"struct C {{\n  explicit C(int x) : a_{{x}}, b_(x) {{\n{body}  }}\n}};\n"
                     f"void f(int a = 3,\n       int b = 4) {{\n{body}}}\n"
                     f"void short_enough() {{\n{body[:-7]}}}\nconst int table[] = {{\n{'  1,' + chr(10) * 90}}};\n"
                     "// void g() {\nconst char* s = R\"x({ } {)x\";\n"}
    found = {name: cpp_text.read(text)[1] for name, text in long.items()}
    expect("functions", function_faults(found), 2)
    members = "  int a() { return 1; }\n" * 79
    classes = {"a.cpp": f"namespace p {{\nnamespace {{\nclass A : B {{\n{members[:-1]}\n  int c;\n}};\n"
                        f"struct D {{\n{members[24:]}}};\nstruct E {{\n  struct F {{\n{members}  }};\n}};\n}}\n}}\n",
               "b.h": f"struct G {{\n{members}  int a;\n}};\n"}
    expect("classes", class_faults({name: cpp_text.read(text)[0] for name, text in classes.items()}), 2)
    expect("sizes", size_faults({"a.cpp": "x" * 121 + "\n" + 'R"(\n' + "x" * 121 + '\n)"\n' + "\n" * 600}), 2)
    expect("stems", size_faults({f"sim/path/{n}.h": "" for n in range(23)}), 1)
    print("the rules find what they are for")


def main():
    if sys.argv[1:] == ["--self-test"]:
        return self_test()
    root = pathlib.Path(sys.argv[1]).resolve()
    files = sources(root)
    parsed = {name: cpp_text.read(text) for name, text in files.items()}
    faults = [
        *rooms.faults(files),
        *class_faults({name: types for name, (types, _) in parsed.items()}),
        *type_faults({name: types for name, (types, _) in parsed.items()}),
        *size_faults(files),
        *function_faults({name: functions for name, (_, functions) in parsed.items()}),
        *opinion_faults(files),
        *rule_faults(root, files),
        *build_faults(root, files),
        *top_level_faults(root),
    ]
    print("\n".join(faults) or "the layout holds")
    return bool(faults)


sys.exit(main())
