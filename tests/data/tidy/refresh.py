#!/usr/bin/python3
"""Rewrites reviewed.jsonl beside this file with what note_cleanup writes now, and shows the diff.

    refresh.py [note_cleanup]     default: $NOTE_CLEANUP, else build/release/note_cleanup

Read the diff as an editor would before you commit it: the file says that a person did. To add
a note, add a line with its "id" and "text".
"""
import difflib
import json
import os
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
REVIEWED = HERE / "reviewed.jsonl"


def program(arguments):
    if arguments:
        return arguments[0]
    return os.environ.get("NOTE_CLEANUP", str(HERE.parents[2] / "build/release/note_cleanup"))


def as_line(record):
    return json.dumps(record, ensure_ascii=False) + "\n"


def main(arguments):
    before = REVIEWED.read_text(encoding="utf-8").splitlines(keepends=True)
    notes = [json.loads(line) for line in before]
    stdin = "".join(as_line({"id": n["id"], "text": n["text"]}) for n in notes)
    done = subprocess.run([program(arguments), "--from", "jsonl", "--format", "jsonl"],
                          input=stdin.encode(), capture_output=True, check=False)
    if done.returncode != 0:
        sys.exit(f"note_cleanup exits {done.returncode}: {done.stderr.decode()}")
    records = [json.loads(line) for line in done.stdout.decode().split("\n") if line]
    if [r["id"] for r in records] != [n["id"] for n in notes]:
        sys.exit("note_cleanup did not give back every note")
    after = [as_line({"id": n["id"], "text": n["text"], "tidy": r["tidy"]})
             for n, r in zip(notes, records)]
    changed = 0
    for old, new in zip(before, after):
        if old == new:
            continue
        changed += 1
        was, now = json.loads(old).get("tidy", ""), json.loads(new)["tidy"]
        print(json.loads(new)["id"])
        for line in difflib.ndiff(was.split(". "), now.split(". ")):
            if line[0] in "-+":
                print("  " + line)
    REVIEWED.write_text("".join(after), encoding="utf-8")
    print(f"{changed} of {len(after)} changed")


if __name__ == "__main__":
    main(sys.argv[1:])
