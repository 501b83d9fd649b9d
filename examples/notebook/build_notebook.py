"""Writes two_vintages.ipynb with the outputs of a clean kernel: build_notebook.py [OUT].

The notebook's text is here; change it here and run this again."""
import pathlib
import sys

import nbclient
import nbformat
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

HERE = pathlib.Path(__file__).resolve().parent

CELLS = [
    ("text", """# Two vintages side by side

A table of tasting notes, as three tasters wrote them over three years, read with Racking. The
wines, the tasters and the notes are invented.

*Tasting involves alcohol: spit, rest, and never taste and drive. A note is no laboratory result;
an off bottle can be unpleasant, so ask for another. Local rules and licensed practice come first.*"""),
    ("code", """import pandas as pd
import racking
from racking import plots

tastings = pd.read_csv("tastings.csv", index_col="id")
tastings.head()"""),
    ("text", "## One note\n\nA note shows itself, marked in place: every reading stands on words of the text."),
    ("code", """reader = racking.Reader()
reader.read(tastings.loc["T04", "note"])"""),
    ("text", "Each reading keeps its place in the text and the rule that decided it."),
    ("code", """note = reader.read(tastings.loc["T02", "note"])
[(aroma.descriptor.id, aroma.family.id, aroma.text, aroma.strength) for aroma in note.aromas]"""),
    ("text", "## All of them\n\nA missing note stays missing, and the tables keep the index of the series."),
    ("code", """notes = tastings["note"].racking.read(reader)
notes"""),
    ("code", """table = tastings.join(notes.table())
table[["wine", "vintage", "taster", "tannin_low", "tannin_high", "acidity_low", "acidity_high", "verdict"]]"""),
    ("text", """## Two vintages

A note says how precisely it speaks, so structure is an interval of steps, 1 to 5. Counted here
are the notes whose interval covers a step, by vintage and year of tasting: one that speaks loosely
covers several."""),
    ("code", """levels = notes.structure().join(tastings[["wine", "vintage", "tasted"]])
for step in range(1, 6):
    levels[step] = ((levels["low"] <= step) & (step <= levels["high"])).fillna(False)
rill = levels[levels["wine"] == "Stonewick Rill"]
rill.groupby(["dimension", "vintage", "tasted"], observed=True)[[1, 2, 3, 4, 5]].sum()"""),
    ("code", """by_vintage = {str(vintage): notes_of for vintage, notes_of in (
    (vintage, [note for note, there in zip(notes, (tastings["wine"] == "Stonewick Rill")
                                           & (tastings["vintage"] == vintage)) if there])
    for vintage in (2016, 2019))}
plots.structure_profile(by_vintage);"""),
    ("code", "plots.family_shares(by_vintage);"),
    ("text", "The 2016 over the years: a cell fills by the share of that year's notes whose interval covers the step."),
    ("code", """rows = (tastings["wine"] == "Stonewick Rill") & (tastings["vintage"] == 2016)
plots.over_years([note for note, there in zip(notes, rows) if there], tastings.loc[rows, "tasted"], "tannin");"""),
    ("text", "And the panel: who finds more tannin than the rest?"),
    ("code", """plots.panel_spread({taster: [note for note, who in zip(notes, tastings["taster"]) if who == taster]
                    for taster in tastings["taster"].unique()}, "tannin");"""),
    ("text", """## Notes that want a second look

Bottles that may be out of condition, notes that contradict themselves, words that the lexicon
does not know, and rows without a note."""),
    ("code", """second_look = table[(table["verdict"] == "suspect") | (table["conflicts"] > 0)
                    | (table["unmapped"] > 0) | table["verdict"].isna()]
second_look[["wine", "vintage", "taster", "verdict", "faults", "conflicts", "unmapped", "note"]]"""),
    ("code", """for id in second_look.index[second_look["unmapped"] > 0]:
    print(id, [words.text for words in reader.read(tastings.loc[id, "note"]).unmapped])"""),
    ("text", "A word of your own goes in with a few lines, and the lexicon stays as it was."),
    ("code", """mine = racking.Overlay.parse('''
[[descriptor]]
id = "zorbleberry"
parents = ["hedgerow"]
forms = ["zorbleberry"]
''')
own = racking.Reader(reader.lexicon.overlaid(mine))
[aroma.descriptor.id for aroma in own.read(tastings.loc["T15", "note"]).aromas]"""),
]


def notebook():
    made = new_notebook(metadata={"kernelspec": {
        "name": "python3", "display_name": "Python 3", "language": "python"},
        "language_info": {"name": "python"}})
    for number, (kind, source) in enumerate(CELLS):
        cell = new_markdown_cell(source) if kind == "text" else new_code_cell(source)
        cell["id"] = f"cell-{number}"      # the same at every run
        made.cells.append(cell)
    return made


def executed():
    made = notebook()
    nbclient.NotebookClient(made, timeout=120, kernel_name="python3",
                            resources={"metadata": {"path": str(HERE)}},
                            record_timing=False).execute()
    return made


if __name__ == "__main__":
    out = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "two_vintages.ipynb"
    nbformat.write(executed(), out)
