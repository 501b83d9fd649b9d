"""Value semantics: equality, hashing, pickles, copies; threads; errors."""
import copy
import gc
import pathlib
import pickle
import subprocess
import sys
import tempfile
import threading
import unittest
import weakref

from _load import ENVIRONMENT, README, SOURCE, corpus
import racking

READER = racking.Reader()
NOTE = READER.read(README)
WORDS = '[[descriptor]]\nid = "zorbleberry"\nparents = ["hedgerow"]\nforms = ["zorbleberry"]\n'
OVERLAY = racking.Overlay.parse(WORDS, "mine.toml")
MINE = racking.Reader(READER.lexicon.overlaid(OVERLAY))
VALUES = [
    READER, MINE, READER.lexicon, MINE.lexicon, OVERLAY, NOTE, MINE.read("zorbleberry, firm tannin"),
    NOTE.aromas, NOTE.structure, NOTE.condition, NOTE.maturity, NOTE.sight, NOTE.wine,
    NOTE.aromas[0].descriptor, MINE.lexicon.find("zorbleberry"), racking.Note(),
    READER.read_many(["Plum.", None, "Grippy, 13% vol."]), racking.Stance.hedged,
]


class Values(unittest.TestCase):
    def test_pickles_of_every_protocol_are_equal(self):
        for value in VALUES:
            for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
                again = pickle.loads(pickle.dumps(value, protocol))
                self.assertEqual(again, value)
                self.assertIs(type(again), type(value))
                self.assertEqual(hash(again), hash(value))

    def test_copies_are_equal(self):
        for value in VALUES:
            self.assertEqual(copy.copy(value), value)
            self.assertEqual(copy.deepcopy(value), value)

    def test_equality_is_of_content(self):
        self.assertEqual(READER, racking.Reader())
        self.assertEqual(NOTE, racking.Reader().read(README))
        self.assertNotEqual(NOTE, READER.read(README + " "))
        self.assertNotEqual(NOTE, MINE.read(README))       # another lexicon, another reading
        self.assertNotEqual(READER, MINE)
        self.assertNotEqual(READER, racking.Reader(size_limit=9))
        self.assertNotEqual(READER, racking.Reader(tasting_year=2026))
        self.assertNotEqual(NOTE, racking.Reader(tasting_year=2026).read(README))
        self.assertNotEqual(NOTE, README)
        self.assertFalse(NOTE == None)                     # noqa: E711
        self.assertEqual(len({NOTE, racking.Reader().read(README)}), 1)
        self.assertEqual(len({READER.lexicon, racking.Lexicon.house(), MINE.lexicon}), 2)

    def test_a_vintage_speaks_where_the_year_of_tasting_is_known(self):
        text = "Brown rim, leather, truffle, prune. A red of vintage 2025."
        told = racking.Reader(tasting_year=2026)
        self.assertEqual(told.tasting_year, 2026)
        self.assertIsNone(READER.tasting_year)
        ids = lambda reader: [remark.id for remark in reader.read(text).remarks]
        self.assertIn("older-than-stated", ids(told))
        self.assertNotIn("older-than-stated", ids(READER))
        note = told.read(text)
        self.assertEqual(pickle.loads(pickle.dumps(note)).to_json(), note.to_json())
        self.assertEqual(pickle.loads(pickle.dumps(told)), told)

    def test_a_note_pickles_small_and_a_reader_whole(self):
        self.assertLess(len(pickle.dumps(NOTE)), 500)
        self.assertGreater(len(pickle.dumps(READER)), 100_000)

    def test_a_pickle_of_another_house_lexicon_is_refused(self):
        digest = READER.lexicon.digest.encode()
        other = pickle.dumps(NOTE).replace(digest, b"0" * len(digest))
        with self.assertRaisesRegex(racking.LexiconCorrupt, "0000000000000000"):
            pickle.loads(other)

    def test_pickles_cross_processes(self):
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder, "values")
            file.write_bytes(pickle.dumps((MINE, NOTE, MINE.read("zorbleberry"))))
            code = ("import pickle, sys; reader, note, mine = pickle.load(open(sys.argv[1], 'rb'));"
                    "print(note.structure.tannin.label, reader.read(mine.text) == mine, "
                    "mine.aromas[0].descriptor.id)")
            done = subprocess.run([sys.executable, "-c", code, str(file)], env=ENVIRONMENT,
                                  capture_output=True, text=True, check=True)
        self.assertEqual(done.stdout, "firm to gripping True zorbleberry\n")

    def test_records_are_immutable_and_shown(self):
        with self.assertRaises(AttributeError):
            NOTE.aromas[0].text = "cherry"
        with self.assertRaises(AttributeError):
            NOTE.text = "cherry"
        self.assertIn("Interval(low=4, high=5)", repr(NOTE.structure))
        self.assertIs(NOTE.aromas, NOTE.aromas)            # made once

    def test_fields_outlive_their_note_and_reader(self):
        aroma = racking.Reader().read("Cassis.").aromas[0]
        gc.collect()
        self.assertEqual(aroma.descriptor.family.path[0].id, "hedgerow")
        self.assertEqual(aroma.descriptor.lexicon.name, "house")

    def test_the_lexicon_of_a_reader_is_one_object(self):
        self.assertIs(NOTE.lexicon, READER.lexicon)

    def test_nothing_leaks(self):
        import resource
        texts = corpus()[:100]

        def read_all():
            for text in texts:
                note = READER.read(text)
                note.aromas, note.structure, note.condition, note.to_json(), repr(note)

        for _ in range(3):
            read_all()
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        for _ in range(30):
            read_all()
        self.assertLess(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before, 4096)   # KB


class Threads(unittest.TestCase):
    def test_one_reader_serves_many_threads(self):
        texts = corpus()[:150]
        expected = [READER.read(text).to_json() for text in texts]
        wrong = []

        def read():
            for text, record in zip(texts, expected):
                note = READER.read(text)
                if note.to_json() != record or note.aromas != READER.read(text).aromas:
                    wrong.append(text)
            if READER.read_many(texts, jobs=2).to_jsonl().count("\n") != len(texts):
                wrong.append("batch")

        threads = [threading.Thread(target=read) for _ in range(6)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(wrong, [])

    def test_others_run_while_a_batch_is_read(self):
        """With the GIL held all through, the other thread would not get a word in."""
        texts = ["Plum, firm tannin, long finish. " * 40] * 2000
        counted = [0]
        done = threading.Event()

        def count():
            while not done.wait(0.001):
                counted[0] += 1

        other = threading.Thread(target=count)
        other.start()
        READER.read_many(texts, jobs=1)
        done.set()
        other.join()
        self.assertGreater(counted[0], 5)

    def test_a_long_note_gives_up_the_lock(self):
        text = "Plum, firm tannin, long finish. " * 60000
        counted = [0]
        done = threading.Event()

        def count():
            while not done.wait(0.0005):
                counted[0] += 1

        other = threading.Thread(target=count)
        other.start()
        READER.read(text)
        done.set()
        other.join()
        self.assertGreater(counted[0], 5)


class Errors(unittest.TestCase):
    def raises(self, kind, call, *arguments, **keywords):
        with self.assertRaises(kind) as caught:
            call(*arguments, **keywords)
        self.assertIsInstance(caught.exception, racking.Error)
        again = pickle.loads(pickle.dumps(caught.exception))
        self.assertEqual((str(again), again.position, again.row, again.problems),
                         (str(caught.exception), caught.exception.position, caught.exception.row,
                          caught.exception.problems))
        return caught.exception

    def test_wrong_types(self):
        for wrong in (None, 7, 7.5, b"Plum.", ["Plum."], object()):
            self.raises(racking.WrongType, READER.read, wrong)
            self.raises(TypeError, racking.Lexicon.from_blob, wrong if wrong != b"Plum." else "")
        self.raises(racking.WrongType, racking.Reader, "house")
        self.raises(racking.WrongType, racking.Reader, size_limit="9")
        self.raises(racking.WrongType, racking.Lexicon.load, 7)
        self.raises(racking.WrongType, READER.lexicon.find, 7)
        self.raises(racking.WrongType, READER.lexicon.overlaid, "mine.toml")
        self.raises(racking.WrongType, racking.Overlay.parse, 7)
        self.raises(racking.WrongType, READER.lexicon.similarity, "plum", "cherry")
        self.raises(racking.WrongType, racking.check_examples, "/tmp", 7)
        self.raises(racking.WrongType, NOTE.to_json, id=7)
        self.raises(racking.WrongType, NOTE.to_json, 7)
        self.raises(racking.WrongType, racking.Note.label, "tannin", 4)
        self.raises(racking.WrongType, racking.step_label, "tannin", "4")
        self.raises(racking.WrongType, racking.wu_palmer, 1, 2, 3)
        self.raises(racking.WrongType, READER.read_many, "Plum.")
        self.raises(racking.WrongType, READER.read_many, 7)
        self.raises(racking.WrongType, READER.read_many, ["Plum."], jobs="2")

    def test_wrong_values(self):
        self.raises(racking.BadArgument, NOTE.to_json, "deep")
        self.raises(racking.BadArgument, NOTE.to_json, offsets="words")
        self.raises(racking.BadArgument, racking.Note.label, "grip", (1, 2))
        for pair in ((0, 1), (3, 2), (5, 6)):
            self.raises(racking.BadArgument, racking.Note.label, "tannin", pair)
        self.raises(ValueError, racking.step_label, "tannin", 6)
        for limit in (-1, 2**31, 2**80):
            self.raises(racking.BadArgument, racking.Reader, size_limit=limit)
        for year in (0, 10_000, 2**80):
            self.raises(racking.BadArgument, racking.Reader, tasting_year=year)
        self.raises(racking.WrongType, racking.Reader, tasting_year="2026")
        self.raises(racking.BadArgument, READER.read_many, ["Plum."], jobs=0)
        self.raises(racking.BadArgument, READER.read_many(["Plum."]).to_jsonl, ids=["a", "b"])
        self.raises(racking.BadArgument, racking.wu_palmer, 1, 2, {1: [2], 2: [1]}.get)
        self.raises(racking.BadArgument, MINE.lexicon.similarity,
                    READER.lexicon.find("plum"), READER.lexicon.find("cherry"))

    def test_surrogates_have_a_position(self):
        for text, position in (("\ud800", 0), ("Plüm 🍒 \udfff", 7), ("plum\udc80", 4)):
            error = self.raises(racking.TextIllFormed, READER.read, text)
            self.assertEqual((error.position, error.row), (position, None))
            error = self.raises(racking.TextIllFormed, READER.read_many, ["Plum.", None, text])
            self.assertEqual((error.position, error.row), (position, 2))
            self.assertIn("row 2", str(error))

    def test_oversize_has_a_position(self):
        small = racking.Reader(size_limit=8)
        error = self.raises(racking.TextTooLarge, small.read, "Crème brûlée")
        self.assertEqual(error.code, racking.ErrorCode.text_too_large)
        self.assertEqual(error.position, 7)
        self.assertEqual("Crème brûlée"[:7].encode(), b"Cr\xc3\xa8me b")
        error = self.raises(racking.TextTooLarge, small.read_many, ["Plum.", "Blackcurrant"])
        self.assertEqual((error.row, error.position), (1, 8))
        self.assertEqual(small.read("Cherries").text, "Cherries")

    def test_a_row_of_another_type_is_named(self):
        error = self.raises(racking.WrongType, READER.read_many, ["Plum."] * 20000 + [7])
        self.assertEqual(error.row, 20000)

    def test_lexicons(self):
        error = self.raises(racking.LexiconUnreadable, racking.Lexicon.load, "/nowhere/at/all")
        self.assertEqual(error.code, racking.ErrorCode.lexicon_unreadable)
        self.raises(racking.LexiconCorrupt, racking.Lexicon.from_blob, b"")
        blob = bytearray(READER.lexicon.to_blob())
        blob[len(blob) // 2] ^= 1
        self.raises(racking.LexiconCorrupt, racking.Lexicon.from_blob, bytes(blob))
        error = self.raises(racking.LexiconInvalid, racking.Overlay.parse, "\n[[descriptor]]\nid = 7", "m.toml")
        self.assertEqual(error.source, "m.toml")
        self.assertGreater(error.line, 1)
        self.assertTrue(error.problems)
        self.assertTrue(str(error).startswith("m.toml:"))
        overlay = racking.Overlay.parse(WORDS.replace("hedgerow", "no-such-family"))
        self.assertTrue(self.raises(racking.LexiconError, READER.lexicon.overlaid, overlay).problems)

    def test_sequences(self):
        notes = READER.read_many(["Plum."])
        self.raises(IndexError, notes.__getitem__, 1)
        self.raises(TypeError, notes.__getitem__, "a")

    def test_the_house_lexicon_loads_from_its_folder(self):
        self.assertEqual(racking.Lexicon.load(SOURCE / "lexicon").name, "house")


if __name__ == "__main__":
    unittest.main()
