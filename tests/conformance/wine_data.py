#!/usr/bin/python3
"""Measured wines are read as measured: Debian's python3-sklearn carries the wine recognition data
(UCI, 1991: 178 wines of three grapes; sklearn/datasets/data/wine_data.csv).

Its alcohol and colour intensity can check a unit and a band: each figure, written as a taster
would, comes back as that quantity with that value; every alcohol lies inside the range of wine in
lexicon/scales/bands.toml; none gets a remark. Its `hue` is undefined in the data set (an angle? a
ratio of absorbances?), so nothing is checked against it; its malic acid is no total acidity. Two
decimals are written: the file has one figure with the noise of a binary fraction (9.899999).
"""
import csv
import json
import os
import pathlib
import subprocess
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
DATA = pathlib.Path("/usr/lib/python3/dist-packages/sklearn/datasets/data/wine_data.csv")
ALCOHOL, INTENSITY = 0, 9   # columns, in the order of sklearn/datasets/descr/wine_data.rst


def two_decimals(figure):
    return f"{float(figure):.2f}"


def notes(wines):
    for wine in wines:
        yield f"Alcohol {wine[ALCOHOL]} % vol, colour intensity {two_decimals(wine[INTENSITY])}.", wine
        yield f"{wine[ALCOHOL].replace('.', ',')}% alc; colour density: {two_decimals(wine[INTENSITY])}", wine


def main():
    with DATA.open(newline="") as file:
        rows = list(csv.reader(file))
    wines = rows[1:]
    assert len(wines) == int(rows[0][0]) == 178
    bands = {band["id"]: band for band in tomllib.loads(
        (ROOT / "lexicon/scales/bands.toml").read_text(encoding="utf-8"))["band"]}
    least, most = bands["eu.alcohol.minimum"]["least"], bands["eu.alcohol.maximum"]["most"]
    failures = []
    written = list(notes(wines))
    lines = "".join(json.dumps({"note": text}) + "\n" for text, _ in written)
    out = subprocess.run([os.environ["NOTE_CLEANUP"], "--from", "jsonl", "--column", "note"],
                         input=lines, capture_output=True, text=True, check=True).stdout.splitlines()
    assert len(out) == len(written), (len(out), len(written))
    for (text, wine), line in zip(written, out):
        record = json.loads(line)
        found = {one["kind"]: (one["value"], one["unit"]) for one in record["quantities"]}
        alcohol, intensity = float(wine[ALCOHOL]), float(two_decimals(wine[INTENSITY]))
        expected = {"alcohol": (alcohol, "% vol"), "colour density": (intensity, None)}
        found = {kind: (value, unit or None) for kind, (value, unit) in found.items()}
        if found != expected:
            failures.append(f"{text}: {found}")
        if not least <= alcohol <= most:
            failures.append(f"{text}: outside {least} to {most} % vol")
        if record["remarks"]:
            failures.append(f"{text}: {record['remarks']}")
    for failure in failures[:20]:
        print(failure)
    print(f"{len(written)} notes of {len(wines)} wines, {len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
