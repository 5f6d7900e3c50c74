"""Runs provecut on jobs and holds what it writes to the JSON Schema that ships with it.

usage: validate_json.py PROGRAM SCHEMA BATCH_SCHEMA PARTS_SCHEMA JOB...

Each job alone by the first, all jobs in one by the second, the pieces of each by the third.
"""

import json
import subprocess
import sys

import jsonschema


def report(program, *jobs):
    run = subprocess.run([program, "check", *jobs, "--format", "json"], capture_output=True)
    if run.returncode not in (0, 1):
        sys.exit(f"{jobs}: exit status {run.returncode}\n{run.stderr.decode(errors='replace')}")
    return json.loads(run.stdout.decode("utf-8"))


def without(document, *path):
    """A copy with the key at the end of `path` taken out."""
    copy = json.loads(json.dumps(document))
    at = copy
    for key in path[:-1]:
        at = at[key]
    del at[path[-1]]
    return copy


def validator_of(schema_file):
    with open(schema_file, encoding="utf-8") as f:
        schema = json.load(f)
    jsonschema.Draft7Validator.check_schema(schema)
    return jsonschema.Draft7Validator(schema)


PARTS = ("cutting_s", "air_s", "rapid_s", "dwell_s", "stop_s", "spindle_s", "tool_change_s")


def time_faults(document):
    """Parts that do not add up to their total, to the rounding of what is written."""
    sums = [(p["file"], p["time_s"], sum(p[k] for k in PARTS)) for p in document.get("programs", [])]
    sums.append(("all", document["time"]["total_s"], sum(document["time"][k] for k in PARTS)))
    return [f"{name}: {total} s, its parts {parts} s" for name, total, parts in sums if abs(total - parts) > 1e-8]


def batch_faults(document, validator, report_validator):
    faults = [f"{list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(document)]
    for one in document["jobs"]:
        faults += [f"{one['job']}: {e.message}" for e in report_validator.iter_errors(one)]
    faults += time_faults(document)
    for level in ("stop", "look", "note"):
        found = sum(f["level"] == level and "accepted" not in f for one in document["jobs"] for f in one["findings"])
        if document["counts"][level] != found:
            faults.append(f"{document['counts'][level]} of level {level}, but {found} are listed")
    for wrong in [without(document, "time", "low_s"), without(document, "counts"), dict(document, extra=1), dict(document, jobs=document["jobs"][:1])]:
        if validator.is_valid(wrong):
            faults.append("the schema takes a batch that is wrong")
    return faults


def parts_faults(program, job, validator, report_validator):
    run = subprocess.run([program, "export", "--parts", job], capture_output=True)
    document = json.loads(run.stdout.decode("utf-8"))
    faults = [f"{list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(document)]
    part = jsonschema.Draft7Validator({"$ref": "#/definitions/part", "definitions": report_validator.schema["definitions"]})
    for k, one in enumerate(document["parts"]):
        if not one["outline"]:
            faults.append(f"part {k} has no outline")
        faults += [f"part {k} {list(e.absolute_path)}: {e.message}" for e in part.iter_errors(without(one, "outline"))]
        if part.is_valid(one) or validator.is_valid(without(document, "parts", k, "outline")):
            faults.append("the schema takes a part that is wrong")
        if one["parent"] is not None and k not in document["parts"][one["parent"]]["split"]:
            faults.append(f"part {k} is not listed by its parent")
    return faults


def main():
    program, schema_file, batch_schema_file, parts_schema_file, *jobs = sys.argv[1:]
    validator = validator_of(schema_file)
    parts_validator = validator_of(parts_schema_file)
    faults = 0
    for job in jobs:
        document = report(program, job)
        for error in validator.iter_errors(document):
            faults += 1
            print(f"{job}: {list(error.absolute_path)}: {error.message}")
        print(f"{job}: {len(document['findings'])} findings, {len(document['hits'])} hits, {len(document['parts'])} parts")
        for text in time_faults(document) + parts_faults(program, job, parts_validator, validator):
            faults += 1
            print(f"{job}: {text}")
        # The schema itself must be able to refuse.
        spoiled = [without(document, "verdict"), dict(document, provecut=2), dict(document, extra=1),
                   dict(document, verdict="clear", complete=False, not_checked=["a.nc: half of it"])]
        if document["findings"]:
            spoiled.append(without(document, "findings", 0, "line"))
        for wrong in spoiled:
            if validator.is_valid(wrong):
                faults += 1
                print(f"{job}: the schema takes a report that is wrong")
    wrong = batch_faults(report(program, *jobs), validator_of(batch_schema_file), validator)
    for text in wrong:
        print(f"all jobs: {text}")
    sys.exit(1 if faults or wrong or len(jobs) < 2 else 0)


main()
