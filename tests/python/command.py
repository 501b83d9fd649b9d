"""python -m racking gives what note_cleanup gives, for the common case."""
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

from _load import ENVIRONMENT, NOTES, PROGRAM, ODD, corpus


def run(command, *arguments, given=b""):
    return subprocess.run([*command, *map(str, arguments)], input=given, capture_output=True,
                          timeout=300, env=ENVIRONMENT)


def ours(*arguments, given=b""):
    return run([sys.executable, "-m", "racking"], *arguments, given=given)


def theirs(*arguments, given=b""):
    return run([PROGRAM], *arguments, given=given)


class Command(unittest.TestCase):
    def same(self, *arguments, given=b"", code=0):
        mine, expected = ours(*arguments, given=given), theirs(*arguments, given=given)
        self.assertEqual(mine.stdout.decode(), expected.stdout.decode())
        self.assertEqual((mine.returncode, expected.returncode), (code, code), mine.stderr.decode())
        return mine

    def test_the_demo_notes(self):
        for name in ("cooperative-bench.csv", "judge.csv", "students.txt"):
            for kind in ("jsonl", "csv", "tidy"):
                self.same("--format", kind, NOTES / name)
        self.same("--plain", "--offsets", "utf16", "--jobs", 2, NOTES / "students.txt")

    def test_several_files_and_standard_input(self):
        self.same(NOTES / "judge.csv", NOTES / "students.txt")
        self.same(given="Plum.\n\nLemon, très frais.\n".encode())
        self.same("-", "--from", "lines", given=b"Plum.\r\nLemon.\r\n")
        self.same("--from", "paragraphs", given=b"Plum\nand cherry.\n\n\nLemon.")
        self.same(given=b"")

    def test_the_corpus_as_lines(self):
        text = "\n".join(line for line in corpus() if line.isprintable())
        self.same("--from", "lines", given=text.encode())

    def test_tables(self):
        self.same(given=b'id;note\n7;"Plum; firm tannin"\n8;"say ""oak"""\n')
        self.same("--from", "csv", "--column", "what", "--id-column", "who", given=b"who,what,x\nA,Plum.,1\nB,Lemon.,2\n")
        self.same(given=b'{"id": 7, "text": "Plum."}\n{"id": null, "text": "Lemon."}\n')
        self.same("--from", "tsv", given="id\tnote\n1\tCrème brûlée\n".encode())

    def test_code_pages(self):
        given = "Crème brûlée, très frais, fruité et élégant.".encode("cp1252")
        done = ours("--format", "tidy", given=given)
        self.assertEqual(done.returncode, 0)
        self.assertEqual(done.stdout, theirs("--format", "tidy", given=given).stdout)
        given = "Plum, crème.".encode("utf-16")
        self.assertEqual(ours("--plain", given=given).stdout, theirs("--plain", given=given).stdout)

    def test_own_words(self):
        with tempfile.TemporaryDirectory() as folder:
            pathlib.Path(folder, "mine.toml").write_text(
                '[[descriptor]]\nid = "zorbleberry"\nparents = ["hedgerow"]\nforms = ["zorbleberry"]\n')
            self.same("--lexicon", folder, given=b"Ripe zorbleberry.")

    def test_rows_that_cannot_be_read(self):
        done = ours(given=b'{"text": "Plum."}\n{"text": 7}\n{"text": "\\ud800"}\n')
        self.assertEqual(done.returncode, 1)
        self.assertEqual(done.stdout.count(b"\n"), 1)
        self.assertEqual(done.stderr.count(b"racking: line"), 2)

    def test_wrong_usage_and_unreadable_input(self):
        self.assertEqual(ours("--depth").returncode, 2)
        self.assertEqual(ours("--column", "none", given=b"id,note\n1,Plum.\n").returncode, 2)
        self.assertEqual(ours("--encoding", "none", given=b"Plum.").returncode, 2)
        self.assertEqual(ours("/no/such/file").returncode, 3)
        done = ours("--lexicon", "/no/such/folder", given=b"Plum.")
        self.assertEqual(done.returncode, 3)
        self.assertNotIn(b"Traceback", done.stderr)

    def test_output_is_whole_or_not_there(self):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder, "out.jsonl")
            self.assertEqual(ours("--output", path, NOTES / "students.txt").returncode, 0)
            self.assertEqual(path.read_bytes(), theirs(NOTES / "students.txt").stdout)
            self.assertEqual(ours("--output", path, "/no/such/file").returncode, 3)
            self.assertEqual(os.listdir(folder), ["out.jsonl"])
            self.assertGreater(path.stat().st_size, 0)

    def test_a_reader_that_leaves(self):
        command = f"{sys.executable} -m racking --from lines {NOTES / 'students.txt'} | head -c 10"
        done = subprocess.run(["bash", "-o", "pipefail", "-c", command], capture_output=True, env=ENVIRONMENT)
        self.assertEqual(done.stderr, b"")


if __name__ == "__main__":
    unittest.main()
