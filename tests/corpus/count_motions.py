#!/usr/bin/env python3
"""What programs move, read by a reader of our own that shares nothing with provecut's: word by word, with the modes that
NISTIR 6556 keeps from line to line (motion, distance, units) and nothing else.

Prints one line per program, tabs between: name, rapids, straight cuts, clockwise arcs, counter-clockwise arcs, then the
low and the high corner in mm of where cutting moves end. A program that asks for more than this reader knows (parameters,
loops, cutter compensation, tapping, ...) gets the reason instead.
"""
import pathlib
import re
import sys

WORD = re.compile(r"([A-Z])([+-]?(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d+)?)")
KNOWN_G = {0, 1, 2, 3, 4, 17, 18, 19, 20, 21, 40, 43, 49, 54, 61, 64, 80, 81, 82, 90, 91.1, 91, 94, 98, 99}
NAMES = {0: "rapid", 1: "feed", 2: "cw", 3: "ccw"}


class NotForMe(Exception):
    pass


def words_of(line):
    text = line.split(";")[0]
    text = re.sub(r"\([^()]*\)", "", text).upper().replace(" ", "").replace("\t", "").strip()
    if text in ("", "%"):
        return []
    if re.search(r"[()\[\]#=<>/$]", text):
        raise NotForMe("more than words: " + text)
    words = WORD.findall(text)
    if "".join(letter + number for letter, number in words) != text:
        raise NotForMe("not words alone: " + text)
    return [(letter, float(number)) for letter, number in words]


def read(text):
    counts, low, high = dict.fromkeys(NAMES.values(), 0), [float("inf")] * 3, [float("-inf")] * 3
    at, astray, met = [0.0, 0.0, 0.0], [False] * 3, [False] * 3
    mode, absolute, unit, plane, retract_to_r, r_level, bottom = None, True, 1.0, 17, False, None, None

    def go(kind, to):
        nonlocal at
        at = list(to)
        counts[kind] += 1
        if kind != "rapid":
            if any(astray):
                raise NotForMe("cuts from a place that only the machine knows")
            low[:], high[:] = [min(a, b) for a, b in zip(low, at)], [max(a, b) for a, b in zip(high, at)]

    for line in text.splitlines():
        words = words_of(line)
        if words and words[0][0] == "N":
            words = words[1:]
        if len(words) == 1 and words[0][0] == "O":
            continue  # the program's number
        codes = [number for letter, number in words if letter == "G"]
        given = {letter: number for letter, number in words if letter not in "GM"}
        if len(given) != sum(letter not in "GM" for letter, _ in words):
            raise NotForMe("a letter twice: " + line)
        if set("OUVWABCL") & set(given):
            raise NotForMe("letters: " + line)
        if any(letter == "M" and number in (97, 98, 99) for letter, number in words):
            raise NotForMe("subprograms")
        for code in codes:
            if code not in KNOWN_G and code not in (28, 30, 53, 92):
                raise NotForMe("G%g" % code)
            mode = int(code) if code in (0, 1, 2, 3, 81, 82) else None if code == 80 else mode
            if code in (0, 1, 2, 3, 80):
                r_level = bottom = None
            absolute = True if code == 90 else False if code == 91 else absolute
            unit = 25.4 if code == 20 else 1.0 if code == 21 else unit
            plane = int(code) if code in (17, 18, 19) else plane
            retract_to_r = code == 99 if code in (98, 99) else retract_to_r
        axes = {i: given[axis] * unit for i, axis in enumerate("XYZ") if axis in given}
        if {28, 30, 53} & set(codes):
            if axes:
                # G28 and G30 go by way of the point that they name; in increments of zero that is where the tool stands.
                counts["rapid"] += 1 if 53 in codes or not (absolute or any(axes.values())) else 2
            for i in axes:
                astray[i] = True
            continue
        if 92 in codes:
            for i, value in axes.items():
                at[i], astray[i], met[i] = value, False, True
            continue
        if 4 in codes:
            continue
        if any(letter == "M" and number in (2, 30) for letter, number in words):
            break
        if not axes and not (set("IJKR") & set(given) and mode in (2, 3)):
            continue
        if mode is None:
            raise NotForMe("a place without a motion: " + line)
        for i in axes:
            astray[i] = astray[i] and not absolute
            if not (absolute or met[i]):
                raise NotForMe("in increments from an unknown place")
            met[i] = True
        if mode in (81, 82):
            if not absolute or plane != 17:
                raise NotForMe("a cycle in increments, or in another plane")
            old = at[2]
            r_level = given["R"] * unit if "R" in given else r_level
            bottom = axes.get(2, bottom)
            hole = [axes.get(0, at[0]), axes.get(1, at[1])]
            ways = [("rapid", [at[0], at[1], max(old, r_level)]), ("rapid", [*hole, max(old, r_level)]), ("rapid", [*hole, r_level]),
                    ("feed", [*hole, bottom]), ("rapid", [*hole, r_level if retract_to_r else max(old, r_level)])]
            for kind, to in ways:
                if to != at:
                    go(kind, to)
            continue
        go(NAMES[mode], [at[i] if i not in axes else axes[i] if absolute else at[i] + axes[i] for i in range(3)])
    return counts, low, high


def main():
    for name in sys.argv[1:]:
        path = pathlib.Path(name)
        try:
            counts, low, high = read(path.read_bytes().removeprefix(b"\xef\xbb\xbf").decode("latin-1"))
            cells = [str(counts[k]) for k in NAMES.values()] + ["%.6f" % v for v in low + high]
        except NotForMe as reason:
            cells = [str(reason)]
        print("\t".join([path.name, *cells]))


main()
