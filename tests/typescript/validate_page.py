"""Makes the page of jobs and holds its data to the two schemas that the page's types are made from.

usage: validate_page.py PROGRAM REPORT_SCHEMA SCENE_SCHEMA JOB...
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile

import jsonschema


def page_data(program, job):
    with tempfile.TemporaryDirectory() as folder:
        page = pathlib.Path(folder) / "page.html"
        run = subprocess.run([program, "check", job, "--format", "html", "--output", page, "--fail-on", "never"], capture_output=True)
        if run.returncode not in (0, 1):
            sys.exit(f"{job}: exit status {run.returncode}\n{run.stderr.decode(errors='replace')}")
        text = page.read_text(encoding="utf-8")
    return json.loads(re.search(r'<script type="application/json" id="report">(.*?)</script>', text).group(1))


def validator_of(schema_file):
    schema = json.loads(pathlib.Path(schema_file).read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    return jsonschema.Draft7Validator(schema)


def label_faults(report, scene):
    """A label in the view is short, and its number is the one that stands on the card."""
    for finding, excerpt in zip(report["findings"], scene["excerpts"], strict=True):
        label = excerpt["label"].replace(finding["subject"] or "\0", "")
        if not 3 <= len(label) <= 40:
            yield f"{finding['rule']}: {excerpt['label']!r} is no short phrase"
        if finding["rule"] in label:
            yield f"{finding['rule']}: {excerpt['label']!r} names the rule"
        if label == f"see line {finding['line']}":
            continue
        for number in re.findall(r"\d+(?:\.\d+)?", label):
            if not re.search(rf"(?<![\d.]){re.escape(number)}(?!\.?\d)", finding["message"]):
                yield f"{finding['rule']}: {excerpt['label']!r} has a number that is not in {finding['message']!r}"


def piece_faults(report, scene):
    """A piece of the scene stands beside each part, in order of time, with an outline."""
    moments = [(p["at"][0]["program"], p["at"][0]["s"]) for p in scene["pieces"]]
    if moments != sorted(moments):
        yield f"pieces are not in order of time: {moments}"
    for part, piece in zip(report["parts"], scene["pieces"], strict=True):
        for moment in piece["at"]:
            if moment["s"] > report["programs"][moment["program"]]["time_s"] + 1e-3:
                yield f"{piece['line']}: {moment} is after the program's end"
        if report["programs"][piece["at"][0]["program"]]["file"] != part["program"]:
            yield f"{piece['line']}: at {piece['at']}, but the part is of {part['program']}"
        if (piece["loose"] is None) != (part["loosened"] is None) or (piece["gone"] is None) != (part["milled"] is None):
            yield f"{piece['line']}: loose or gone in one of report and scene alone"
        if not piece["outline"]:
            yield f"{piece['line']}: no outline"


def main():
    program, report_schema, scene_schema, *jobs = sys.argv[1:]
    report_validator, scene_validator = validator_of(report_schema), validator_of(scene_schema)
    faults, numbered = [], 0
    for job in jobs:
        report = page_data(program, job)
        scene = report.pop("scene")
        faults += [f"{list(e.absolute_path)}: {e.message}" for e in scene_validator.iter_errors(scene)]
        faults += [f"{list(e.absolute_path)}: {e.message}" for e in report_validator.iter_errors({**report, "hits": []})]
        faults += label_faults(report, scene)
        faults += piece_faults(report, scene)
        numbered += sum(bool(re.search(r"\d", e["label"])) for e in scene["excerpts"])
        # The schema itself must be able to refuse.
        for key in scene_validator.schema["required"]:
            if scene_validator.is_valid({k: v for k, v in scene.items() if k != key}):
                faults.append(f"the schema takes a scene without {key}")
    print("\n".join(faults) or f"{numbered} labels with a number")
    sys.exit(1 if faults or numbered < 10 else 0)


main()
