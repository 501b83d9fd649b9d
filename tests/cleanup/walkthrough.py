"""The five minutes of lexicon/README.md, followed to the letter: its text is what is typed, and what
it shows is what comes back."""
import os
import re
import unittest

from _run import PROGRAM, SOURCE, Case, run


class Walkthrough(Case):
    def test_as_written(self):
        text = (SOURCE / "lexicon/README.md").read_text("utf-8")
        part = text[text.index("## A word of your own"):text.index("**5. Give it to everybody.**")]
        blocks = [re.sub(r"^    ", "", block, flags=re.M).rstrip("\n") + "\n"
                  for block in re.findall(r"(?:^    .*\n+)+", part, re.M)]
        notes, suggest, proposed, entry, other, phrase, check, wrong, last = blocks
        use, tidy = last.split("\n\n", 1)  # a command and what it writes
        os.chdir(self.folder)
        self.addCleanup(os.chdir, "/")

        def type(block):
            """Each line of a block as it is typed; what the last wrote."""
            for line in block.splitlines():
                if line.startswith("mkdir"):
                    os.mkdir(line.split()[1])
                else:
                    done = run(*line.split()[1:])
            return done

        self.file("notes.txt", notes)
        self.assertEqual(type(suggest).returncode, 0)
        self.assertTrue((self.folder / "my-words/words.toml").read_text().endswith(proposed))
        self.file("my-words/words.toml", entry + other + phrase)
        done = type(check)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("no problem", done.stdout.decode())
        self.assertEqual(type(use).stdout.decode(), tidy)
        self.file("my-words/words.toml", entry.replace('"leather"', '"lether"').replace('["accordion bellows"]', '["cassis"]'))
        done = type(check)
        self.assertEqual(done.returncode, 3)
        self.assertTrue(done.stderr.decode().startswith(wrong), done.stderr.decode())


if __name__ == "__main__":
    assert PROGRAM
    unittest.main()
