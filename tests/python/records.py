"""Records from Python are those of note_cleanup, byte for byte; spans cut out what they name."""
import json
import subprocess
import unittest

from _load import ODD, PROGRAM, corpus, demo
import racking
from racking import Span

READER = racking.Reader()
TEXTS = corpus()


def records_of_program(texts, *options):
    given = "".join(json.dumps({"id": f"n{number}", "text": text}) + "\n"
                    for number, text in enumerate(texts))
    done = subprocess.run([PROGRAM, "--from", "jsonl", *options], input=given.encode(),
                          capture_output=True, timeout=300, check=True)
    return done.stdout.decode().splitlines()


def slices(note):
    """Every (words, span, span in bytes) of a note."""
    records = [*note.statements, *note.aromas, *note.aside_aromas, *note.readings,
               *note.aside_readings, *note.traits, *note.aside_traits, *note.sight,
               *note.aside_sight, *note.quantities, *note.names, *note.unmapped,
               *note.maturity.evidence]
    for record in records:
        yield record.text, record.span, record.span_bytes
        for cue in getattr(record, "cues", ()):
            yield cue.text, cue.span, cue.span_bytes
    for fault in note.condition.faults + note.aside_faults:
        yield from zip(fault.texts, fault.spans, fault.spans_bytes)


class Records(unittest.TestCase):
    def compare(self, texts, depth, offsets, *options):
        expected = records_of_program(texts, "--offsets", offsets, *options)
        self.assertEqual(len(expected), len(texts))
        for number, (text, line) in enumerate(zip(texts, expected)):
            note = READER.read(text)
            self.assertEqual(note.to_json(depth, offsets, id=f"n{number}"), line)
        ids = [f"n{number}" for number in range(len(texts))]
        lines = READER.read_many(texts).to_jsonl(depth=depth, offsets=offsets, ids=ids)
        self.assertEqual(lines.splitlines(), expected)

    def test_full_records_are_those_of_the_program(self):
        self.compare(TEXTS, "full", "codepoint")

    def test_plain_records_in_every_unit(self):
        texts = TEXTS[::5] + [text for text in ODD if text.isprintable()]
        for offsets in ("codepoint", "byte", "utf16"):
            self.compare(texts, "plain", offsets, "--plain")

    def test_no_id_and_no_tidy(self):
        record = json.loads(READER.read(TEXTS[0]).to_json(tidy=False))
        self.assertIsNone(record["id"])
        self.assertNotIn("tidy", record)

    def test_fields_say_what_the_record_says(self):
        for text in TEXTS + ODD + demo():
            note = READER.read(text)
            record = json.loads(note.to_json())
            self.assertEqual(record["text"], text)
            self.assertEqual(
                [(aroma["descriptor"], aroma["span"], aroma["text"], aroma["stance"], aroma["state"],
                  aroma["strength"], aroma["family"]) for aroma in record["aromas"]],
                [(aroma.descriptor.id, list(aroma.span), aroma.text, aroma.stance,
                  list(aroma.state), aroma.strength and list(aroma.strength),
                  aroma.family and aroma.family.id) for aroma in note.aromas])
            for dimension in racking.Dimension:
                level = note.structure[dimension]
                written = (record["expression"] if dimension == "expression"
                           else record["structure"][dimension])
                self.assertEqual(level.stated, written is not None)
                if written is not None:
                    self.assertEqual(written["range"], level.range and list(level.range))
                    self.assertEqual(written["label"], level.label)
                    self.assertEqual(written["traits"], list(level.traits))
                    self.assertEqual([list(one.span) for one in level.readings],
                                     [one["span"] for one in written["readings"]])
            self.assertEqual(record["condition"]["verdict"], note.condition.verdict)
            self.assertEqual(record["unmapped"], [{"span": list(one.span), "text": one.text}
                                                  for one in note.unmapped])
            self.assertEqual(record["maturity"]["stage"], note.maturity.stage and list(note.maturity.stage))
            self.assertEqual(record["tidy"], note.tidy())
            self.assertAlmostEqual(record["coverage"], note.coverage, delta=0.001)

    def test_spans_cut_out_their_words(self):
        seen = 0
        for text in TEXTS + ODD + demo():
            note = READER.read(text)
            data = text.encode()
            for words, span, in_bytes in slices(note):
                self.assertIsInstance(span, Span)
                self.assertEqual(text[span.slice], words)
                self.assertEqual(data[in_bytes.slice].decode(), words)
                seen += 1
        self.assertGreater(seen, 2000)

    def test_statements_tile(self):
        for text in TEXTS:
            end = 0
            for statement in READER.read(text).statements:
                self.assertGreaterEqual(statement.span.begin, end)
                between = text[end:statement.span.begin]
                self.assertFalse(any(c.isalnum() for c in between), between)
                end = statement.span.end
            self.assertFalse(any(c.isalnum() for c in text[end:]))


class Vocabulary(unittest.TestCase):
    def test_members_are_those_of_the_library(self):
        for name, ids in racking._racking.closed_lists().items():
            self.assertEqual([member.value for member in getattr(racking, name)], list(ids), name)

    def test_every_public_name_of_c_is_here(self):
        """But for options, which are keywords, and handles into a note's pools."""
        import re
        from _load import SOURCE
        headers = "".join((SOURCE / "include/racking" / name).read_text() for name in (
            "error.hpp", "hierarchy.hpp", "lexicon.hpp", "measures.hpp", "note.hpp", "reader.hpp", "span.hpp",
            "version.hpp", "vocabulary.hpp"))
        names = set(re.findall(r"^(?:enum class|struct|class)(?: RACKING_EXPORT)? (\w+)\b[^;{]*{",
                               headers, re.M))
        self.assertGreater(len(names), 35)
        missing = names - set(racking.__all__)
        self.assertEqual(missing, {"ReaderOptions", "JsonOptions", "Slice"})


if __name__ == "__main__":
    unittest.main()
