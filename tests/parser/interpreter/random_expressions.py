"""Random expressions of the language with their values by Python's own arithmetic.

Prints one per line: the text, a tab, the value. The text has only the brackets that precedence asks for.
"""
import math
import random
import sys

SUM, PRODUCT, POWER, ATOM = 0, 1, 2, 3


def parameter(rng):
    k = rng.randint(1, 9)  # parameter k holds k * k - 20.5, as the test sets them
    text = rng.choice(["#%d" % k, "#[%d-3]" % (k + 3), "#[%d/2]" % (2 * k)])
    return text, ATOM, k * k - 20.5


def number(rng):
    if rng.random() < 0.2:
        return parameter(rng)
    text = rng.choice(["%d", "%.1f", "%.3f", "%.6f"]) % rng.uniform(-50, 50)
    return text, ATOM, float(text)


def function(rng, depth):
    name = rng.choice(["abs", "acos", "asin", "cos", "exp", "fix", "fup", "ln", "round", "sin", "sqrt", "tan", "atan"])
    text, _, a = tree(rng, depth - 1)
    if name == "atan":
        second, _, b = tree(rng, depth - 1)
        return "atan[%s]/[%s]" % (text, second), ATOM, math.degrees(math.atan2(a, b))
    value = {
        "abs": abs, "acos": lambda x: math.degrees(math.acos(x)), "asin": lambda x: math.degrees(math.asin(x)),
        "cos": lambda x: math.cos(math.radians(x)), "exp": math.exp, "fix": math.floor, "fup": math.ceil, "ln": math.log,
        "round": lambda x: math.copysign(math.floor(abs(x) + 0.5), x), "sin": lambda x: math.sin(math.radians(x)),
        "sqrt": math.sqrt, "tan": lambda x: math.tan(math.radians(x)),
    }[name](a)
    if name in ("fix", "fup", "round") and abs(a * 2 - round(a * 2)) < 1e-6:
        raise ValueError("too near to where it jumps")
    if name in ("sin", "cos", "tan") and abs(a) > 1000:
        raise ValueError("the angle's own rounding would show")
    if name == "tan" and abs(math.cos(math.radians(a))) < 1e-3:
        raise ValueError("too steep")
    return "%s[%s]" % (rng.choice([name, name.upper()]), text), ATOM, float(value)


def binary(rng, depth):
    name, level, work = rng.choice([
        ("+", SUM, lambda a, b: a + b), ("-", SUM, lambda a, b: a - b),
        ("or", SUM, lambda a, b: float(a != 0 or b != 0)), ("and", SUM, lambda a, b: float(a != 0 and b != 0)),
        ("xor", SUM, lambda a, b: float((a != 0) != (b != 0))),
        ("*", PRODUCT, lambda a, b: a * b), ("/", PRODUCT, lambda a, b: a / b),
        ("mod", PRODUCT, lambda a, b: math.fmod(a, b) + (abs(b) if math.fmod(a, b) < 0 else 0)),
        ("**", POWER, lambda a, b: a ** b)])
    left, left_level, a = tree(rng, depth - 1)
    right, right_level, b = tree(rng, depth - 1)
    if name == "mod" and (abs(b) < 1e-3 or abs(a / b - round(a / b)) < 1e-6):
        raise ValueError("too near to where it jumps")
    if name in ("or", "and", "xor") and (0 < abs(a) < 1e-9 or 0 < abs(b) < 1e-9):
        raise ValueError("rounding decides whether it is zero")
    if left_level < level:
        left = "[%s]" % left
    if right_level <= level:  # all operators go from left to right
        right = "[%s]" % right
    value = work(a, b)
    if isinstance(value, complex) or not math.isfinite(value) or abs(value) > 1e6:
        raise ValueError("no value")
    space = rng.choice(["", " "])
    return left + space + name + space + right, level, float(value)


def tree(rng, depth):
    if depth == 0 or rng.random() < 0.2:
        return number(rng)
    return function(rng, depth) if rng.random() < 0.35 else binary(rng, depth)


def main():
    rng, wanted = random.Random(int(sys.argv[1])), int(sys.argv[2])
    while wanted > 0:
        try:
            text, _, value = tree(rng, 4)
        except (ValueError, OverflowError, ZeroDivisionError):
            continue
        print("[%s]\t%r" % (text, value))
        wanted -= 1


main()
