#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Holds the JSON of every command against the schema that is installed with the program, and checks that
the schema would notice what it should: a key that is missing, unknown or of another type.

    python3 schema.py PROGRAM SCHEMA
"""
import copy
import json
import pathlib
import subprocess
import sys
import tempfile

import jsonschema

piece = "--thickness 40mm --brine-salt 6% --brine-nitrite 150ppm".split()
shared = [*piece, "--weight", "1kg", "--brine", "5L", "--draws", "256"]
asked = [
    ["day", *piece],
    ["day", *piece, "--draws", "0", "--start", "2026-12-05"],
    ["day", *shared, "--cooler", "12C"],
    ["day", *piece, "--day", "2d", "--grey", "20mm", "--found-cooler", "2C"],
    ["day", "--thickness", "200mm", "--shape", "round", "--brine-salt", "3%", "--horizon", "5d"],
    ["plan", *piece, "--stage", "brine, 3 d", "--stage", "rest, 2 d"],
    ["plan", *piece, "--draws", "0", "--pump", "10%", "--stage", "rest, until cured"],
    ["plan", "--thickness", "40mm", "--weight", "1kg", "--stage",
     "rub, salt 30 g/kg, premix 2.5 g/kg, 10 d"],
    ["plan", *shared, "--stage", "brine, 2 d", "--stage", "soak, 6 L, 2 h, changes 2"],
    ["bucket", *shared, "--with", "other.ini"],
    ["bucket", *shared, "--with", "other.ini", "--start", "2026-12-05"],
    ["choose", "--thickness", "50mm", "--weight", "2kg", "--draws", "256"],
    ["choose", "--thickness", "50mm", "--weight", "2kg", "--draws", "0"],
    ["why", *piece, "--day", "2d", "--grey", "20mm", "--found-ph", "6"],
    ["why", *piece, "--day", "5d", "--pink-through"],
    ["learn", "--notebook", "shop.csv", *piece, "--day", "2d", "--ring", "9mm"],
    ["learn", "--notebook", "shop.csv"],
    ["brine", "--water", "4L", "--salt", "1 cup", "--premix", "20g", "--weight", "2kg", "--ice", "1kg"],
    ["brine", "--target-salt", "2%", "--target-nitrite", "120ppm", "--weight", "2kg", "--container", "6L"],
    ["brine", "--target-salt", "2%", "--weight", "2kg", "--way", "rub"],
    ["numbers", "kinetics"],
    ["numbers"],
]


def answer(program, folder, words, code=0):
    ran = subprocess.run([program, *words, "--json"], cwd=folder, capture_output=True, text=True)
    if ran.returncode != code:
        sys.exit(f"FAILED: {' '.join(words)}: exit code {ran.returncode}: {ran.stderr}")
    return json.loads(ran.stdout)


def main(program, schema_file):
    schema = json.loads(pathlib.Path(schema_file).read_text())
    validator = jsonschema.Draft202012Validator
    validator.check_schema(schema)
    validator = validator(schema)
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "other.ini").write_text("thickness = 30 mm\nweight = 500 g\n")
        answers = [(" ".join(words), answer(program, folder, words)) for words in asked]
        # What was found dangerous before it was refused: brine around meat of unknown weight.
        refused = [*piece, "--cooler", "12C", "--brine", "5L"]
        answers.append(("refused", answer(program, folder, ["day", *refused], 2)))
    for words, object_ in answers:
        for error in validator.iter_errors(object_):
            failed += 1
            print(f"FAILED: {words}: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
    for words, whole in answers:
        object_ = shortened(whole)
        for key in list(object_):
            for change in ("missing", "unknown", "type"):
                other = copy.deepcopy(object_)
                value = other.pop(key)
                if change == "unknown":
                    other[key + "x"] = value
                    other[key] = value
                elif change == "type":
                    other[key] = [[["no such thing"]]]
                elif key not in required(schema, object_):
                    continue
                if validator.is_valid(other):
                    failed += 1
                    print(f"FAILED: {words}: {key} {change} is not noticed")
    print(f"{len(answers)} answers held against the schema, {failed} faults")
    return failed != 0


def shortened(value):
    """With no more than two of everything there is a list of: as good to break as all of it."""
    if isinstance(value, list):
        return [shortened(v) for v in value[:2]]
    if isinstance(value, dict):
        return {k: shortened(v) for k, v in list(value.items())}
    return value


def required(schema, object_):
    if "answer" in object_:
        return schema["required"] + schema["$defs"]["dangers_alone"]["required"]
    name = "schedule" if object_["command"] in ("day", "plan") else object_["command"]
    return schema["required"] + schema["$defs"][name].get("required", [])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
