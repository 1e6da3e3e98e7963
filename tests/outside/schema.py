"""The JSON Schema of the job file, held by the package jsonschema, in the draft it names and in the one editors know.

Every sample is taken. A refused sample is refused by the schema where its code is one that a schema can know, and taken
where it is not: both are asserted, so that a rule that wanders from one side to the other is seen.
"""
import datetime
import json
import re
import tomllib

from jsonschema import Draft4Validator, Draft202012Validator

from program import ROOT, Wrong

# Codes that a schema can know, and what it knows them by.
KNOWN = {
    "J004": "keys", "J005": "keys", "J006": "keys that must be given", "J007": "format",
    "J008": "parts and lists of parts", "J009": "kinds of values",
    "J010": "kinds of values", "J011": "letters of a length", "J012": "letters of a length",
    "J013": "letters of a length", "J014": "places of a length", "J015": "letters of a length",
    "J018": "entries of a list", "J019": "kinds of values", "J020": "letters of a number",
    "J021": "letters of a number", "J022": "letters of a number", "J023": "places of a number",
    "J024": "digits of a number", "J025": "letters of a count", "J026": "limits of a count",
    "J027": "kinds of values", "J028": "words", "J029": "letters of a mix", "J030": "parts of a mix",
    "J031": "limits of a mix", "J032": "letters of a text", "J033": "letters of a date", "J034": "days of a month",
    "J035": "names of one's own", "J036": "keys together", "J037": "keys together", "J080": "letters of bars",
    "J081": "letters of bars", "J082": "letters of bars", "J083": "a spacing of nothing", "J085": "letters of a lap",
}
# What no parser of TOML takes never comes to a schema. Ours keeps one of them: brackets as deep as that.
SYNTAX = {"J001", "J002", "J003"}
# Codes of the job file that a schema cannot know.
CANNOT = {
    "J016": "the size of a length in text", "J017": "the size of a length in text",
    "J038": "titles of other entries", "J084": "the size of a spacing in text",
}
# From here on a code is about what values are together, in the ground, in data or in money; other letters are about
# other files.
TOGETHER = range(40, 1000)
# Samples of a known code for another reason than the one that is known.
OTHERWISE = {
    "a-trench-without-a-depth": "must be given only where nothing gives the invert",
    "an-offer-rounded-up-to-nothing": "a step of 0, as text",
}


def run(program, tally, room):
    schema = json.loads(program.need("schema"))
    tally.check("a schema of its draft", Draft202012Validator.check_schema, schema)
    kinds = [Draft202012Validator(schema), Draft4Validator(schema)]
    for job in sorted((ROOT / "samples").glob("*/*.toml")):
        tally.check(f"{job.parent.name}/{job.name}: taken", taken, kinds, job)
    started = room / "job.toml"
    program.need("new", started)
    tally.check("what `new` writes: taken", taken, kinds, started)
    seen = set()
    for folder in sorted(p for p in (ROOT / "samples/refused").iterdir() if p.is_dir()):
        tally.check(f"{folder.name}: as its code says", refused, kinds, folder, seen)
    tally.check("every code of the lists is seen", all_seen, seen)


def read(path):
    """The file as JSON has it: editors take dates for texts. None where it is no TOML."""
    try:
        return plain(tomllib.loads(path.read_text(encoding="utf-8")))
    except (tomllib.TOMLDecodeError, RecursionError):
        return None


def plain(value):
    if isinstance(value, dict):
        return {key: plain(inside) for key, inside in value.items()}
    if isinstance(value, list):
        return [plain(inside) for inside in value]
    return value.isoformat() if isinstance(value, (datetime.date, datetime.time)) else value


def taken(kinds, path):
    for kind in kinds:
        for error in kind.iter_errors(read(path)):
            raise Wrong(f"{list(error.path)}: {error.message[:200]}")


def refused(kinds, folder, seen):
    codes = set(re.findall(r"^error\[(\w+)\]", (folder / "message.txt").read_text(encoding="utf-8"), re.M))
    if not codes:
        raise Wrong("no code in its message")
    seen |= codes
    for code in codes:
        late = code[0] != "J" or int(code[1:]) in TOGETHER and code not in KNOWN and code not in CANNOT
        if (code in KNOWN) + (code in CANNOT) + (code in SYNTAX) + late != 1:
            raise Wrong(f"{code} stands in no list, or in two")
    value = read(folder / "job.toml")
    if value is None:
        if not codes & SYNTAX:
            raise Wrong(f"no TOML, and refused for {codes}")
        return
    known = codes & (set(KNOWN) | SYNTAX) and folder.name not in OTHERWISE
    for kind in kinds:
        if kind.is_valid(value) == bool(known):
            raise Wrong(f"{codes}: the schema {'takes' if known else 'refuses'} it")


def all_seen(seen):
    missing = (set(KNOWN) | set(CANNOT) | SYNTAX) - seen
    if missing:
        raise Wrong(f"no refused sample shows {sorted(missing)}")
