"""Why readings were read so: every kind of reading, spans in code points, what is no reading."""
import unittest

from _load import corpus
import racking

READER = racking.Reader()


def readings(note):
    """Every reading of a note, and its unmapped words."""
    return [*note.aromas, *note.aside_aromas, *note.readings, *note.aside_readings, *note.traits,
            *note.aside_traits, *note.sight, *note.aside_sight, *note.quantities, *note.names,
            *note.condition.faults, *note.aside_faults, *note.unmapped]


class Explanations(unittest.TestCase):
    def test_each_kind(self):
        note = READER.read("Pâle lemon with a brick rim; crisp, balanced, no oak, 13% vol. Not corked. "
                           "Merlot, zorbly.")
        said = {type(one).__name__: note.explain(one) for one in readings(note)}
        self.assertEqual(set(said), {"Aroma", "Reading", "Trait", "Sight", "Quantity", "Name",
                                     "FaultReading", "Unmapped"})
        for why in said.values():
            self.assertIsInstance(why, racking.Explanation)
            for reason in why.reasons:
                self.assertIsInstance(reason, racking.Reason)
                self.assertEqual(note.text[reason.span.slice], reason.text)
                self.assertEqual(note.text.encode()[reason.span_bytes.slice].decode(), reason.text)
                self.assertIn(reason.because, why.text)
        [stance] = [one for one in said["Aroma"].reasons if one.what == "stance"]
        self.assertEqual((stance.rule, stance.text), ("negation.no", "no"))
        self.assertEqual(stance.because, "Denied: ‘no’ denies what follows.")

    def test_the_corpus(self):
        for text in corpus()[::7]:
            note = READER.read(text)
            for one in readings(note):
                self.assertTrue(note.explain(one).text)

    def test_equal_readings_and_strangers(self):
        note, again, other = (READER.read(text) for text in ("Plum.", "Plum.", "Tar, pear."))
        self.assertEqual(note.explain(again.aromas[0]), note.explain(note.aromas[0]))
        with self.assertRaises(racking.BadArgument):
            note.explain(other.aromas[1])
        for stranger in (None, "plum", note.structure, note):
            with self.assertRaises(racking.WrongType):
                note.explain(stranger)

    def test_records(self):
        note = READER.read("Plum, no oak.")
        self.assertNotIn("explanation", note.to_json())
        self.assertIn("Denied: ‘no’ denies what follows.", note.to_json(explain=True))


if __name__ == "__main__":
    unittest.main()
