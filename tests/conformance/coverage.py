"""How much of what tasters write the lexicon accounts for.

  coverage.py            the test: floors for each text
  coverage.py --figures  the lines for README.md
  coverage.py --missing  words that are unmapped, with their counts

The counts are those of tests/data/word_counts.tsv, from published notes by many hands. A content
word is one that is no function word (`class = "function"` in the lexicon, nor a contraction of
them); it is accounted for if it is not unmapped. Every content word counts as often as it is written.
Names are left out as the counts leave them out: words with a capital inside a sentence.
"""
import collections
import csv
import json
import os
import pathlib
import random
import re
import subprocess
import sys
import tomllib

PROGRAM = os.environ.get("NOTE_CLEANUP", "note_cleanup")
SOURCE = pathlib.Path(os.environ.get("RACKING_SOURCE_DIR", pathlib.Path(__file__).parents[2]))
FLOORS = {"counted words": 0.99, "text made of the counts": 0.97, "demo notes": 0.96}
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")


def function_words():
    words = set()
    for path in (SOURCE / "lexicon").rglob("*.toml"):
        for entry in tomllib.loads(path.read_text("utf-8")).get("known", []):
            if entry["class"] == "function":
                words.update(form for form in entry["forms"] if " " not in form and "{" not in form)
    assert len(words) > 100
    return words


def counted():
    with open(SOURCE / "tests/data/word_counts.tsv", encoding="utf-8") as rows:
        return [(row["phrase"], int(row["count"]))
                for row in csv.DictReader(rows, delimiter="\t", quoting=csv.QUOTE_NONE)]


def chains(rows, number=3000, seed=20261125):
    """Sentences that follow the counted pairs of words, and nothing else."""
    singles, follow = ([], []), collections.defaultdict(lambda: ([], []))
    for phrase, count in rows:
        words = phrase.split(" ")
        if len(words) > 2:
            continue
        at = singles if len(words) == 1 else follow[words[0]]
        at[0].append(words[-1])
        at[1].append(count)
    dice = random.Random(seed)
    for _ in range(number):
        sentences = []
        for _ in range(3):
            words, last = [], None
            for _ in range(dice.randint(6, 15)):
                choices = follow.get(last) or singles
                last = dice.choices(*choices)[0]
                words.append(last)
            sentences.append(" ".join(words).capitalize() + ".")
        yield " ".join(sentences)


def is_name(text, found):
    return found[0][0].isupper() and re.search(r"[^\s.!?:;\"“(*\-–—|/>]\s*$", text[:found.start()]) is not None


def read(texts):
    given = "\n".join(json.dumps({"id": "x", "text": text}) for text in texts)
    done = subprocess.run([PROGRAM, "--from", "jsonl", "--plain"], input=given.encode(),
                          stdout=subprocess.PIPE, check=True)
    return [json.loads(line) for line in done.stdout.splitlines()]


def measure(records, weights, function, missing):
    telling = lost = 0
    for record, weight in zip(records, weights):
        text = record["text"]
        unmapped = [one["span"] for one in record.get("unmapped", [])]
        for found in WORD.finditer(text):
            word = found[0].lower().replace("’", "'")
            if is_name(text, found):
                continue
            if word in function or all(part in function for part in word.split("'")):
                continue
            telling += weight
            if any(begin <= found.start() and found.end() <= end for begin, end in unmapped):
                lost += weight
                missing[word] += weight
    assert telling > 0
    return 1 - lost / telling


def main():
    function, rows = function_words(), counted()
    words = [(phrase, count) for phrase, count in rows if " " not in phrase]
    notes = [str(path) for path in sorted((SOURCE / "examples/notes").iterdir())]
    demo = subprocess.run([PROGRAM, "--plain", *notes], stdout=subprocess.PIPE, check=True).stdout
    made = read(chains(rows))
    texts = {
        "counted words": (read([word for word, _ in words]), [count for _, count in words]),
        "text made of the counts": (made, [1] * len(made)),
        "demo notes": ([json.loads(line) for line in demo.splitlines()], [1] * 10**6),
    }
    missing = collections.Counter()
    shares = {name: measure(*text, function, missing) for name, text in texts.items()}
    if "--missing" in sys.argv:
        for word, count in missing.most_common():
            print(count, word, sep="\t")
        return
    for name, share in shares.items():
        print(f"{name}\t{100 * share:.1f} %")
    wrong = [name for name, share in shares.items() if share < FLOORS[name]]
    if "--figures" not in sys.argv and wrong:
        sys.exit(f"below the floor: {', '.join(wrong)}; see coverage.py --missing")


main()
