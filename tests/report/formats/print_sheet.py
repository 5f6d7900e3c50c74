"""Prints two jobs' setup sheets to PDF on A4 and Letter and reads them back: the sample's, and that of the one full of findings.

usage: print_sheet.py PROGRAM CHROMIUM JOB TROUBLED_JOB
"""

import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

program, chromium, sample, troubled = sys.argv[1:]
faults = []

sample_words = ["Setup 1 of 2: front", "Setup 2 of 2: back", "Spindle stopped. Fit screw SW, screw NW, screw NE and screw SE, then remove clamp S and clamp N", "Set Z zero again",
                "stickout 26 mm", "Put pin W and pin E into the spoilboard", "Spindle stopped. Remove all hold-downs and clean the spoilboard", "Flip the stock left to right and place it on the pins; fit clamp S and clamp N", "10-frame-holes.nc", "90-outline.nc", "flipped left to right", "12 into the stock", "This check is no guarantee",
                "480 × 130 × 19.05 mm", "15:49"]
troubled_words = ["STOP. Do not run this job as it is.", "Before you run", "more. For all of them run: provecut check", "7925", "This check is no guarantee"]


def run(*command):
    return subprocess.run(command, capture_output=True, text=True, timeout=240)


def printed(folder, page, paper):
    """The sheet does not say which paper: the printer does. Here a rule of the test stands for the printer."""
    on_paper = folder / f"{paper}.html"
    on_paper.write_text(page.replace("@page {", "@page { size: " + paper + ";", 1), encoding="utf-8")
    pdf = folder / f"{paper}.pdf"
    run(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={folder}/profile",
        f"--print-to-pdf={pdf}", on_paper.as_uri())
    return pdf


def check(pdf, paper, wanted_words):
    info = run("pdfinfo", str(pdf)).stdout
    pages = int(re.search(r"Pages:\s+(\d+)", info).group(1))
    width, height = map(float, re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", info).groups())
    wanted = {"A4": (595, 842), "Letter": (612, 792)}[paper]
    if abs(width - wanted[0]) > 2 or abs(height - wanted[1]) > 2:
        faults.append(f"{paper}: a page of {width} x {height} points")
    if pages > 4:
        faults.append(f"{paper}: {pages} pages for two setups")
    text = re.sub(r"\s+", " ", run("pdftotext", "-layout", str(pdf), "-").stdout)
    for words in wanted_words:
        if words not in text:
            faults.append(f"{paper}: \"{words}\" cannot be read")
    # Sizes of all words, in points of the page.
    tree = xml.fromstring(run("pdftohtml", "-xml", "-i", "-stdout", "-zoom", "1", str(pdf)).stdout.encode())
    used = {text.get("font") for text in tree.iter("text") if "".join(text.itertext()).strip()}
    sizes = [float(font.get("size")) for font in tree.iter("fontspec") if font.get("id") in used]
    if not sizes or min(sizes) < 10:
        faults.append(f"{paper}: words of {min(sizes, default=0)} points")
    print(f"{paper}: {pages} pages, smallest words {min(sizes, default=0)} pt")


with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    for job, words in ((sample, sample_words), (troubled, troubled_words)):
        sheet = run(program, "sheet", job)
        if sheet.returncode not in (0, 1):  # 1: something was found
            sys.exit(f"exit status {sheet.returncode}\n{sheet.stderr}")
        for paper in ("A4", "Letter"):
            check(printed(folder, sheet.stdout, paper), paper, words)

print("\n".join(faults))
sys.exit(1 if faults else 0)
