"""What a notebook shows, and the plots."""
import html.parser
import io
import re
import unittest

from _load import ODD, README, corpus, demo
import matplotlib
matplotlib.use("Agg")
import matplotlib.pyplot
import numpy
import racking
import racking.notebook
from racking import plots

READER = racking.Reader()
VOID = {"br", "meta"}


class Reading(html.parser.HTMLParser):
    """The text of a note, what of it is marked, and whether the tags are balanced."""

    def __init__(self, page):
        super().__init__()
        self.open, self.text, self.marked, self.cells, self.key = [], "", "", [], 0
        self.feed(page)
        self.close()
        assert self.open == [], self.open

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append((tag, dict(attributes).get("class")))
        if tag == "li" and any(one[0] == "ol" for one in self.open):
            if ("ol", "key") in self.open:
                self.key += 1
            else:
                self.cells.append(dict(attributes).get("class") == "in")
        assert tag != "script"

    def handle_endtag(self, tag):
        assert self.open.pop()[0] == tag, tag

    def handle_data(self, data):
        if ("p", "note") in self.open and not any(one[0] == "sup" for one in self.open):
            self.text += data
            if any(one[0] == "mark" for one in self.open):
                self.marked += data + "|"


class Shown(unittest.TestCase):
    def test_the_note_of_the_readme(self):
        page = READER.read(README)._repr_html_()
        read = Reading(page)
        self.assertEqual(read.text, README)
        self.assertEqual(read.marked, "Brick|Damp cardboard|cassis|grippy|dries the gums|")
        self.assertEqual(read.cells, [False, False, False, True, True])
        self.assertIn('aria-label="tannin: firm to gripping, step 4 to 5 of 5"', page)
        self.assertIn("hedgerow: blackcurrant", page)
        self.assertIn("no laboratory result", page)
        self.assertEqual(read.key, len(re.findall(r"\d+", ",".join(re.findall("<sup>(.*?)</sup>", page)))))

    def test_any_note_is_shown_whole(self):
        for text in corpus() + demo() + ODD + ["<script>alert(1)</script> & \"plum\" 'oak'", "\x07 plum"]:
            note = READER.read(text)
            read = Reading(note._repr_html_())
            shown = "".join("\ufffd" if racking.notebook.is_control(c) else c for c in text)
            self.assertEqual(read.text, shown)
            stated = [level.range for level in note.structure if level.range]
            self.assertEqual(read.cells, [low <= step <= high for low, high in stated
                                          for step in range(1, 6)])

    def test_lines_tell_doubt_and_asides(self):
        page = READER.read("Plum, no oak, perhaps cherry. Serve with lamb.")._repr_html_()
        self.assertIn("<mark>Plum</mark>", page)
        self.assertIn('<mark class="dotted">', page)

    def test_colour_carries_no_code(self):
        colours = set(re.findall(r"#[0-9a-f]{3,6}\b|rgb|hsl", racking.notebook.STYLE))
        self.assertEqual(colours, set())

    def test_many_notes(self):
        notes = READER.read_many(["Plum, corked.", None, "Grippy <b>", "Plum."])
        page = notes._repr_html_()
        Reading(page)
        self.assertIn("3 notes, 1 missing", page)
        self.assertIn("to look at again: 1 of 3", page)
        self.assertIn('<th scope="row">orchard</th><td>2</td>', page)
        Reading(READER.read_many([])._repr_html_())
        Reading(READER.read_many([None])._repr_html_())


class Plots(unittest.TestCase):
    def setUp(self):
        self.addCleanup(matplotlib.pyplot.close, "all")
        self.notes = READER.read_many(demo())

    def drawn(self, ax):
        """The picture in grey levels, 0 to 255, after making sure that it has no colour."""
        file = io.BytesIO()
        ax.figure.savefig(file, format="raw", dpi=60)
        pixels = numpy.frombuffer(file.getvalue(), dtype=numpy.uint8).reshape(-1, 4)[:, :3].astype(int)
        self.assertLess((pixels.max(axis=1) - pixels.min(axis=1)).max(), 12)
        self.assertGreater((pixels < 100).sum(), 300)
        return pixels

    def hatched(self, ax):
        return [patch for patch in ax.patches if patch.get_hatch()]

    def test_a_profile_draws_intervals(self):
        ax = plots.structure_profile(READER.read(README))
        self.drawn(ax)
        self.assertEqual([round(patch.get_x() + 0.45) for patch in self.hatched(ax)], [4, 5])
        self.assertEqual(len(ax.patches), 7)            # five outlines, two hatchings
        self.assertIn("gripping", [text.get_text() for text in ax.texts])

    def test_several_wines_differ_by_hatching_and_name(self):
        ax = plots.structure_profile({"2016": READER.read("Grippy."), "2019": READER.read("Soft tannin.")})
        self.drawn(ax)
        self.assertEqual(len({patch.get_hatch() for patch in self.hatched(ax)}), 2)
        self.assertEqual([label.get_text() for label in ax.get_yticklabels()], ["tannin 2019", "tannin 2016"])

    def test_shares_add_up(self):
        ax = plots.family_shares({"all": self.notes, "one": READER.read("Plum. No oak.")})
        self.drawn(ax)
        for bars in ax.containers:
            self.assertAlmostEqual(sum(bar.get_width() for bar in bars), 1.0)
        self.assertEqual(sorted(bar.get_width() for bar in ax.containers[1])[-2:], [0, 1])

    def test_years_keep_their_gaps(self):
        ax = plots.over_years([READER.read("Soft tannin."), None, READER.read("Grippy.")], [2024, 2020, 2019])
        self.drawn(ax)
        self.assertEqual([label.get_text() for label in ax.get_xticklabels()], ["2019", "2020", "2024"])
        self.assertIn("not stated", [text.get_text() for text in ax.texts])
        with self.assertRaises(racking.BadArgument):
            plots.over_years([READER.read("Plum.")], [])
        with self.assertRaises(racking.BadArgument):
            plots.over_years([READER.read("Plum.")], [1], "grip")

    def test_a_panel(self):
        ax = plots.panel_spread({"Odile": self.notes[:20], "Rasmus": self.notes[20:], "Marit": READER.read("Plum")}, "acidity")
        self.drawn(ax)
        self.assertEqual([label.get_text() for label in ax.get_yticklabels()],
                         ["all", "Marit", "Rasmus", "Odile"])
        with self.assertRaises(racking.WrongType):
            plots.panel_spread([READER.read("Plum.")])

    def test_axes_of_the_caller_are_used(self):
        _, ax = matplotlib.pyplot.subplots()
        self.assertIs(plots.structure_profile(READER.read(README), ax=ax), ax)
        self.assertIs(plots.structure_profile([]).get_title() and ax, ax)


if __name__ == "__main__":
    unittest.main()
