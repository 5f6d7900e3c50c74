"""Runs `provecut place` on jobs: its JSON against the schema that ships with it, its pictures against an XML parser.

usage: validate_places.py PROGRAM SCHEMA JOB...
"""

import json
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

import jsonschema


def run(program, *arguments):
    done = subprocess.run([program, "place", *arguments], capture_output=True)
    if done.returncode not in (0, 1):
        sys.exit(f"{arguments}: exit status {done.returncode}\n{done.stderr.decode(errors='replace')}")
    return done.stdout.decode("utf-8")


def picture(text, panels, where):
    """Faults of one SVG picture."""
    root = xml.fromstring(text)
    names = [e.get("id") for e in root.iter() if e.get("id")]
    faults = [] if root.tag == "{http://www.w3.org/2000/svg}svg" else ["no svg"]
    if len(names) != len(set(names)):
        faults.append("a name given twice")
    clips = sum(1 for e in root.iter("{http://www.w3.org/2000/svg}clipPath"))
    if clips != panels:
        faults.append(f"{clips} panels, not {panels}")
    return [f"{where}: {f}" for f in faults]


def agreement(program, job, places):
    """The hold-downs that `place` calls hit are those that `check` finds hits of."""
    done = subprocess.run([program, "check", job, "--format", "json", "--fail-on", "never"], capture_output=True)
    report = json.loads(done.stdout.decode("utf-8"))
    checked = {(h["program"], h["subject"]) for h in report["hits"]}
    placed = {(p["file"], h["name"]) for p in places["programs"] for h in p["hold_downs"] if h["fitted"] and h["state"] == "hit"}
    return [f"{job}: hit by check {sorted(checked)}, by place {sorted(placed)}"] if checked != placed else []


def main():
    program, schema_file, *jobs = sys.argv[1:]
    schema = json.loads(pathlib.Path(schema_file).read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    faults = []
    for job in jobs:
        places = json.loads(run(program, job, "--format", "json"))
        faults += [f"{job}: {list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(places)]
        for spoiled in (dict(places, extra=1), dict(places, provecut=2), {k: v for k, v in places.items() if k != "plan"}):
            if validator.is_valid(spoiled):
                faults.append(f"{job}: the schema takes what is wrong")
        faults += agreement(program, job, places)
        forms, programs = len(places["forms"]), len(places["programs"])
        faults += picture(run(program, job, "--format", "svg"), forms * programs, job)
        with tempfile.TemporaryDirectory() as folder:
            run(program, job, "--format", "svg", "--output", folder + "/pictures/")
            files = sorted(pathlib.Path(folder, "pictures").iterdir())
            if len(files) != programs:
                faults.append(f"{job}: {len(files)} pictures of {programs} programs")
            for file in files:
                faults += picture(file.read_text(encoding="utf-8"), forms, file.name)
        long_lines = [line for line in run(program, job).splitlines() if len(line) > 100]
        faults += [f"{job}: longer than 100 columns: {line}" for line in long_lines]
        print(f"{job}: {programs} programs, {forms} forms, {sum(len(f['rings']) for p in places['programs'] for f in p['free'])} rings")
    print("\n".join(faults))
    sys.exit(1 if faults or not jobs else 0)


main()
