#!/usr/bin/python3
"""Every record follows lib/render/note.schema.json, and every `text` is its slice.

With files named: checks the JSON Lines in them. Without: runs note_cleanup (environment
NOTE_CLEANUP) over the demo notes and some awkward ones, in both depths and all three offsets.
The schema is read by Debian's python3-jsonschema (JSON Schema 2020-12).
"""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "lib/render/note.schema.json").read_text(encoding="utf-8"))
AWKWARD = [
    "", " ", "é", "crème brûlée 🍷 and cassis; grippy, dries the gums",
    "\u0000\u0001\t\"quoted\" \\ back", "no butter or cream; not corked",
    "Ruby, then garnet, brick rim 3 mm. Hazy, then clear.", "Tannins will soften. Serve with lamb and mint.",
    "😀" * 50, "12 months in oak; 60% Merlot; 93/100; 13.5% vol; pH 3.4",
]


def validators():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    return {depth: jsonschema.Draft202012Validator(
        {"$ref": f"#/$defs/{depth}", "$defs": SCHEMA["$defs"]}) for depth in ("full", "plain")}


def original_bytes(record):
    """The note's bytes: each U+FFFD of an ill-formed part back to what `problems` keeps."""
    kept = iter([bytes.fromhex(m.group(1)) for p in record.get("problems", [])
                 if p["code"] == "ill-formed-utf-8"
                 for m in [re.search(r"\b((?:[0-9a-f]{2})+)\b(?= are not UTF-8)", p["message"])]])
    out = b""
    for character in record["text"]:
        out += next(kept, b"\xef\xbf\xbd") if character == "\ufffd" else character.encode()
    return out


def slicer(record):
    text, unit = record["text"], record["offsets"]
    if unit == "codepoint":
        return lambda b, e: text[b:e]
    if unit == "utf16":
        units = text.encode("utf-16-le")
        return lambda b, e: units[2 * b:2 * e].decode("utf-16-le")
    data = original_bytes(record)
    return lambda b, e: data[b:e].decode("utf-8", "replace")


def slices(node):
    if isinstance(node, dict):
        if "span" in node and "text" in node:
            yield node["span"], node["text"]
        for value in node.values():
            yield from slices(value)
    elif isinstance(node, list):
        for value in node:
            yield from slices(value)


def check_tiling(record):
    end = 0
    for statement in record.get("statements", []):
        if not end <= statement["span"][0] < statement["span"][1]:
            yield f"statement {statement['span']} overlaps or is empty"
        end = statement["span"][1]


def check(record, checkers):
    depth = "full" if "expression" in record and "problems" in record and "names" in record else "plain"
    for error in checkers[depth].iter_errors(record):
        best = jsonschema.exceptions.best_match([error]) or error
        yield f"{depth}: {'/'.join(map(str, best.absolute_path))}: {best.message[:200]}"
    cut = slicer(record)
    for span, text in slices(record):
        if cut(*span) != text:
            yield f"text {text!r} at {span} is {cut(*span)!r}"
    yield from check_tiling(record)


def check_lines(name, lines, checkers):
    failures = count = 0
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        count += 1
        for problem in check(json.loads(line), checkers):
            failures += 1
            print(f"{name}:{number}: {problem}", file=sys.stderr)
    return failures, count


def run_cleanup(checkers):
    program = os.environ["NOTE_CLEANUP"]
    failures = count = 0
    with tempfile.TemporaryDirectory() as folder:
        awkward = pathlib.Path(folder, "awkward.jsonl")
        awkward.write_text("".join(json.dumps({"id": str(i), "text": t}) + "\n"
                                   for i, t in enumerate(AWKWARD)), encoding="utf-8")
        inputs = [awkward, *sorted((ROOT / "examples/notes").iterdir())]
        for path in inputs:
            for extra in ([], ["--plain"], ["--explain"], ["--plain", "--explain"]):
                for unit in ("byte", "codepoint", "utf16"):
                    done = subprocess.run([program, str(path), "--format", "jsonl", "--offsets", unit, *extra],
                                          capture_output=True, check=False)
                    if done.returncode not in (0, 1):
                        print(f"{path.name}: note_cleanup exits {done.returncode}: {done.stderr.decode()}",
                              file=sys.stderr)
                        failures += 1
                        continue
                    bad, seen = check_lines(f"{path.name} {unit} {extra}", done.stdout.decode().split("\n"),
                                            checkers)
                    failures, count = failures + bad, count + seen
    return failures, count


def main(arguments):
    checkers = validators()
    failures = count = 0
    if arguments:
        for name in arguments:
            with open(name, encoding="utf-8", newline="\n") as lines:
                bad, seen = check_lines(name, lines, checkers)
            failures, count = failures + bad, count + seen
    else:
        failures, count = run_cleanup(checkers)
    print(f"{count} records, {failures} problems")
    return 1 if failures or count == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
