"""Every common encoding. The outside check is Python's own codecs, which are generated from the
mapping tables of the Unicode Consortium."""
import codecs
import unittest

from _run import Case, run

PLAIN = "Crème brûlée, Gewürz, señor, façade, Œuf – “lychee” €9. Long finish, crisp acidity.\n"
LATIN = "Crème brûlée, pêche mûre, señor, façade. Très long, gelée de coing, citron confit.\n"


class Encodings(Case):
    def read(self, content, *arguments):
        done = run("--from", "lines", "--format", "jsonl", "--summary", *arguments, given=content)
        self.assertEqual(done.returncode, 0, done.stderr)
        return self.texts("--from", "lines", *arguments, given=content), done.stderr.decode()

    def test_found_out(self):
        for encoding, mark, text, named in [
                ("utf-8", b"", PLAIN, "UTF-8"), ("utf-8", codecs.BOM_UTF8, PLAIN, "UTF-8 with a byte order mark"),
                ("utf-16-le", codecs.BOM_UTF16_LE, PLAIN, "UTF-16LE with a byte order mark"),
                ("utf-16-be", codecs.BOM_UTF16_BE, PLAIN, "UTF-16BE with a byte order mark"),
                ("utf-32-le", codecs.BOM_UTF32_LE, PLAIN, "UTF-32LE with a byte order mark"),
                ("utf-16-le", b"", PLAIN, "UTF-16LE"), ("utf-16-be", b"", PLAIN, "UTF-16BE"),
                ("cp1252", b"", PLAIN, "Windows-1252"), ("latin-1", b"", LATIN, "ISO-8859-1"),
                ("ascii", b"", "Plum and fig.\n", "ASCII")]:
            with self.subTest(encoding=encoding, mark=mark):
                texts, summary = self.read(mark + (text * 3).encode(encoding))
                self.assertEqual(texts, [text.strip()] * 3)
                self.assertIn(f", {named};", summary)

    def test_as_asked(self):
        for encoding in ("cp1252", "cp850", "mac_roman", "iso8859_15", "utf-16", "utf-16-be", "koi8-r"):
            text = "Крепкий чай" if encoding == "koi8-r" else "Crème brûlée, façade"
            name = {"cp1252": "windows-1252", "mac_roman": "macintosh", "iso8859_15": "ISO-8859-15"}.get(encoding, encoding)
            with self.subTest(encoding=encoding):
                texts, summary = self.read(text.encode(encoding), "--encoding", name)
                self.assertEqual(texts, [text])
                self.assertIn("(as asked)", summary)

    def test_unknown_name_is_wrong_usage(self):
        self.assertEqual(run("--encoding", "klingon", given=b"Plum").returncode, 2)

    def test_every_letter_of_windows_1252(self):
        letters = [bytes([byte]).decode("cp1252") for byte in range(0x80, 0x100)
                   if byte not in (0x81, 0x8D, 0x8F, 0x90, 0x9D)]
        text = "Plum " + "".join(letters)
        self.assertEqual(self.texts("--from", "lines", "--encoding", "windows-1252", given=text.encode("cp1252")), [text])

    def test_a_letter_far_down_and_over_chunk_ends(self):
        filler = "Plum and fig, long.\n" * 120_000  # more than two chunks and a window of ASCII
        for encoding in ("utf-8", "cp1252", "utf-16"):
            for shift in range(4):
                content = ("x" * shift + filler + "Crème “brûlée” é\n" * 3).encode(encoding)
                with self.subTest(encoding=encoding, shift=shift):
                    done = run("--from", "lines", "--format", "tidy", "--summary", given=content)
                    self.assertIn(b"120003 notes read", done.stderr)
        texts = self.texts("--from", "lines", "--plain", given=
                           ("y" * 262_143 + " Crème 🍇\n" + "é🍇" * 70_000).encode("utf-16"))
        self.assertEqual(texts, ["y" * 262_143 + " Crème 🍇", "é🍇" * 70_000])

    def test_utf8_with_a_few_broken_bytes_stays_utf8(self):
        content = (PLAIN * 5).encode() + b"Plum \xe9 fig\n"
        texts, summary = self.read(content)
        self.assertIn(", UTF-8;", summary)
        self.assertEqual(texts[-1], "Plum \ufffd fig")
        self.assertTrue(self.records("--from", "lines", given=content)[-1]["problems"])

    def test_a_code_page_is_a_problem_of_the_rows_it_changed(self):
        records = self.records("--from", "lines", given="Plum.\nCrème brûlée – “fig”.\n".encode("cp1252"))
        self.assertEqual(records[0]["problems"], [])
        self.assertEqual([p["code"] for p in records[1]["problems"]], ["decoded"])
        self.assertIn("Windows-1252", records[1]["problems"][0]["message"])

    def test_cut_off_and_lone_surrogates(self):
        self.assertEqual(self.texts("--from", "lines", given=codecs.BOM_UTF16_LE + "Plum é".encode("utf-16-le") + b"\x41"),
                         ["Plum é\ufffd"])
        lone = codecs.BOM_UTF16_LE + "Fig ".encode("utf-16-le") + b"\x3d\xd8" + " x".encode("utf-16-le")
        self.assertEqual(self.texts("--from", "lines", given=lone), ["Fig \ufffd x"])


if __name__ == "__main__":
    unittest.main()
