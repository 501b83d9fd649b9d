"""Finds the built package and the notes that tests read."""
import json
import os
import pathlib
import re
import sys

SOURCE = pathlib.Path(os.environ.get("RACKING_SOURCE_DIR", pathlib.Path(__file__).parents[2]))
BUILD = pathlib.Path(os.environ.get("RACKING_BUILD_DIR", SOURCE / "build" / "release"))
PROGRAM = os.environ.get("NOTE_CLEANUP", str(BUILD / "note_cleanup"))
PACKAGE = BUILD / "python"
NOTES = SOURCE / "examples" / "notes"

sys.path.insert(0, str(PACKAGE))

ENVIRONMENT = {**os.environ, "PYTHONPATH": str(PACKAGE), "PYTHONDONTWRITEBYTECODE": "1",
               "MPLBACKEND": "Agg"}
README = "Brick at the rim. Damp cardboard, some cassis; grippy, dries the gums."
# Accents, an emoji outside the basic plane, a combining mark, right-to-left text, line ends.
ODD = [
    "", " ", "\n", "Crème brûlée, café; très frais.", "🍒 cherry 🍷 and plum", "Fruité, e\u0301lan.",
    "דובדבן, cherry", "Plum\r\n\r\nLemon\u2028lime", "\x00 plum \x00", "ﬁne ﬂavour of fıg",
    "½ oak, 13½ % vol", "plum" * 500, "😀" * 300 + " cassis",
]


def corpus():
    """The texts of the marked-up corpus without their marks."""
    texts = []
    for path in sorted((SOURCE / "tests" / "corpus").rglob("*.txt")):
        for line in path.read_text("utf-8").splitlines():
            if line.strip() and not line.startswith("#"):
                text = re.sub(r"<[^>]*>", "", line)
                if "<" not in text and "&" not in text:   # the program resolves these
                    texts.append(text)
    assert len(texts) > 200, len(texts)
    return texts


def demo():
    lines = (NOTES / "merchant.jsonl").read_text("utf-8").splitlines()
    return [json.loads(line)["text"] for line in lines] + [
        line for line in (NOTES / "students.txt").read_text("utf-8").splitlines() if line]
