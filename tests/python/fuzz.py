"""Arbitrary text, slices and rows: never a crash, always slices that fit. RACKING_FUZZ_EXAMPLES
sets how many examples a test draws."""
import datetime
import json
import os
import pickle
import unittest

from hypothesis import HealthCheck, given, settings, strategies

from _load import ODD, corpus
import racking

READER = racking.Reader()
SEEDS = corpus()
settings.register_profile(
    "racking", max_examples=int(os.environ.get("RACKING_FUZZ_EXAMPLES", "150")),
    deadline=datetime.timedelta(seconds=5), derandomize=True, database=None,
    suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("racking")

ANY = strategies.text(alphabet=strategies.characters(), max_size=200)      # surrogates included
WELL = strategies.text(alphabet=strategies.characters(blacklist_categories=["Cs"]), max_size=200)
SLICES = strategies.builds(lambda text, begin, end: text[begin:end], strategies.sampled_from(SEEDS + ODD),
                           strategies.integers(0, 80), strategies.integers(0, 200))
MIXED = strategies.lists(strategies.one_of(SLICES, WELL), max_size=4).map(" ".join)
VALUES = strategies.one_of(
    strategies.none(), ANY, SLICES, strategies.binary(max_size=9), strategies.integers(),
    strategies.floats(), strategies.lists(strategies.text(max_size=3), max_size=2))


class Fuzz(unittest.TestCase):
    @given(MIXED)
    def test_well_formed_text_is_read(self, text):
        note = READER.read(text)
        data = text.encode()
        self.assertEqual(note.text, text)
        for one in note.aromas + note.aside_aromas + note.readings + note.unmapped + note.names:
            self.assertEqual(text[one.span.slice], one.text)
            self.assertEqual(data[one.span_bytes.slice].decode(), one.text)
        record = json.loads(note.to_json())
        self.assertEqual(record["text"], text)
        self.assertEqual([tuple(aroma["span"]) for aroma in record["aromas"]],
                         [tuple(aroma.span) for aroma in note.aromas])
        self.assertEqual(pickle.loads(pickle.dumps(note)), note)
        self.assertIn("racking.Note", repr(note))
        page = note._repr_html_()
        self.assertEqual(page.count("<mark"), page.count("</mark>"))

    @given(ANY)
    def test_any_string_is_read_or_refused_with_a_place(self, text):
        try:
            self.assertEqual(READER.read(text).text, text)
        except racking.TextIllFormed as error:
            self.assertTrue("\ud800" <= text[error.position] <= "\udfff")
            self.assertFalse(any("\ud800" <= c <= "\udfff" for c in text[:error.position]))
        else:
            text.encode()

    @given(strategies.lists(VALUES, max_size=12), strategies.integers(1, 3))
    def test_any_rows(self, rows, jobs):
        try:
            notes = READER.read_many(rows, jobs=jobs)
        except racking.Error as error:
            self.assertNotEqual(rows[error.row], None)
            return
        self.assertEqual(len(notes), len(rows))
        self.assertEqual([text for text in notes.texts if text is not None],
                         [row for row in rows if isinstance(row, str)])
        self.assertEqual(len(notes.to_jsonl().splitlines()),
                         sum(isinstance(row, str) for row in rows))

    @given(strategies.binary(max_size=400))
    def test_any_blob_is_refused(self, blob):
        with self.assertRaises(racking.LexiconCorrupt):
            racking.Lexicon.from_blob(blob)

    @given(ANY)
    def test_any_overlay_is_read_or_refused(self, toml):
        try:
            READER.lexicon.overlaid(racking.Overlay.parse(toml))
        except racking.Error as error:
            self.assertTrue(str(error))

    @given(strategies.integers(-5, 5), strategies.integers(-5, 5), ANY)
    def test_any_label(self, low, high, dimension):
        try:
            racking.Note.label(dimension, (low, high))
        except racking.Error:
            pass
        valid = 1 <= low <= high <= 5
        try:
            self.assertTrue(racking.Note.label("tannin", (low, high)))
            self.assertTrue(valid)
        except racking.BadArgument:
            self.assertFalse(valid)


if __name__ == "__main__":
    unittest.main()
