"""Tables of many notes: aligned to the caller's index, missing stays missing, as the notes say."""
import os
import pathlib
import pickle
import random
import tempfile
import unittest

from _load import ODD, README, corpus, demo
import numpy
import pandas
import racking

READER = racking.Reader()
TEXTS = corpus() + [text for text in ODD if text]
MIXED = [None if number % 7 == 3 else text for number, text in enumerate(TEXTS)]


def step(value):
    return None if pandas.isna(value) else int(value)


class Tables(unittest.TestCase):
    def test_aromas_are_those_of_the_notes(self):
        notes = READER.read_many(MIXED)
        table = notes.aromas(asides=True)
        rows = [(number, aroma.descriptor.id, aroma.family and aroma.family.id, aroma.text,
                 *aroma.span, aroma.strength and aroma.strength.low,
                 aroma.strength and aroma.strength.high,
                 ", ".join(aroma.state) or None, aroma.phase, aroma.stance, aroma.when, aroma.frame,
                 aroma.respelled, aside)
                for number, note in enumerate(notes) if note
                for found, aside in ((note.aromas, False), (note.aside_aromas, True))
                for aroma in found]
        got = [(index, row.descriptor, row.family if isinstance(row.family, str) else None, row.words,
                row.begin, row.end, step(row.strength_low), step(row.strength_high),
                row.state if isinstance(row.state, str) else None, row.phase, row.stance, row.when,
                row.frame, row.respelled, row.aside)
               for index, row in zip(table.index, table.itertuples(index=False))]
        self.assertEqual(got, rows)
        self.assertGreater(len(rows), 400)
        plain = notes.aromas(words=False)
        self.assertNotIn("words", plain)
        self.assertEqual(len(plain), sum(len(note.aromas) for note in notes if note))

    def test_structure_is_that_of_the_notes(self):
        notes = READER.read_many(MIXED)
        rows = [(number, dimension, level.range and level.range.low, level.range and level.range.high,
                 level.label, level.conflict, ", ".join(level.traits) or None, len(level.readings))
                for number, note in enumerate(notes) if note
                for dimension in racking.Dimension
                if (level := note.structure[dimension]).stated]
        table = notes.structure()
        got = [(index, row.dimension, step(row.low), step(row.high),
                row.label if isinstance(row.label, str) else None, row.conflict,
                row.traits if isinstance(row.traits, str) else None, row.readings)
               for index, row in zip(table.index, table.itertuples(index=False))]
        self.assertEqual(got, rows)
        self.assertGreater(len(rows), 200)

    def test_a_row_a_note(self):
        notes = READER.read_many(MIXED)
        table = notes.table(tidy=True, families=True)
        self.assertEqual(len(table), len(MIXED))
        for number, note in enumerate(notes):
            row = table.iloc[number]
            if note is None:
                self.assertTrue(row.isna().all(), row)
                continue
            for dimension in racking.Dimension:
                range = note.structure[dimension].range
                self.assertEqual(step(row[f"{dimension}_low"]), range and range.low)
                self.assertEqual(step(row[f"{dimension}_high"]), range and range.high)
            self.assertEqual(row["verdict"], note.condition.verdict)
            self.assertEqual(row["aromas"], len(note.aromas))
            self.assertEqual(row["unmapped"], len(note.unmapped))
            self.assertEqual(row["remarks"], len(note.remarks))
            self.assertEqual(row["coverage"], note.coverage)
            self.assertEqual(row["language"], note.language)
            self.assertEqual(row["tidy"], note.tidy())
            stage = note.maturity.stage or (None, None)
            for end, value in zip(("from", "to"), stage):
                got = row[f"stage_{end}"]
                self.assertEqual(got if isinstance(got, str) else None, value)
            colour = row["wine_colour"]
            self.assertEqual(colour if isinstance(colour, str) else None, note.wine.colour)
            for family in READER.lexicon.families:
                found = [aroma for aroma in note.aromas
                         if aroma.family == family and aroma.stance != "denied"]
                self.assertEqual(row[family.id], len(found))
            faults = {fault.fault.value for fault in note.condition.faults}
            said = row["faults"] if isinstance(row["faults"], str) else ""
            self.assertEqual({part.removeprefix("perhaps ").removeprefix("no ")
                              for part in said.split(", ") if part}, faults)

    def test_kinds_of_columns(self):
        notes = READER.read_many(TEXTS)
        table = notes.table()
        self.assertEqual(str(table["tannin_low"].dtype), "Int8")
        self.assertEqual(str(table["verdict"].dtype), "category")
        self.assertTrue(table["stage_from"].cat.ordered)
        self.assertGreater(table["stage_to"].max(), "early")
        self.assertEqual(str(notes.aromas()["descriptor"].dtype), "category")
        # Partitions of any notes have the same categories, so that they join without loss.
        for name in ("descriptor", "family", "phase"):
            a = READER.read_many(["Plum."]).aromas()[name]
            b = READER.read_many(["Lemon peel, 13%."]).aromas()[name]
            self.assertEqual(str(pandas.concat([a, b]).dtype), "category")

    def test_tables_can_be_changed(self):
        notes = READER.read_many(["Grippy.", "Plum."])
        for table in (notes.table(), notes.aromas(), notes.structure()):
            for name in table.columns:
                table.loc[table.index[0], name] = table[name].iloc[0]
            table["mine"] = 1
        table = notes.table()
        table.loc[0, "tannin_low"] = 1
        self.assertEqual(notes.table().loc[0, "tannin_low"], 4)

    def test_no_notes(self):
        for empty in ([], [None, None], pandas.Series([], dtype=object), iter(())):
            notes = READER.read_many(empty)
            for table in (notes.table(tidy=True, families=True), notes.aromas(), notes.structure()):
                self.assertEqual(len(table), len(notes) if "verdict" in table else 0)
            self.assertEqual(notes.to_jsonl(), "")


class Inputs(unittest.TestCase):
    WORDS = ["Plum, firm tannin.", None, "Lemon.", "Crème brûlée."]

    def test_anything_that_iterates(self):
        expected = READER.read_many(self.WORDS)
        full = READER.read_many(["Plum.", "Lemon."])
        nan = float("nan")
        for texts in (tuple(self.WORDS), iter(self.WORDS), (text for text in self.WORDS),
                      numpy.array(self.WORDS, dtype=object),
                      ["Plum, firm tannin.", nan, "Lemon.", "Crème brûlée."],
                      ["Plum, firm tannin.", pandas.NA, "Lemon.", "Crème brûlée."],
                      ["Plum, firm tannin.", pandas.NaT, "Lemon.", "Crème brûlée."],
                      ["Plum, firm tannin.", numpy.float32("nan"), "Lemon.", "Crème brûlée."],
                      ["Plum, firm tannin.", numpy.float64("nan"), "Lemon.", "Crème brûlée."],
                      numpy.ma.array(["Plum, firm tannin.", "x", "Lemon.", "Crème brûlée."],
                                     mask=[0, 1, 0, 0], dtype=object)):
            self.assertEqual(READER.read_many(texts), expected)
        self.assertEqual(READER.read_many(numpy.array(["Plum.", "Lemon."])), full)
        self.assertEqual(READER.read_many({"Plum.": 1, "Lemon.": 2}), full)

    def test_series_keep_their_index(self):
        labels = ["b", "a", "a", "c"]
        for dtype in (object, "string", "category"):
            series = pandas.Series(self.WORDS, index=labels, dtype=dtype)
            notes = READER.read_many(series)
            self.assertEqual(notes.texts, self.WORDS)
            self.assertEqual(list(notes.table().index), labels)
            self.assertEqual(list(notes.aromas().index)[:2], ["b", "a"])
            self.assertEqual(list(notes.structure().index), ["b"])
            self.assertEqual(series.racking.read(), notes)
            self.assertEqual(series.racking.read(READER, jobs=1).reader, READER)
            again = pickle.loads(pickle.dumps(notes))
            self.assertEqual(again, notes)
            self.assertTrue(again.index.equals(notes.index))
        many = pandas.MultiIndex.from_product([["x", "y"], [1, 2]])
        notes = READER.read_many(pandas.Series(self.WORDS, index=many))
        self.assertEqual(list(notes.table().index), list(many))
        self.assertEqual(list(notes[2:].table().index), list(many[2:]))

    def test_the_word_nan_is_a_word(self):
        notes = READER.read_many(pandas.Series(["nan", numpy.nan, "NaN", "None"]))
        self.assertEqual(notes.texts, ["nan", None, "NaN", "None"])

    def test_bytes_and_tables_are_refused(self):
        with self.assertRaises(racking.WrongType):
            READER.read_many(numpy.array([b"Plum."]))
        with self.assertRaises(racking.WrongType):
            READER.read_many(pandas.DataFrame({"note": ["Plum."]}))
        with self.assertRaises(racking.WrongType):
            READER.read_many(numpy.array([["Plum."]]))

    def test_threads_change_nothing(self):
        texts = (MIXED * 3)[:2000]
        one = READER.read_many(texts, jobs=1)
        four = READER.read_many(texts, jobs=4)
        pandas.testing.assert_frame_equal(one.table(), four.table())
        pandas.testing.assert_frame_equal(one.aromas(True), four.aromas(True))
        pandas.testing.assert_frame_equal(one.structure(), four.structure())
        self.assertEqual(one.to_jsonl(), four.to_jsonl())

    def test_progress(self):
        told = []
        READER.read_many(["Plum."] * 40000, progress=lambda done, of: told.append((done, of)))
        self.assertEqual(told, [(16384, 40000), (32768, 40000), (40000, 40000)])
        told.clear()
        READER.read_many(iter(["Plum."]), progress=lambda done, of: told.append((done, of)))
        self.assertEqual(told, [(1, None)])


class Sequence(unittest.TestCase):
    def test_slices_have_the_tables_of_their_notes(self):
        notes = READER.read_many(MIXED)
        choose = random.Random(7)
        for _ in range(20):
            begin, end = choose.randrange(-300, 300), choose.randrange(-300, 300)
            part = slice(begin, end, choose.choice([None, 1, 2, -1, -3]))
            sliced, fresh = notes[part], READER.read_many(MIXED[part])
            self.assertEqual(sliced, fresh)
            pandas.testing.assert_frame_equal(sliced.table(), fresh.table())
            pandas.testing.assert_frame_equal(sliced.aromas(True), fresh.aromas(True))
            pandas.testing.assert_frame_equal(sliced.structure(), fresh.structure())

    def test_it_is_a_sequence(self):
        notes = READER.read_many(["Plum.", None, README])
        self.assertEqual(notes[-1], READER.read(README))
        self.assertIn(READER.read("Plum."), notes)
        self.assertEqual(notes.index, None)
        self.assertEqual(list(reversed(notes))[0].text, README)
        self.assertEqual(notes.count(None), 1)
        self.assertEqual(repr(notes), "<racking.Notes: 3 notes, 1 missing>")

    def test_records_to_a_file(self):
        notes = READER.read_many(pandas.Series(["Plum.", None, "Lemon."], index=[7, 8, 9]))
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder, "notes.jsonl")
            self.assertIsNone(notes.to_jsonl(path))
            self.assertEqual(path.read_text(), "".join(
                READER.read(text).to_json(id=id) + "\n" for id, text in (("7", "Plum."), ("9", "Lemon."))))
            self.assertEqual(os.listdir(folder), ["notes.jsonl"])
            with self.assertRaises(racking.BadArgument):
                notes.to_jsonl(path, depth="deep")
            self.assertEqual(os.listdir(folder), ["notes.jsonl"])
            self.assertIn('"7"', path.read_text())     # as it was
            with self.assertRaises(OSError):
                notes.to_jsonl(pathlib.Path(folder, "none", "notes.jsonl"))


if __name__ == "__main__":
    unittest.main()
