"""Makes notes to time with, the same for the same seed.

  make_notes.py generated LEXICON COUNTS OUT   about 250 bytes a note, 3 in 100 with accents
  make_notes.py demo FOLDER OUT                the notes of the examples

OUT holds the notes, each ended by a NUL. Generated notes follow the word pairs that tasters write
(COUNTS: words, phrase, count), with forms of the lexicon put in."""
import collections
import csv
import json
import pathlib
import random
import re
import sys

SEED = 20261125
NOTES = 4000
LENGTH = 250
ACCENTED = 0.03
WITH_FORM = 0.18        # of the places where a word is chosen
WITH_COMMA = 0.10
WITH_QUANTITY = 0.15    # of the notes


class Words:
    def __init__(self, lexicon, counts):
        self.follow = collections.defaultdict(lambda: ([], []))
        self.single = ([], [])
        with open(counts, encoding="utf-8") as rows:
            for row in csv.DictReader(rows, delimiter="\t", quoting=csv.QUOTE_NONE):
                if not row["phrase"].isascii():
                    continue   # accents come in by their share alone
                words = row["phrase"].split(" ")
                at = self.single if len(words) == 1 else self.follow[words[0]]
                at[0].append(words[-1])
                at[1].append(int(row["count"]))
        forms = set()
        for folder in ("aroma", "scales"):
            for path in sorted(pathlib.Path(lexicon, folder).glob("*.toml")):
                for line in re.findall(r"^forms = \[(.*?)\]", path.read_text("utf-8"), re.M | re.S):
                    forms.update(form for form in re.findall(r'"([^"]+)"', line) if "{" not in form)
        self.plain = sorted(form for form in forms if form.isascii() and form.count(" ") < 3)
        self.accented = sorted(form for form in forms if not form.isascii())
        assert len(self.plain) > 1000 and len(self.accented) > 20


def sentence(words, dice):
    out, last = [], None
    for _ in range(dice.randint(6, 15)):
        if dice.random() < WITH_FORM:
            out.append(dice.choice(words.plain))
            last = None
        else:
            choices = words.follow.get(last) or words.single
            last = dice.choices(*choices)[0]
            out.append(last)
        if dice.random() < WITH_COMMA:
            out[-1] += ","
            last = None
    text = " ".join(out).rstrip(",")
    return text[0].upper() + text[1:] + "."


def note(words, dice):
    parts = []
    length = dice.gauss(LENGTH, 60)
    while sum(map(len, parts)) + len(parts) + 35 < length:
        parts.append(sentence(words, dice))
    parts = parts or [sentence(words, dice)]
    if dice.random() < WITH_QUANTITY:
        parts.append(dice.choice(["13.5%.", "12 g/L.", "14% vol.", "pH 3.4.", "17/20."]))
    if dice.random() < ACCENTED:
        parts[0] = parts[0][:-1] + ", " + dice.choice(words.accented) + "."
    return " ".join(parts)


def generated(lexicon, counts):
    words, dice = Words(lexicon, counts), random.Random(SEED)
    return [note(words, dice) for _ in range(NOTES)]


def demo(folder):
    notes = []
    for path in sorted(pathlib.Path(folder).iterdir()):
        text = path.read_text("utf-8-sig")
        if path.suffix == ".csv":
            header = text.partition("\n")[0]
            rows = list(csv.DictReader(text.splitlines(keepends=True),
                                       delimiter=max(",;\t", key=header.count)))
            names = [name for name in rows[0] if name is not None]
            longest = max(names, key=lambda name: sum(len(row[name] or "") for row in rows))
            notes += [row[longest] for row in rows if row[longest]]
        elif path.suffix == ".jsonl":
            notes += [json.loads(line)["text"] for line in text.splitlines() if line]
        else:
            notes += [block.strip() for block in re.split(r"\n\s*\n", text) if block.strip()]
    return notes


def main():
    kind, *inputs, out = sys.argv[1:]
    notes = {"generated": generated, "demo": demo}[kind](*inputs)
    assert notes and not any("\0" in one for one in notes)
    pathlib.Path(out).write_bytes(b"".join(one.encode() + b"\0" for one in notes))


main()
