"""Runs provecut on jobs and holds its SARIF to the OASIS 2.1.0 JSON Schema.

The package ships the schema's last draft before the standard, 2.1.0-rtm.5; from memory, the standard changed no more in it.

usage: validate_sarif.py PROGRAM SCHEMA_FOLDER JOB...
"""

import json
import pathlib
import subprocess
import sys
import urllib.parse

import jsonschema


def log_of(program, job):
    run = subprocess.run([program, "check", job, "--format", "sarif"], capture_output=True)
    if run.returncode not in (0, 1):
        sys.exit(f"{job}: exit status {run.returncode}\n{run.stderr.decode(errors='replace')}")
    return json.loads(run.stdout.decode("utf-8"))


def report_of(program, job):
    run = subprocess.run([program, "check", job, "--format", "json"], capture_output=True)
    return json.loads(run.stdout.decode("utf-8"))


def places(result):
    for location in result.get("locations", []) + result.get("relatedLocations", []):
        if "physicalLocation" in location:
            yield location["physicalLocation"]


def faults_of(log, report, validator):
    """What the schema cannot say: places that exist, and the same findings as in JSON."""
    faults = [f"{list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(log)]
    results = log["runs"][0]["results"]
    if [r["ruleId"] for r in results] != [f["rule"] for f in report["findings"]]:
        faults.append("not the findings of the JSON report")
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    prints = [r["partialFingerprints"]["provecut/block/v1"] for r in results]
    if len(set(prints)) != len(prints):
        faults.append("two results share a fingerprint")
    for result in results:
        if rules[result["ruleIndex"]]["id"] != result["ruleId"]:
            faults.append(f"{result['ruleId']}: ruleIndex names another rule")
        for place in places(result):
            path = pathlib.Path(urllib.parse.unquote(place["artifactLocation"]["uri"].removeprefix("file://")))
            if not path.is_file():
                faults.append(f"{path} is no file")
            elif "region" in place:
                line = path.read_text(encoding="utf-8").splitlines()[place["region"]["startLine"] - 1]
                if place["region"].get("endColumn", 1) > len(line) + 2:
                    faults.append(f"{path}: {place['region']} is beyond \"{line}\"")
    return faults


def main():
    program, folder, *jobs = sys.argv[1:]
    (schema_file,) = pathlib.Path(folder).glob("node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0*.json")
    schema = json.loads(schema_file.read_text(encoding="utf-8"))
    jsonschema.Draft4Validator.check_schema(schema)
    validator = jsonschema.Draft4Validator(schema)
    faults = 0
    for job in jobs:
        log = log_of(program, job)
        for fault in faults_of(log, report_of(program, job), validator):
            faults += 1
            print(f"{job}: {fault}")
        print(f"{job}: {len(log['runs'][0]['results'])} results")
        # The schema must be able to refuse.
        wrong = json.loads(json.dumps(log))
        wrong["runs"][0]["results"].append({"level": "stop", "message": {"text": "no such level"}})
        if validator.is_valid(wrong):
            faults += 1
            print(f"{job}: the schema takes a log that is wrong")
    sys.exit(1 if faults or not jobs else 0)


main()
