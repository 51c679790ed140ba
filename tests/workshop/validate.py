"""Validates JSON files against a schema: SCHEMA FILE...; prints for each "sound" or "unsound"."""

import json
import sys

import jsonschema

with open(sys.argv[1], encoding="utf-8") as file:
    validator = jsonschema.Draft202012Validator(json.load(file))
validator.check_schema(validator.schema)
for name in sys.argv[2:]:
    with open(name, encoding="utf-8") as file:
        print("sound" if validator.is_valid(json.load(file)) else "unsound")
