"""As much C++ as the layout's rules need: the types and the functions of a file, found by its braces.

The code goes through clang-format before it comes here, and there are no macros that open a brace.
"""
import bisect
import re
from dataclasses import dataclass

_literal = re.compile(
    r'//[^\n]*|/\*.*?\*/'                                    # comments
    r'|(?:u8|u|U|L)?R"(?P<end>[^()\\\s]{0,16})\(.*?\)(?P=end)"'  # raw strings
    r'|"(?:[^"\\\n]|\\.)*"'                                  # strings
    r"|(?<![\w])'(?:[^'\\\n]|\\.)+'"                         # characters, but no separator of digits
    r'|^[ \t]*\#(?:[^\n\\]|\\.|\\\n)*', re.DOTALL | re.MULTILINE)


@dataclass
class Type:
    space: str       # "provecut::cutting"
    anonymous: bool  # in an unnamed namespace below it
    name: str
    line: int
    lines: int  # from its first word to its last brace


@dataclass
class Function:
    name: str
    line: int
    lines: int  # from its first word to its last brace, without what raw strings fill


def bare(text):
    """The code without comments, literals and preprocessor lines; every line break stays."""
    return _literal.sub(lambda m: "\n" * m.group().count("\n") or (" " if m.group()[0] in "/ \t#" else "0"), text)


def raw_string_lines(text):
    """Numbers of the lines that a raw string touches."""
    lines = set()
    for m in _literal.finditer(text):
        if m.group().lstrip("u8UL").startswith('R"'):
            first = text.count("\n", 0, m.start()) + 1
            lines.update(range(first, first + m.group().count("\n") + 1))
    return lines


def _without_parentheses(text):
    while True:
        less = re.sub(r"\([^()]*\)", "()", text.replace("()", "\0"))
        if less == text.replace("()", "\0"):
            return less.replace("\0", "()")
        text = less.replace("\0", "()")


def _kind(head):
    """What a brace after `head` opens, and its name."""
    space = re.search(r"\bnamespace\s*([\w:]*)\s*$", head)
    if space:
        return "namespace", space.group(1)
    flat = _without_parentheses(re.sub(r"\[\[.*?\]\]", "", head))
    flat = re.sub(r"\btemplate\s*<.*?>\s*(?=\b(?:struct|class|union|constexpr|static|inline|void|auto|std|[A-Z]))", "",
                  flat, flags=re.DOTALL)
    kind = re.search(r"(?:^|\s)(?:struct|class|union|enum(?:\s+(?:class|struct))?)\s+(\w+)(?:\s+final)?\s*(:[^:].*)?$",
                     flat, re.DOTALL)
    if kind and "=" not in flat:
        return "type", kind.group(1)
    named = re.search(r"([\w:~]+|operator\s*\S+)\s*\(\)", flat)
    assigned = re.search(r"(?<!operator)(?<![=!<>])=(?!=)", re.sub(r"operator\s*[=!<>+\-*/]+", "operator", flat))
    if named and not assigned:
        return "function", named.group(1)
    return "other", ""


def _initialises_member(head):
    """A brace after `) : a_(x), b_` begins b_'s value, not the constructor's body."""
    return bool(re.search(r"\)\s*(?:noexcept\s*)?:(?!:)[^;]*[\w>]\s*$", head)) and not re.search(r"\)\s*:\s*$", head)


def read(text):
    """(types, functions) of a file, those inside other functions left out."""
    code, raw = bare(text), raw_string_lines(text)
    breaks = [m.start() for m in re.finditer("\n", code)]
    line_at = lambda i: bisect.bisect_left(breaks, i) + 1
    types, functions, open_, start, depth, i = [], [], [], 0, 0, 0
    begin_of_inner = None  # where the braces of a body are only counted
    while i < len(code):
        c = code[i]
        if begin_of_inner is not None:
            depth += (c == "{") - (c == "}")
            if depth == 0:
                kind, name, first = begin_of_inner
                if kind == "function":
                    lines = range(line_at(first), line_at(i) + 1)
                    functions.append(Function(name, lines.start, len(set(lines) - raw)))
                begin_of_inner = None
                # The value of a member in a constructor's list belongs to the head that goes on.
                start = start if kind == "member" else i + 1
        elif c == "{":
            head = code[start:i]
            first = start + len(head) - len(head.lstrip())
            if _initialises_member(head):
                begin_of_inner, depth = ("member", "", first), 1
            else:
                kind, name = _kind(head)
                if kind in ("namespace", "type"):
                    if kind == "type" and all(k == "namespace" for k, _ in open_):
                        spaces = [n for _, n in open_]
                        types.append(Type("::".join(n for n in spaces if n), "" in spaces, name, line_at(first), 1))
                    open_.append((kind, name))
                    start = i + 1
                else:
                    begin_of_inner, depth = (kind, name, first), 1
        elif c == "}":
            if open_ and open_.pop()[0] == "type" and all(k == "namespace" for k, _ in open_):
                types[-1].lines = line_at(i) - types[-1].line + 1
            start = i + 1
        elif c == ";":
            start = i + 1
        elif c == ":" and re.search(r"\b(public|private|protected)\s*$", code[start:i]):
            start = i + 1
        i += 1
    return types, functions
