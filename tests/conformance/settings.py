"""Every form of the lexicon, put into three settings and read through the whole reader: in a list,
under a negator, under a heading. What is not reached there is a fault of the lexicon or stands in
tests/data/setting_exceptions.tsv with its reason; a line there that is not needed fails too.

  settings.py           the test
  settings.py --list    every finding, as lines of the exceptions file
"""
import collections
import json
import os
import pathlib
import subprocess
import sys
import tomllib

PROGRAM = os.environ.get("NOTE_CLEANUP", "note_cleanup")
SOURCE = pathlib.Path(os.environ.get("RACKING_SOURCE_DIR", pathlib.Path(__file__).parents[2]))
EXCEPTIONS = SOURCE / "tests/data/setting_exceptions.tsv"
DIMENSIONS = ("acidity", "body", "tannin", "sweetness", "alcohol", "sparkle", "finish", "expression")
# Company that is in no form of the lexicon's together with the words between.
LIST = "Quince, {}, nutmeg."
CLAUSES = "Quince; {}; nutmeg."


# The grammar of a form is not known, so one of these that reads as it should is enough.
NEGATORS = ("Not {}.", "No {}.", "Never {}.", "Without {}.", "Lacks {}.", "Isn't {}.", "It has no {}.", "Doesn't {}.")


class Case:
    """A form in a setting, and what must be found over its words."""

    def __init__(self, setting, kind, form, frame, found):
        before, after = frame.split("{}")
        self.text = before + form + after
        self.begin, self.end = len(before), len(before) + len(form)
        self.name = (setting, kind, form)
        self.found = found

    def over(self, span):
        return span[0] < self.end and self.begin < span[1]


def aroma(id, stance=None, phase=None):
    def found(case, record):
        return any(one["descriptor"] == id and case.over(one["span"])
                   and (stance is None or one["stance"] == stance)
                   and (phase is None or one["phase"] == phase) for one in record.get("aromas", []))
    return found


def readings(record):
    for dimension, level in record.get("structure", {}).items():
        for one in (level or {}).get("readings", []):
            yield dimension, one
    for one in (record.get("expression") or {}).get("readings", []):
        yield "expression", one


def reading(dimension, range, stance=None, phase=None, denied=False):
    def found(case, record):
        for name, one in readings(record):
            if name != dimension or not case.over(one["span"]):
                continue
            if phase and one["phase"] != phase:
                continue
            given = one.get("range")
            # A denial leaves another level, or none.
            if denied and (one["stance"] == "denied" or given != range):
                return True
            if not denied and given and given[0] <= range[1] and range[0] <= given[1]:
                return True
        return False
    return found


def trait(ids, stance=None):
    """A trait of the whole or of a dimension."""
    def found(case, record):
        if any(one["trait"] in ids and case.over(one["span"]) and (stance is None or one["stance"] == stance)
               for one in record.get("traits", [])):
            return True
        levels = [*record.get("structure", {}).values(), record.get("expression")]
        return stance is None and any(set(ids) & set((level or {}).get("traits", [])) for level in levels)
    return found


def hue(id, stance="stated"):
    def found(case, record):
        sight = record.get("sight", {})
        return any((sight.get(part) or {}).get("hue") == id and sight[part].get("stance", "stated") == stance
                   for part in ("core", "rim"))
    return found


def fault(id, stances):
    def found(case, record):
        return any(one["fault"] == id and one["stance"] in stances
                   for one in record.get("condition", {}).get("faults", []))
    return found


def entries():
    for path in sorted((SOURCE / "lexicon").rglob("*.toml")):
        for kind, tables in tomllib.loads(path.read_text("utf-8")).items():
            if isinstance(tables, list):
                yield from ((kind, table) for table in tables)


def cases():
    for kind, entry in entries():
        forms = [form for key in ("forms", "adjectives", "fixed") for form in entry.get(key, [])]
        make = {"descriptor": of_aroma, "family": of_aroma, "phrase": of_phrase, "trait": of_trait,
                "hue": of_hue, "fault": of_fault, "level": of_level}.get(kind)
        for form in forms if make else []:
            yield from make(entry, form)


def negated(kind, form, found):
    for frame in NEGATORS:
        yield Case("negator", kind, form, frame, found)


def of_aroma(entry, form):
    id = entry["id"]
    yield Case("list", "aroma", form, LIST, aroma(id, "stated"))
    yield from negated("aroma", form, aroma(id, "denied"))
    yield Case("nose", "aroma", form, "Nose: {}.", aroma(id, "stated", "nose"))
    yield Case("palate", "aroma", form, "Palate: {}.", aroma(id, "stated", "palate"))


def of_phrase(entry, form):
    traits = entry.get("traits", []) + ([entry["trait"]] if "trait" in entry else [])
    if "range" not in entry:
        yield from of_trait({"id": None, "traits": traits}, form)
        return
    dimension, range = entry["dimension"], entry["range"]
    heading = "Nose: {}." if dimension == "expression" else "Palate: {}."
    yield Case("list", "phrase", form, CLAUSES, reading(dimension, range))
    yield from negated("phrase", form, reading(dimension, range, denied=True))
    yield Case("heading", "phrase", form, heading, reading(dimension, range))


def of_trait(entry, form):
    ids = entry.get("traits") or [entry["id"]]
    yield Case("list", "trait", form, CLAUSES, trait(ids))
    yield from negated("trait", form, trait(ids, "denied"))
    yield Case("heading", "trait", form, "Palate: {}.", trait(ids))


def of_hue(entry, form):
    yield Case("list", "hue", form, "Look: bright, {}, clear.", hue(entry["id"]))
    yield Case("negator", "hue", form, "Colour: not {}.", hue(entry["id"], "denied"))
    yield Case("heading", "hue", form, "Colour: {}.", hue(entry["id"]))


def of_fault(entry, form):
    id = entry["id"]
    yield Case("list", "fault", form, CLAUSES, fault(id, ("stated",)))
    yield from negated("fault", form, fault(id, ("denied",)))
    yield Case("heading", "fault", form, "Nose: {}.", fault(id, ("stated",)))


ANCHORS = {"acidity": "acidity", "body": "body", "tannin": "tannins", "sweetness": "sweetness",
           "alcohol": "alcohol", "sparkle": "mousse", "finish": "finish", "expression": "nose"}


def of_level(entry, form):
    for dimension in DIMENSIONS:
        if dimension not in entry:
            continue
        after = " " + ANCHORS[dimension]
        range = entry[dimension]
        heading = "Nose: {}" if dimension == "expression" else "Palate: {}"
        yield Case("list", f"level of {dimension}", form, "Quince; {}" + after + "; nutmeg.", reading(dimension, range))
        yield Case("heading", f"level of {dimension}", form, heading + after + ".", reading(dimension, range))


def read(all_cases):
    given = "\n".join(json.dumps({"id": "x", "text": case.text}) for case in all_cases)
    done = subprocess.run([PROGRAM, "--from", "jsonl", "--plain"], input=given.encode(), stdout=subprocess.PIPE,
                          check=True)
    lines = done.stdout.splitlines()
    assert len(lines) == len(all_cases)
    return map(json.loads, lines)


def exceptions():
    out = {}
    for line in EXCEPTIONS.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            setting, kind, form, reason = line.split("\t")
            assert reason.strip(), line
            assert (setting, kind, form) not in out, f"twice: {line}"
            out[setting, kind, form] = reason
    return out


def main():
    all_cases = list(cases())
    assert len(all_cases) > 30000, len(all_cases)
    missed, reached = {}, set()
    for case, record in zip(all_cases, read(all_cases)):
        if case.name in reached or case.found(case, record):
            reached.add(case.name)
        else:
            missed.setdefault(case.name, case.text)
    missed = {name: text for name, text in missed.items() if name not in reached}
    if "--list" in sys.argv:
        for name, text in sorted(missed.items()):
            print(*name, text, sep="\t")
        return
    known = exceptions()
    wrong = [f"not reached: {name}: {text}" for name, text in sorted(missed.items()) if name not in known]
    wrong += [f"reached, so no exception: {name}" for name in sorted(known) if name not in missed]
    counts = collections.Counter(name[:2] for name in {case.name for case in all_cases})
    for (setting, kind), count in sorted(counts.items()):
        print(f"{kind:22}{setting:9}{count:6} forms, {sum(name[:2] == (setting, kind) for name in missed):4} excepted")
    print("\n".join(wrong))
    sys.exit(bool(wrong))


main()
