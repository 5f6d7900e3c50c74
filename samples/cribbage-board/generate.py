#!/usr/bin/env python3
"""Writes the programs of this sample and of ../cribbage-board-trouble: python3 generate.py [FOLDER]

Lengths are mm in the frame of the stock's front-left corner. Z is measured from the stock's top on the front and from
the spoilboard on the back. The trouble job is the same job with the edits of PROGRAM_TROUBLES and JOB_TROUBLES.
"""
import math
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
WIDTH, DEPTH, THICKNESS = 480.0, 130.0, 19.05
BOARD = (30.0, 20.0, 390.0, 110.0)  # on the front: left, front, right, back
DISC = (432.0, 65.0)                # centre of the dealer's disc on the front
SCREWS = [(15.0, 20.0), (15.0, 110.0), (465.0, 110.0), (465.0, 20.0)]
PINS = [(14.0, 45.0), (466.0, 45.0)]  # a mirrored pair, off the middle: the stock fits one way only
FLAT, DRILL, VEE, BALL = 1, 2, 3, 4   # tool numbers
RADIUS = 3.0                          # of the flat and of the ball
FRONT = {"top": 0.0, "hop": 10.0, "clear": 40.0}
BACK = {"top": THICKNESS, "hop": 30.0, "clear": 60.0}


def flipped(x, y):
    """Where a point of the front ends up once the stock is flipped left to right."""
    return WIDTH - x, y


class Program:
    """An exported file: words are written when they change; the last position is kept as written."""

    def __init__(self, side, title, notes, inch=False, numbered=False):
        self.numbered = numbered
        self.scale, self.digits = (25.4, 4) if inch else (1.0, 3)
        self.top = side["top"]
        self.hop, self.clear = (0.4 * 25.4, 1.6 * 25.4) if inch else (side["hop"], side["clear"])
        self.lines, self.word = [], {}
        self.note(title)
        for line in notes:
            self.note(line)
        self.put("G20" if inch else "G21", "G90 G17 G94")
        self.put("G54 G40 G49 G80")

    def put(self, *words):
        self.lines.append(" ".join(words))

    def note(self, text):
        self.put(f"({text})")

    def number(self, mm):
        text = f"{mm / self.scale:.{self.digits}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def tool(self, number, rpm):
        self.put(f"T{number} M6")
        self.put(f"S{rpm} M3")
        self.put("G4 P5")
        self.word = {}
        self.move("G0", z=self.clear)

    def move(self, g, x=None, y=None, z=None, feed=None, centre=None):
        words, arc = [], g in ("G2", "G3")
        if self.word.get("G") != g or arc:
            words.append(g)
        start = {k: float(self.word.get(k, 0)) for k in "XY"}
        moved = False
        for letter, value in (("X", x), ("Y", y), ("Z", z)):
            if value is not None and (self.word.get(letter) != self.number(value) or (arc and letter in "XY")):
                self.word[letter] = self.number(value)
                words.append(letter + self.word[letter])
                moved = True
        if not moved:
            return
        if centre:  # from the start as written, so that the centre is exact
            words += [letter + self.number(c - start[axis] * self.scale)
                      for letter, axis, c in zip("IJ", "XY", centre)]
        if feed and self.word.get("F") != self.number(feed):
            self.word["F"] = self.number(feed)
            words.append("F" + self.word["F"])
        self.word["G"] = g
        self.put(*words)

    def hop_to(self, x, y, z):
        """Up, across and down to just above the material; the first time from high up."""
        if "X" in self.word:
            self.move("G0", z=self.hop)
        self.move("G0", x, y)
        self.move("G0", z=z)

    def end(self, clamps=False):
        """Parks beside the stock, high where clamps stand."""
        self.note("park")
        self.move("G0", z=self.clear if clamps else self.hop)
        self.move("G0", -40, 10)
        self.move("G0", z=self.clear)
        self.put("M5")
        self.put("M30")

    def text(self):
        if not self.numbered:
            return "\n".join(self.lines) + "\n"
        return "%\n" + "".join(f"N{10 * i + 10} {line}\n" for i, line in enumerate(self.lines)) + "%\n"


def box_loop(p, box, corner, feed, to=None):
    """Once round a box counter-clockwise from the middle of its front side; `to`: leave out what lies before it."""
    x0, y0, x1, y1 = box
    r = max(corner, 0.0)
    for (x, y), end, centre in (((x1 - r, y0), (x1, y0 + r), (x1 - r, y0 + r)),
                                ((x1, y1 - r), (x1 - r, y1), (x1 - r, y1 - r)),
                                ((x0 + r, y1), (x0, y1 - r), (x0 + r, y1 - r)),
                                ((x0, y0 + r), (x0 + r, y0), (x0 + r, y0 + r))):
        p.move("G1", x, y, feed=feed)
        if r > 0:
            p.move("G3", *end, feed=feed, centre=centre)
    p.move("G1", (x0 + x1) / 2, y0, feed=feed)


def inset(box, d):
    return box[0] + d, box[1] + d, box[2] - d, box[3] - d


def pocket(p, name, box, corner, top, levels, feed=2400):
    """Levels from the inside out, the last one the floor; 0.3 stays on the walls and goes in one last round."""
    leave, step, above = 0.3, 2.4, top
    rounds = int((min(box[2] - box[0], box[3] - box[1]) / 2 - RADIUS - leave) / step)
    middle = (box[0] + box[2]) / 2
    for level in levels:
        p.note(f"{name}: " + ("floor" if level == levels[-1] else "rough") + f", Z {p.number(level)}")
        inner = inset(box, RADIUS + leave + rounds * step)
        p.hop_to(middle, inner[1], above + 2)
        p.move("G1", z=above, feed=800)
        p.move("G1", inner[2], inner[1], level, feed=1200)
        for i in range(rounds, -1, -1):
            d = RADIUS + leave + i * step
            ring = inset(box, d)
            p.move("G1", middle, ring[1], feed=feed)
            box_loop(p, ring, corner - d, feed)
            if i == rounds:
                p.move("G1", inner[2], inner[1], feed=feed)
        above = level
    p.note(f"{name}: walls")
    wall, lead = inset(box, RADIUS), 2.0
    p.hop_to(middle - lead, wall[1] + lead, levels[-1] + 2)
    p.move("G1", z=levels[-1], feed=800)
    p.move("G3", middle, wall[1], feed=1800, centre=(middle, wall[1] + lead))
    box_loop(p, wall, corner - RADIUS, 1800)
    p.move("G3", middle + lead, wall[1] + lead, feed=1800, centre=(middle, wall[1] + lead))


def bore(p, centre, diameter, bottom, pitch):
    """A helix down from the top and once round at the bottom."""
    x, y = centre
    r = diameter / 2 - RADIUS
    depth = p.top - bottom
    turns = math.ceil(depth / pitch - 1e-9)
    p.hop_to(x + r, y, p.top + 2)
    p.move("G1", z=p.top, feed=800)
    for i in range(1, turns + 1):
        p.move("G3", x + r, y, p.top - depth * i / turns, feed=900, centre=centre)
    p.move("G3", x + r, y, feed=900, centre=centre)


def scoop(p, centre, along, half_length, depth, tube, step, chord):
    """A hollow cut by a ball in lines along `along`: the outer part of a torus of tube radius `tube`, opening at the
    top. The ball's centre runs on the torus of radius tube - RADIUS about the same circle, so it cuts nothing else."""
    s = (half_length**2 + depth**2) / (2 * depth)  # circle + tube, from the length of the opening
    circle, small, zb = s - tube, tube - RADIUS, s - depth
    top = p.top

    def line(across):
        """Half length of the line and the tip's height over it."""
        u = math.sqrt(small**2 - across**2)
        cosine = zb / (circle + u * tube / small)
        reach = 0.0 if cosine >= 1 else (circle + u) * math.sqrt(1 - cosine**2)
        return reach, lambda t: zb - math.sqrt((circle + u)**2 - t**2) - RADIUS

    half_width = math.sqrt(tube**2 - (tube - depth)**2) * small / tube
    for name, floor, width in (("rough", -depth / 2, 4 * step), ("finish", -depth, step)):
        p.note(f"hollow at X{p.number(centre[0])} Y{p.number(centre[1])}: {name}")
        count = int(half_width / width)
        first, forward = True, 1
        for k in range(-count, count + 1):
            reach, height = line(k * width)
            n = max(1, math.ceil(2 * reach / chord))
            for i in range(n + 1):
                t = forward * reach * (2 * i / n - 1)
                x, y = (t, k * width) if along == "x" else (k * width, t)
                x, y, z = centre[0] + x, centre[1] + y, top + max(height(t), floor)
                if first:
                    p.hop_to(x, y, top + 2)
                    p.move("G1", z=z, feed=600)
                    first = False
                p.move("G1", x, y, z, feed=1800)
            forward = -forward


def frame_holes():
    p = Program(FRONT, "cribbage board, front 1 of 5: holes in the waste margin",
                ["work zero: front left corner, top of the stock", "held by: clamp S, clamp N",
                 "pilot holes for the four screws, drill 1/8 in, tool 2",
                 "dowel holes 8.1 mm for the flip, flat 6 mm, tool 1"])
    p.tool(DRILL, 10000)
    p.note("pilot holes, 15 deep")
    for i, (x, y) in enumerate(SCREWS):
        p.put(*(["G98 G83"] if i == 0 else []), f"X{p.number(x)}", f"Y{p.number(y)}",
              *(["Z-15 R3.5 Q3 F500"] if i == 0 else []))
    p.put("G80")
    p.put("M5")
    p.tool(FLAT, 18000)
    for side, pin in zip(("left", "right"), PINS):
        p.note(f"dowel hole, {side}")
        bore(p, pin, 8.1, -13, 2)
    p.end(clamps=True)
    return p


def tray():
    p = Program(FRONT, "cribbage board, front 2 of 5: card tray",
                ["flat 6 mm, tool 1", "held by: the four screws; clamps removed"])
    p.tool(FLAT, 18000)
    pocket(p, "tray", (62, 48, 152, 82), 5, 0, [-2.4, -4.8, -5])
    p.end()
    return p


def peg_holes():
    p = Program(FRONT, "cribbage board, front 3 of 5: 245 peg holes 0.31 deep",
                ["drill 1/8 in, tool 2", "held by: the four screws"], inch=True)
    p.tool(DRILL, 10000)
    street = [18.75 + 27.5 * (i // 5) + 5.0 * (i % 5) for i in range(60)]
    rows = [("first player, out", 12.0, [7.5, 12.5] + street), ("second player, out", 19.0, ([7.5, 12.5] + street)[::-1]),
            ("second player, home", 71.0, street), ("first player, home", 78.0, street[::-1]), ("game hole", 74.5, [9.0])]
    for name, y, xs in rows:
        p.note(name)
        p.move("G0", BOARD[0] + xs[0], BOARD[1] + y)
        p.move("G0", z=p.hop)
        p.put("G99 G83", f"X{p.number(BOARD[0] + xs[0])}", f"Y{p.number(BOARD[1] + y)}", "Z-0.31 R0.15 Q0.12 F20")
        for x in xs[1:]:
            p.put(f"X{p.number(BOARD[0] + x)}")
        p.put("G80")
        p.word.update(X=p.number(BOARD[0] + xs[-1]), Z="0.15", G="G80")
        p.move("G0", z=p.hop)
    p.end()
    return p


# Strokes in inches on a field 0.2 wide and 0.32 high: a start, then lines (x, y) and arcs (x, y, centre x, y, G).
STROKES = {
    "0": [(.02, .24), (.18, .24, .1, .24, "G2"), (.18, .08), (.02, .08, .1, .08, "G2"), (.02, .24)],
    "1": [(.04, .26), (.1, .32), (.1, 0)],
    "2": [(.02, .24), (.18, .24, .1, .24, "G2"), (.02, 0), (.18, 0)],
    "3": [(.02, .24), (.1, .16, .1, .24, "G2"), (.02, .08, .1, .08, "G2")],
    "6": [(.18, .24), (.02, .24, .1, .24, "G3"), (.02, .08), (.02, .08, .1, .08, "G3")],
    "9": [(.02, .08), (.18, .08, .1, .08, "G3"), (.18, .24), (.18, .24, .1, .24, "G3")],
    "D": [(.02, 0), (.02, .32), (.06, .32), (.06, 0, .06, .16, "G2"), (.02, 0)],
}


def numerals():
    p = Program(FRONT, "cribbage board, front 4 of 5: numerals and border",
                ["vee 60 degrees, tool 3", "held by: the four screws"], inch=True)
    p.tool(VEE, 18000)

    def carve(x, y, strokes, depth):
        def inches(a, b):
            return 25.4 * (x + a), 25.4 * (y + b)
        p.hop_to(*inches(*strokes[0]), 0.1 * 25.4)
        p.move("G1", z=-depth * 25.4, feed=20 * 25.4)
        for to in strokes[1:]:
            centre = inches(to[2], to[3]) if len(to) > 2 else None
            p.move(to[4] if centre else "G1", *inches(to[0], to[1]), feed=70 * 25.4, centre=centre)

    for text, x, y in (("30", 8.04, 1.77), ("60", 14.1, 1.77), ("90", 8.04, 3.03), ("120", 1.6, 3.03), ("D", 16.91, 2.4)):
        p.note(text)
        for i, digit in enumerate(text):
            carve(round(x + 0.26 * i, 4), y, STROKES[digit], 0.05)
    p.note("border")
    x0, y0, x1, y1, r = 1.28, 0.8850, 15.2554, 4.2331, 0.37
    carve(0, 0, [(8.2677, y1), (x1 - r, y1), (x1, y1 - r, x1 - r, y1 - r, "G2"), (x1, y0 + r),
                 (x1 - r, y0, x1 - r, y0 + r, "G2"), (x0 + r, y0), (x0, y0 + r, x0 + r, y0 + r, "G2"),
                 (x0, y1 - r), (x0 + r, y1, x0 + r, y1 - r, "G2"), (8.2677, y1)], 0.03)
    p.end()
    return p


def thumb_groove():
    p = Program(FRONT, "cribbage board, front 5 of 5: thumb groove",
                ["ball 6 mm, tool 4", "held by: the four screws"])
    p.tool(BALL, 18000)
    scoop(p, (295, 65), "x", 58, 4, 22, 0.4, 0.8)
    p.end()
    return p


def compartment():
    p = Program(BACK, "cribbage board, back 1 of 4: peg compartment with its lid rebate",
                ["work zero: front left corner, Z 0 on the spoilboard", "flat 6 mm, tool 1",
                 "located by pin W and pin E, held by: clamp S, clamp N"], numbered=True)
    p.tool(FLAT, 18000)
    x, y = flipped((BOARD[0] + BOARD[2]) / 2, 65)
    pocket(p, "rebate", (x - 84, y - 31, x + 84, y + 31), 6, THICKNESS, [17.45, 16.05, 15.85])
    pocket(p, "compartment", (x - 76, y - 27, x + 76, y + 27), 6, 15.85, [13.05, 10.25, 10.05])
    p.end(clamps=True)
    return p


def finger_pockets():
    p = Program(BACK, "cribbage board, back 2 of 4: finger pockets at the ends of the lid",
                ["ball 6 mm, tool 4", "held by: clamp S, clamp N"])
    p.tool(BALL, 18000)
    x, y = flipped((BOARD[0] + BOARD[2]) / 2, 65)
    for end in (x - 84, x + 84):
        scoop(p, (end, y), "y", 16, 5, 12, 0.35, 0.6)
    p.end(clamps=True)
    return p


LEVELS = [16.375, 13.7, 11.025, 8.35, 5.675, 3.0, -0.2]  # of an outline; tabs are what the last one leaves under Z 3
TAB_LIFT = 16.0  # less the cutter: a tab of 10


def disc():
    p = Program(BACK, "cribbage board, back 3 of 4: dealer's disc",
                ["flat 6 mm, tool 1", "held by: the four screws, driven from this side; clamps removed"])
    p.tool(FLAT, 18000)
    cx, cy = flipped(*DISC)
    r = 22 + RADIUS
    half = TAB_LIFT / 2 / r

    def on(angle):
        return cx + r * math.cos(angle), cy + r * math.sin(angle)

    def arc(angle, z=None, feed=2000):
        p.move("G2", *on(angle), z, feed=feed, centre=(cx, cy))

    top, down, east, west = math.pi / 2, math.pi / 4, 0.0, -math.pi
    p.hop_to(*on(top), THICKNESS + 2)
    p.move("G1", z=THICKNESS, feed=800)
    for level in LEVELS:
        p.note(f"disc: Z {p.number(level)}" + (", with tabs" if level == LEVELS[-1] else ""))
        arc(down, level, 1200)
        if level == LEVELS[-1]:
            for name, tab in (("E", east), ("W", west)):
                arc(tab + half)
                p.note(f"disc: tab {name}")
                p.move("G1", z=3, feed=800)
                arc(tab - half)
                p.move("G1", z=level, feed=800)
        arc(top - 2 * math.pi)
    p.note("disc: clear the ramp")
    arc(down)
    p.end()
    return p


def outline():
    p = Program(BACK, "cribbage board, back 4 of 4: hang hole and outline",
                ["flat 6 mm, tool 1", "held by: the four screws"])
    p.tool(FLAT, 18000)
    p.note("hang hole, 10.4 mm")
    bore(p, flipped(370, 65), 10.4, -0.2, 2.75)
    p.note("hang hole, 15 mm")
    bore(p, flipped(370, 65), 15, -0.2, 2.75)

    x1, x0 = flipped(BOARD[0], 0)[0] + RADIUS, flipped(BOARD[2], 0)[0] - RADIUS
    y0, y1, r, start, ramp = BOARD[1] - RADIUS, BOARD[3] + RADIUS, 12 + RADIUS, 230.0, 60.0

    def end(x, ys, tabs, level):
        """Along one short end through the tabs' centres to its last corner."""
        for name, tab in tabs:
            way = math.copysign(TAB_LIFT / 2, ys - tab)
            p.move("G1", x, tab - way, feed=2000)
            p.note(f"outline: tab {name}")
            p.move("G1", z=3, feed=800)
            p.move("G1", x, tab + way, feed=2000)
            p.move("G1", z=level, feed=800)
        p.move("G1", x, ys, feed=2000)

    p.hop_to(start, y1, THICKNESS + 2)
    p.move("G1", z=THICKNESS, feed=800)
    for level in LEVELS:
        last = level == LEVELS[-1]
        p.note(f"outline: Z {p.number(level)}" + (", with tabs" if last else ""))
        p.move("G1", start + ramp, y1, level, feed=1200)
        p.move("G1", x1 - r, y1, feed=2000)
        p.move("G2", x1, y1 - r, feed=2000, centre=(x1 - r, y1 - r))
        end(x1, y0 + r, [("E1", 85), ("E2", 45)] if last else [], level)
        p.move("G2", x1 - r, y0, feed=2000, centre=(x1 - r, y0 + r))
        p.move("G1", x0 + r, y0, feed=2000)
        p.move("G2", x0, y0 + r, feed=2000, centre=(x0 + r, y0 + r))
        end(x0, y1 - r, [("W1", 45), ("W2", 85)] if last else [], level)
        p.move("G2", x0 + r, y1, feed=2000, centre=(x0 + r, y1 - r))
        p.move("G1", start, y1, feed=2000)
    p.note("outline: clear the ramp")
    p.move("G1", start + ramp, y1, feed=2000)
    p.end()
    return p


PROGRAMS = {
    "10-frame-holes.nc": frame_holes, "20-tray.nc": tray, "30-peg-holes.nc": peg_holes, "40-numerals.nc": numerals,
    "50-thumb-groove.nc": thumb_groove, "60-compartment.nc": compartment, "70-finger-pockets.nc": finger_pockets,
    "80-disc.nc": disc, "90-outline.nc": outline,
}

# The planted troubles: file, text that stands before the place, the words there, what stands there instead (None: the
# line is left out, or as many as the number says).
PROGRAM_TROUBLES = [
    ("10-frame-holes.nc", "T1 M6", "S18000 M3", "S18000"),
    ("20-tray.nc", "", "G21 G90", "G21"),
    ("20-tray.nc", "(park)", "Z40", "Z-40"),
    ("30-peg-holes.nc", "(second player, out)", "R0.15", "R0.05"),
    ("30-peg-holes.nc", "(first player, home)", "X9.0059", "X9,0059"),
    ("40-numerals.nc", "", "G20", "G21"),
    ("50-thumb-groove.nc", "G0 Z40", " F600", ""),
    ("50-thumb-groove.nc", "(park)", "Z10", "Z4"),
    ("60-compartment.nc", "(rebate: rough", "Z21.05", "Z17.05"),
    ("60-compartment.nc", "(compartment: floor", " Z10.05", " Z9.05"),
    ("70-finger-pockets.nc", "", "T4", "T14"),
    ("80-disc.nc", "(disc: Z 16.375)", "Z16.375", "Z10.375"),
    ("80-disc.nc", "(disc: tab E)", "G1 Z3", None, 1),
    ("80-disc.nc", "(disc: tab E)", "G1 Z-0.2", None, 1),
    ("80-disc.nc", "(disc: tab W)", "G1 Z3", None, 1),
    ("80-disc.nc", "(disc: tab W)", "G1 Z-0.2", None, 1),
    ("90-outline.nc", "(hang hole, 10.4 mm)", "G1 Z19.05", None, 9),
    ("90-outline.nc", "(outline: tab E1)", "Y77", "Y83"),
    ("90-outline.nc", "(outline: tab W1)", "Z-0.2", "Z-1"),
]
JOB_TROUBLES = [
    ("1/8 in drill", "stickout = 26", "stickout = 14"),
    ("screw NW", "length = 32", "length = 45"),
    ("screw NE", "at = [465, 110]", "at = [462, 98]"),
    ("80-disc.nc", '"screw SE"]', '"screw SE", "clamp S"]'),
    ("", 'name = "Cribbage board"', 'name = "Cribbage board with planted troubles"'),
]


def spoil_program(name, text):
    lines = text.splitlines()
    for file, before, old, new, *count in PROGRAM_TROUBLES:
        if file == name:
            start = next(i for i, line in enumerate(lines) if before in line)
            at = next(i for i, line in enumerate(lines) if i >= start and old in line and "(" not in line)
            if new is None:
                del lines[at:at + count[0]]
            else:
                lines[at] = lines[at].replace(old, new)
    return "\n".join(lines) + "\n"


def spoil_job(text):
    for after, old, new in JOB_TROUBLES:
        at = text.index(old, text.index(after))
        text = text[:at] + new + text[at + len(old):]
    return text


def main():
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE.parent
    clean, trouble = out / "cribbage-board", out / "cribbage-board-trouble"
    for folder in (clean, trouble):
        folder.mkdir(parents=True, exist_ok=True)
    for name, make in PROGRAMS.items():
        text = make().text()
        (clean / name).write_text(text)
        (trouble / name).write_text(spoil_program(name, text))
    (trouble / "job.toml").write_text(spoil_job((HERE / "job.toml").read_text()))


if __name__ == "__main__":
    main()
