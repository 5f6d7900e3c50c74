"""Runs `provecut time` and `provecut quote` and holds their JSON to the schemas that ship with it.

usage: validate_timing.py PROGRAM SCHEMA_FOLDER JOB...
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import jsonschema

JOB = """version = 1
name = "plate"
[machine]
max_rate = [5000, 5000, 5000]
acceleration = [500, 500, 500]
{measured}[stock]
size = [300, 200, 18]
[[tool]]
number = 1
shape = "flat"
diameter = 6
[[setup]]
[[setup.program]]
file = "{program}"
tool = 1
[quote]
machine_rate = 60
material_cost = 18
parts_per_stock = 4
margin = 0.25
tax = 0.0825
quantity = [1, 10]
"""
MEASURED = """[[machine.measured]]
program = "a.nc"
seconds = 21
[[machine.measured]]
program = "gone.nc"
seconds = 5
"""
PROGRAM = "G21 G90 G17 G94\nS18000 M3\nG4 P2\nG0 X10 Y10 Z5\nG1 Z-2 F300\nG1 X200 F3000\nY100\nG0 Z5\nM30\n"


def run(program, *arguments, folder=None):
    done = subprocess.run([program, *arguments, "--format", "json"], capture_output=True, cwd=folder)
    if done.returncode not in (0, 1):
        sys.exit(f"{arguments}: exit status {done.returncode}\n{done.stderr.decode(errors='replace')}")
    return done.returncode, json.loads(done.stdout.decode("utf-8"))


def validator_of(schema_file):
    schema = json.loads(schema_file.read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    return jsonschema.Draft7Validator(schema), schema


def objects(value):
    """Every object in a document."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else []:
        yield from objects(inner)


def faults_of(document, validator, what):
    faults = [f"{what}: {list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(document)]
    # The schema itself must be able to refuse: what has a key too many, anywhere, and what is another version.
    copy = json.loads(json.dumps(document))
    for inner in {tuple(o): o for o in objects(copy)}.values():  # one of each kind
        inner["extra"] = 1
        if validator.is_valid(copy):
            faults.append(f"{what}: the schema takes another key beside {sorted(inner)}")
        del inner["extra"]
    if validator.is_valid(dict(document, provecut=2)):
        faults.append(f"{what}: the schema takes version 2")
    return faults


def main():
    program, schema_folder, *jobs = sys.argv[1:]
    program, schema_folder = pathlib.Path(program).resolve(), pathlib.Path(schema_folder)
    time, time_schema = validator_of(schema_folder / "time-1.schema.json")
    quote, quote_schema = validator_of(schema_folder / "quote-1.schema.json")
    report, report_schema = validator_of(schema_folder / "report-1.schema.json")
    faults = []
    for name in ("quote", "money", "assumed"):
        if report_schema["definitions"][name] != quote_schema["definitions"][name]:
            faults.append(f"report-1 and quote-1 differ in {name}")
    if time_schema["definitions"]["assumed"] != quote_schema["definitions"]["assumed"]:
        faults.append("time-1 and quote-1 differ in assumed")

    def hold(validator, what, *arguments, folder=None):
        status, document = run(program, *arguments, folder=folder)
        faults.extend(faults_of(document, validator, what))
        complete = all(job["complete"] for job in document.get("jobs", [document]))
        if (status == 0) != complete:
            faults.append(f"{what}: exit status {status}, complete {complete}")
        return document

    for job in jobs:
        hold(time, f"time {job}", "time", job, "--lines")
        alone = hold(quote, f"quote {job}", "quote", job)
        checked = run(program, "check", job)[1]
        faults.extend(f"check {job}: {e.message}" for e in report.iter_errors(checked))
        if any(checked["quote"][key] != alone["quote"][key] for key in ("currency", "parts_per_stock", "lines")):
            faults.append(f"{job}: check and quote do not quote the same")
        too_short = [f"{why}, so the time and the price are too low." for why in alone["not_checked"]]
        if checked["quote"]["assumed"] != alone["quote"]["assumed"] + too_short:
            faults.append(f"{job}: check and quote assume what is not the same")
    hold(time, "time of all", "time", *jobs)
    hold(quote, "quote of all", "quote", *jobs)
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        (path / "a.nc").write_text(PROGRAM)
        (path / "no-feed.nc").write_text(PROGRAM.replace(" F300", "").replace(" F3000", ""))
        (path / "a.toml").write_text(JOB.format(program="a.nc", measured=MEASURED))
        (path / "no-feed.toml").write_text(JOB.format(program="no-feed.nc", measured=""))
        fit = hold(time, "fit", "time", "--fit", "a.toml", folder=folder)
        if not fit["fit"]["programs"] or fit["fit"]["left_out"] != ["gone.nc"]:
            faults.append("the fit left out what it should not")
        hold(time, "fit of several", "time", "--fit", "a.toml", "no-feed.toml", folder=folder)
        hold(time, "programs alone", "time", "a.nc", folder=folder)
        hold(quote, "parts that share stock", "quote", "a.toml", folder=folder)
        hold(quote, "no feed", "quote", "no-feed.toml", folder=folder)
        several = hold(quote, "several", "quote", "a.toml", "no-feed.toml", folder=folder)
        if [s["quantity"] for s in several["totals"]] != [1, 10]:
            faults.append("the sum lacks a quantity")
    for text in faults:
        print(text)
    sys.exit(1 if faults or len(jobs) < 2 else 0)


main()
