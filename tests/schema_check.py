#!/usr/bin/env python3
"""Holds what every command prints with --json against its schema in cli/schema.

usage: schema_check.py PROGRAM SOURCE_FOLDER
Ends with 77 where the validator is missing (Debian: python3-jsonschema).
"""

import json
import pathlib
import subprocess
import sys
import tempfile

try:
    from jsonschema import Draft202012Validator
except ImportError:
    print("skipped: python3-jsonschema is not installed")
    sys.exit(77)

program, source = sys.argv[1], pathlib.Path(sys.argv[2])
schemas = {path.stem: json.loads(path.read_text()) for path in sorted((source / "cli/schema").glob("*.json"))}
bad = 0


def fail(text):
    global bad
    bad += 1
    print(text)


def closed(schema, where):
    """Every object names its members and allows no other, so that no schema lags behind."""
    if isinstance(schema, list):
        for i, item in enumerate(schema):
            closed(item, f"{where}/{i}")
    elif isinstance(schema, dict):
        if schema.get("type") == "object" and schema.get("additionalProperties") is not False:
            fail(f"{where}: lets in members it does not name")
        for key, value in schema.items():
            closed(value, f"{where}/{key}")


def note_members(value, seen):
    """Notes which members of the document were met."""
    if isinstance(value, dict):
        for key, member in value.items():
            seen.add(key)
            note_members(member, seen)
    elif isinstance(value, list):
        for item in value:
            note_members(item, seen)


def named(schema, into):
    if isinstance(schema, list):
        for item in schema:
            named(item, into)
    elif isinstance(schema, dict):
        into.update(schema.get("properties", {}))
        for value in schema.values():
            named(value, into)


def nearest(error):
    """Where one of several shapes would do: what is wrong with the one that has least wrong with it."""
    while error.context:
        shapes = {}
        for inner in error.context:
            shapes.setdefault(inner.schema_path[0], []).append(inner)
        error = min(shapes.values(), key=len)[0]
    return error


for name, schema in schemas.items():
    Draft202012Validator.check_schema(schema)
    closed(schema, name)

with tempfile.TemporaryDirectory() as folder:
    measured = pathlib.Path(folder, "measured.csv")
    measured.write_text("radius_mm,chord_mm,level_deg,thickness_mm,blade\n160,104,25.5,27,1\n"
                        "320,111,16.2,17.5,1\n160,104,25.5,26,2\n320,111,16.4,17,2\n")
    # So direct a drive that the engine does not turn the blades: points without agreement, a blade without condition.
    direct = pathlib.Path(folder, "direct.toml")
    direct.write_text((source / "cases/demo.toml").read_text().replace("ratio = 3.0", "ratio = 1.0"))
    cases = [str(path) for path in sorted((source / "cases").glob("*.toml"))]
    lines = [[command, case] for case in cases for command in ("match", "compare", "curve", "blade", "trial")]
    demo, builder = str(source / "cases/demo.toml"), str(source / "cases/builder.toml")
    # A lesson takes long, in many annuli longer: of blades that turn under load, and of others.
    for case in (demo, builder):
        few = pathlib.Path(folder, pathlib.Path(case).name)
        few.write_text(pathlib.Path(case).read_text() + "\n[model]\nannuli = 6\n")
        lines.append(["lesson", str(few)])
    lines += [["match", demo, "--no-band"], ["compare", demo, "--no-band"], ["match", demo, "--speeds", "0, 60 m/s"],
              ["curve", str(source / "cases/measured.toml"), "--rpm", "1000", "--against",
               str(source / "cases/measured-points.csv")],
              ["match", str(direct)], ["compare", str(direct)], ["blade", str(direct)],
              ["blade", demo, "--at", "climb"], ["blade", demo, "--at", "cruise"], ["blade", builder, "--worksheet"],
              ["blade", builder, "--measured", str(measured)], ["blade", builder, "--rpm", "9000"],
              ["design", builder], ["design", str(direct), "--alone"],
              ["fit", str(source / "cases/readings.toml")],
              ["trial", demo, "--plan"], ["trial", str(source / "cases/trial.toml"), "--plan"],
              ["sections"], ["sections", demo], ["new"], ["new", str(pathlib.Path(folder, "mine.toml"))]]
    met = {name: set() for name in schemas}
    checked = 0
    for line in lines:
        done = subprocess.run([program, *line, "--json"], capture_output=True, text=True, check=False)
        if done.returncode == 2:
            continue  # a case without engine has no match
        document = json.loads(done.stdout)
        checked += 1
        errors = list(Draft202012Validator(schemas[line[0]]).iter_errors(document))
        for error in map(nearest, errors):
            place = "/".join(str(part) for part in error.absolute_path)
            fail(f"{' '.join(line)}: {place}: {error.message[:300]}")
        # The check can fail: a member more is found.
        if not met[line[0]] and Draft202012Validator(schemas[line[0]]).is_valid({**document, "unheard_of": 1}):
            fail(f"{line[0]}: a member that is not in the schema passed")
        note_members(document, met[line[0]])
    for name, schema in schemas.items():
        known = set()
        named(schema, known)
        for key in sorted(known - met[name] - {"why_not"}):  # a bound that was not found is rare
            fail(f"{name}: \"{key}\" stands in the schema and in no document")
    print(f"{checked} documents held against {len(schemas)} schemas")
sys.exit(1 if bad or checked < 25 else 0)
