"""The program is built as one that reads files from strangers should be: hardened.py PROGRAM"""
import re
import subprocess
import sys

program = sys.argv[1]


def readelf(*options):
    return subprocess.run(["readelf", "-W", *options, program], capture_output=True, text=True, check=True).stdout


header, segments, dynamic, symbols = readelf("-h"), readelf("-l"), readelf("-d"), readelf("--dyn-syms")
with open(program, "rb") as file:
    branch_targets = file.read().count(b"\xf3\x0f\x1e\xfa")  # endbr64
wanted = {
    "is not position independent (-pie)": re.search(r"Type:\s+DYN", header) and re.search(r"FLAGS_1.*\bPIE\b", dynamic),
    "has no RELRO segment (-z relro)": "GNU_RELRO" in segments,
    "binds lazily (-z now)": re.search(r"\bBIND_NOW\b|FLAGS_1.*\bNOW\b", dynamic),
    "has a stack that can be run": re.search(r"GNU_STACK.*\bRW\s", segments),
    "does not guard its stack (-fstack-protector-strong)": "__stack_chk_fail" in symbols,
    "does not check its buffers (-D_FORTIFY_SOURCE=3)": re.search(r"\b__(mem|str|v?s?n?printf|read|fread)\w*_chk\b", symbols),
    "does not mark the targets of its jumps (-fcf-protection)": "X86-64" not in header or branch_targets > 1000,
}
faults = [f"{program} {fault}" for fault, holds in wanted.items() if not holds]
print("\n".join(faults) or f"{program} is hardened")
sys.exit(bool(faults))
