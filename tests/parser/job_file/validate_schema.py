"""Validates job files against the published schema of the job file.

usage: validate_schema.py SCHEMA JOB.toml...     every job must be valid
       validate_schema.py SCHEMA --bad JOB.toml  no job may be valid
"""
import json
import sys
import tomllib

from jsonschema import Draft202012Validator


def main(schema_file, *jobs):
    wanted_valid = True
    if jobs and jobs[0] == "--bad":
        wanted_valid, jobs = False, jobs[1:]
    if not jobs:
        sys.exit("no job file to validate")
    with open(schema_file, encoding="utf-8") as file:
        schema = json.load(file)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    failed = False
    for job in jobs:
        with open(job, "rb") as file:
            errors = list(validator.iter_errors(tomllib.load(file)))
        if bool(errors) == wanted_valid:
            failed = True
            print(f"{job}: {'not valid' if wanted_valid else 'valid, but must not be'}")
        for error in errors:
            print(f"{job}: {'/'.join(map(str, error.absolute_path))}: {error.message}")
    sys.exit(1 if failed else 0)


main(*sys.argv[1:])
