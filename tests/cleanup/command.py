"""The command: exit codes, files, order, offsets, lexicons, suggestions, terminals."""
import csv
import io
import json
import os
import pty
import random
import re
import signal
import subprocess
import time
import tomllib
import unittest

from _run import NOTES, PROGRAM, Case, run

OVERLAY = """
[[descriptor]]
id = "quarry-pool"
parents = ["shore-and-stone"]
forms = ["quarry pool"]
examples = ["Smells of a <a d=quarry-pool>quarry pool</a>."]
"""


class ExitCodes(Case):
    def test_zero(self):
        for arguments in (["--help"], ["--version"], ["--from", "lines"]):
            self.assertEqual(run(*arguments, given="Plum.\n").returncode, 0, arguments)
        self.assertIn("no laboratory result", " ".join(run("--help").stdout.decode().split()))

    def test_wrong_usage(self):
        for arguments in (["--form", "csv"], ["--format", "xml"], ["--from", "pdf"], ["--jobs", "0"], ["--jobs", "x"],
                          ["--suggest", "0"], ["--offsets", "word"], ["--plain", "--format", "csv"],
                          ["--explain", "--format", "tidy"],
                          ["--offsets", "byte", "--format", "html"], ["--column", "a", "--from", "lines"], ["-", "-"],
                          ["--check-lexicon", ".", "x.csv"], ["--output", "a", "--unread", "a"]):
            done = run(*arguments, given="Plum.\n")
            self.assertEqual(done.returncode, 2, arguments)
            self.assertTrue(done.stderr, arguments)
            self.assertEqual(done.stdout, b"", arguments)

    def test_a_column_makes_a_table_of_what_has_it_and_of_nothing_else(self):
        given = "bottle,scribble\n7,Plum and fig\n"
        done = run("--column", "scribble", "--id-column", "bottle", "--summary", given=given)
        self.assertEqual([json.loads(line)["text"] for line in done.stdout.splitlines()], ["Plum and fig"])
        self.assertIn("standard input: csv (guessed)", done.stderr.decode())
        for text in ("Plum and fig.\nLong, crisp.\n", "bottle,other\n7,Plum\n"):
            done = run("--column", "scribble", given=text)
            self.assertEqual((done.returncode, done.stdout), (2, b""))
            self.assertIn("looks like plain text", done.stderr.decode())

    def test_unreadable(self):
        for arguments in ([self.folder / "none.csv"], [self.folder], ["--lexicon", self.folder / "none"],
                          ["--check-lexicon", self.folder / "none"], ["--output", self.folder / "none" / "a", "-"]):
            done = run(*arguments, given="Plum.\n")
            self.assertEqual(done.returncode, 3, arguments)
            self.assertTrue(done.stderr, arguments)
            self.assertEqual(done.stdout, b"", arguments)

    def test_one_missing_file_stops_the_run_before_it_writes(self):
        good = self.file("a.txt", "Plum.\n")
        done = run(good, self.folder / "none.txt")
        self.assertEqual((done.returncode, done.stdout), (3, b""))


class Files(Case):
    def test_output_is_whole_and_keeps_its_mode_and_link(self):
        target = self.file("real.jsonl", "old")
        target.chmod(0o640)
        link = self.folder / "link.jsonl"
        link.symlink_to(target)
        self.assertEqual(run("--from", "lines", "--output", link, given="Plum.\n").returncode, 0)
        self.assertTrue(link.is_symlink())
        self.assertEqual(json.loads(target.read_text())["text"], "Plum.")
        self.assertEqual(target.stat().st_mode & 0o777, 0o640)
        self.assertEqual({path.name for path in self.folder.iterdir()}, {"real.jsonl", "link.jsonl"})

    def test_a_failed_run_leaves_the_old_file_and_nothing_else(self):
        target = self.file("out.jsonl", "old")
        source = self.file("a.csv", "id,note\n1,Plum\n")
        self.assertEqual(run("--output", target, "--column", "none", source).returncode, 2)
        self.assertEqual(target.read_text(), "old")
        self.assertEqual({path.name for path in self.folder.iterdir()}, {"out.jsonl", "a.csv"})

    def test_an_interrupted_run_leaves_the_old_file_and_nothing_else(self):
        target = self.file("out.jsonl", "old")
        with subprocess.Popen([PROGRAM, "--from", "lines", "--output", str(target)], stdin=subprocess.PIPE) as process:
            process.stdin.write(b"Plum and fig.\n" * 20000)
            process.stdin.flush()
            deadline = time.monotonic() + 20
            while len(list(self.folder.iterdir())) < 2 and time.monotonic() < deadline:
                time.sleep(0.01)
            self.assertEqual(len(list(self.folder.iterdir())), 2)  # the temporary file is there
            process.send_signal(signal.SIGTERM)
            self.assertEqual(process.wait(20), -signal.SIGTERM)
        self.assertEqual([path.name for path in self.folder.iterdir()], ["out.jsonl"])
        self.assertEqual(target.read_text(), "old")

    def test_output_over_its_own_input(self):
        path = self.file("a.jsonl", '{"id":"1","text":"Plum."}\n')
        self.assertEqual(run(path, "--output", path).returncode, 0)
        self.assertEqual(json.loads(path.read_text())["schema"], 1)
        self.assertEqual(run("--output", "/dev/null", path).returncode, 0)
        self.assertFalse(os.path.isfile("/dev/null"))

    def test_a_reader_that_leaves_is_no_error(self):
        with subprocess.Popen([PROGRAM, "--from", "lines"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE) as process:
            process.stdout.close()
            try:
                process.stdin.write(b"Plum and fig.\n" * 5000)
                process.stdin.close()
            except BrokenPipeError:
                pass
            self.assertEqual((process.wait(60), process.stderr.read()), (0, b""))

    def test_a_full_disk_is_told(self):
        done = run("--from", "lines", "--output", "/dev/full", given="Plum.\n")
        self.assertEqual(done.returncode, 3)
        self.assertIn(b"/dev/full: cannot be written", done.stderr)

    def test_unread_rows_as_they_stood(self):
        unread = self.folder / "unread.jsonl"
        given = 'note,id\nPlum,1\n"Fig, ""x""\n here",2,  extra\nLemon,3\n'
        self.assertEqual(run("--from", "csv", "--unread", unread, given=given).returncode, 1)
        [row] = map(json.loads, unread.read_text().splitlines())
        self.assertEqual((row["line"], row["row"], row["file"]), (3, '"Fig, ""x""\n here",2,  extra', "standard input"))
        self.assertEqual(run("--from", "csv", "--unread", unread, given="note,id\nPlum,1\n").returncode, 0)
        self.assertEqual(unread.read_text(), "")


class Order(Case):
    def test_jobs_keep_the_order(self):
        chance = random.Random(7)
        words = ["plum", "fig", "cassis", "crisp acidity", "no oak", "long", "?"]
        lines = []
        for number in range(3000):
            if chance.random() < 0.01:
                lines.append("{broken")
            text = ", ".join(chance.choices(words, k=chance.choice([1, 3, 200])))
            lines.append(json.dumps({"id": str(number), "text": text}))
        given = "\n".join(lines)
        one = run("--jobs", 1, "--summary", "--suggest", 5, given=given)
        self.assertEqual(one.returncode, 1)
        self.assertEqual([json.loads(line)["id"] for line in one.stdout.splitlines()], [str(n) for n in range(3000)])
        for jobs in (2, 7):
            many = run("--jobs", jobs, "--summary", "--suggest", 5, given=given)
            self.assertEqual((many.stdout, many.stderr), (one.stdout, one.stderr))

    def test_files_in_turn_with_ids_apart(self):
        first = self.file("a.txt", "Plum.\nFig.\n")
        second = self.file("b.txt", "Lemon.\n")
        records = self.records(first, second, "--from", "lines")
        self.assertEqual([record["id"] for record in records], ["a.txt row 1", "a.txt row 2", "b.txt row 1"])


class Records(Case):
    TEXT = "🍇 Crème brûlée, then cassis; grippy tannins."

    def test_offsets(self):
        measures = {"byte": lambda text: text.encode(), "codepoint": lambda text: text,
                    "utf16": lambda text: text.encode("utf-16-le")}
        for unit, measure in measures.items():
            [record] = self.records("--from", "lines", "--offsets", unit, given=self.TEXT)
            self.assertEqual(record["offsets"], unit)
            self.assertGreaterEqual(len(record["aromas"]), 2)
            for aroma in record["aromas"]:
                begin, end = (2 * n if unit == "utf16" else n for n in aroma["span"])
                self.assertEqual(measure(record["text"])[begin:end], measure(aroma["text"]))

    def test_explain_adds_reasons_and_changes_nothing_else(self):
        def without(node):
            if isinstance(node, dict):
                return {key: without(value) for key, value in node.items() if key != "explanation"}
            return [without(value) for value in node] if isinstance(node, list) else node

        given = b"Pale lemon. Nose: pear, no oak.\nCrisp and zorbly; not corked, 13% vol, Merlot."
        for extra in ([], ["--plain"]):
            short = self.records("--from", "lines", *extra, given=given)
            told = self.records("--from", "lines", "--explain", *extra, given=given)
            self.assertEqual(without(told), short)
            oak = told[0]["aromas"][1]["explanation"]
            self.assertIn("Denied: ‘no’ denies what follows.", oak["text"])
            self.assertIn({"what": "stance", "rule": "negation.no", "span": [24, 26],
                           "because": "Denied: ‘no’ denies what follows."}, oak["reasons"])
            for one in (told[0]["sight"]["core"], told[1]["structure"]["acidity"]["readings"][0],
                        told[1]["condition"]["faults"][0], told[1]["quantities"][0],
                        told[1]["names"][0], told[1]["unmapped"][0]):
                self.assertTrue(one["explanation"]["reasons"])

    def test_plain_is_shorter_and_says_the_same(self):
        [full] = self.records("--from", "lines", given=self.TEXT)
        [plain] = self.records("--from", "lines", "--plain", given=self.TEXT)
        self.assertNotIn("tidy", plain)
        self.assertEqual([a["descriptor"] for a in plain["aromas"]], [a["descriptor"] for a in full["aromas"]])

    def test_table(self):
        done = run("--from", "lines", "--format", "csv", given="Garnet, brick rim. Cassis, no butter; grippy tannins. 13.5%.\n=1+1 \"fig\", plum\n")
        first, second = csv.DictReader(io.StringIO(done.stdout.decode()))
        self.assertEqual(first["id"], "row 1")
        self.assertIn("hedgerow", first["families"])
        self.assertIn("no butter", first["aromas"])
        self.assertEqual((first["tannin_low"], first["tannin_high"], first["tannin_label"]), ("4", "5", "firm to gripping"))
        self.assertEqual((first["alcohol"], first["acidity_low"]), ("13.5", ""))
        self.assertIn("garnet", first["colour"])
        self.assertTrue(first["tidy"])
        self.assertIn("fig", second["aromas"])

    def test_tidy_is_a_line_a_note(self):
        done = run("--from", "paragraphs", "--format", "tidy", given="Cassis.\nLong finish.\n\n\nzzz\n\nFig.")
        self.assertEqual(len(done.stdout.decode().splitlines()), 3)
        self.assertIn("blackcurrant", done.stdout.decode().splitlines()[0])


class Lexicons(Case):
    def test_own_words(self):
        self.file("words/own.toml", OVERLAY)
        given = "Quarry pool and plum.\n"
        before = self.records("--from", "lines", given=given)[0]
        after = self.records("--from", "lines", "--lexicon", self.folder / "words", given=given)[0]
        self.assertNotIn("quarry-pool", [aroma["descriptor"] for aroma in before["aromas"]])
        self.assertIn("quarry-pool", [aroma["descriptor"] for aroma in after["aromas"]])
        self.assertNotEqual(before["lexicon"]["digest"], after["lexicon"]["digest"])

    def test_two_folders(self):
        self.file("one/own.toml", OVERLAY)
        self.file("two/own.toml", OVERLAY.replace("quarry-pool", "millpond").replace("quarry pool", "millpond")
                  .replace("shore-and-stone", "quarry-pool"))
        [record] = self.records("--from", "lines", "--lexicon", self.folder / "one", "--lexicon", self.folder / "two",
                                given="A millpond.")
        self.assertEqual(record["aromas"][0]["path"], ["shore-and-stone", "quarry-pool", "millpond"])

    def test_check(self):
        self.file("good/own.toml", OVERLAY)
        done = run("--check-lexicon", self.folder / "good")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertRegex(done.stdout.decode(), r"no problem; \d+ descriptors and \d+ ways of writing them; "
                                               r"\d+ entries for structure and \d+ phrases that say them, in all\n$")
        self.file("bad/own.toml", OVERLAY.replace('parents = ["shore-and-stone"]', 'parents = ["atlantis"]\ncolor = 1'))
        self.file("bad/broken.toml", "[[descriptor]]\nid = \"x\n")
        done = run("--check-lexicon", self.folder / "bad")
        self.assertEqual(done.returncode, 3)
        self.assertRegex(done.stderr.decode(), r"own\.toml:\d+:\d+: ")
        self.assertRegex(done.stderr.decode(), r"broken\.toml:2:\d+: ")
        self.assertEqual(run("--lexicon", self.folder / "bad", given="Plum").returncode, 3)

    def test_check_reads_the_examples(self):
        self.file("words/own.toml", OVERLAY.replace("Smells of a <a d=quarry-pool>quarry pool</a>.",
                                                    "Smells of <a d=quarry-pool>plum</a>."))
        done = run("--check-lexicon", self.folder / "words")
        self.assertEqual(done.returncode, 3)
        self.assertRegex(done.stderr.decode(), r"own\.toml:6:\d+: ")


class Sums(Case):
    def test_summary(self):
        done = run("--summary", NOTES / "merchant.jsonl", "--output", "/dev/null")
        summary = done.stderr.decode()
        for part in ("merchant.jsonl: jsonl (guessed), UTF-8", "notes from “text”, ids from “id”", "26 notes read, 0 rows not read",
                     "Families, in notes: ", "Structure, in notes", "To look at again: ", "no laboratory result"):
            self.assertIn(part, summary)


class Suggestions(Case):
    """--suggest: what it proposes is an overlay that loads and is found."""

    def proposed(self, lines, *arguments):
        path = self.folder / "words" / "new.toml"
        path.parent.mkdir(exist_ok=True)
        done = run("--from", "lines", "--suggest", 20, "--suggestions", path, "--output", "/dev/null", *arguments,
                   given="\n".join(lines))
        self.assertEqual((done.returncode, done.stderr), (0, b""))
        return path

    def taught(self):
        """Notes of two kinds of company, and one unknown word in each."""
        fruit = ["Stewed plum, {}, baked cherry jam.", "Nose of ripe plum and {} jam.", "Juicy peach with {} and plum."]
        smoke = ["Burnt toast, {}, coal smoke.", "Smells of charred {} and smoke.", "Ash, {} and burnt toast."]
        known = ["plum", "cherry", "peach", "apricot", "nectarine", "damson"], ["ash", "smoke", "soot", "toast", "coffee", "embers"]
        lines = [text.format(word) for texts, words in zip((fruit, smoke), known) for text in texts for word in words] * 8
        lines += [text.format("quibblewort") for text in fruit] * 2
        lines += [text.format("zanthryl") for text in smoke] * 2
        return lines

    def test_what_is_proposed_loads_and_is_found(self):
        path = self.proposed(self.taught())
        entries = {entry["id"]: entry for entry in tomllib.loads(path.read_text())["descriptor"]}
        self.assertEqual({id: entry["parents"] for id, entry in entries.items()},
                         {"quibblewort": ["orchard"], "zanthryl": ["hearth"]})
        checked = run("--check-lexicon", path.parent)
        self.assertEqual(checked.returncode, 0, checked.stderr)
        before, after = (self.records("--from", "lines", *more, given="Nose: no quibblewort, some zanthryl.")[0]
                         for more in ([], ["--lexicon", path.parent]))
        self.assertEqual([one["text"] for one in before["unmapped"]], ["quibblewort", "zanthryl"])
        self.assertEqual([(one["descriptor"], one["family"], one["stance"]) for one in after["aromas"]],
                         [("quibblewort", "orchard", "denied"), ("zanthryl", "hearth", "stated")])
        self.assertEqual(after["unmapped"], [])

    def test_figures_counts_and_three_contexts(self):
        text = self.proposed(self.taught()).read_text()
        self.assertIn("# quibblewort: 6 times\n", text)
        self.assertRegex(text, r"# The company it keeps speaks for orchard: association \d+\.\d nats, \d+\.\d ahead of [a-z-]+; "
                               r"\d+ companions, \d+ known aromas to learn from\.\n")
        contexts = re.findall(r"^#   (row \d+): (.*quibblewort.*)$", text, re.M)
        self.assertEqual([words for _, words in contexts],
                         ["Stewed plum, quibblewort, baked cherry jam.", "Nose of ripe plum and quibblewort jam.",
                          "Juicy peach with quibblewort and plum."])

    def test_weak_evidence_is_said_and_left_as_a_comment(self):
        path = self.proposed(["Plum, quibblewort, fig."] * 3 + ["Zanthryl. Quibblewort.", 'Some "zan\\thr" here.'])
        text = path.read_text()
        self.assertIn("# quibblewort: 4 times\n#   row 1: Plum, quibblewort, fig.\n", text)
        self.assertIn("# Too little to tell its family.", text)
        self.assertEqual(tomllib.loads(text), {})
        self.assertEqual(run("--check-lexicon", path.parent).returncode, 0)
        # With the marks taken away and the family filled in, the entry is one.
        mended = re.sub(r"^# (\[\[|id =|parents =|forms =)", r"\1", text, flags=re.M).replace('[""]', '["hedgerow"]')
        path.write_text(mended)
        checked = run("--check-lexicon", path.parent)
        self.assertEqual(checked.returncode, 0, checked.stderr)

    def test_whatever_is_written_the_file_loads(self):
        odd = ["Plum, x\u0301y\u0301zzle\u0301, fig.", "Вишня и слива.", "Zq\"uo\tte \x01 zz.", "Cru\u0308sh-zzt’s 🍇 zzyx.", "ｆｕｌｌｗｉｄｔｈ zzyz"] * 3
        done = run("--suggest", 50, "--output", "/dev/null", NOTES / "students.txt", given="")
        (self.folder / "demo").mkdir()
        (self.folder / "demo" / "new.toml").write_bytes(done.stderr)
        self.assertEqual(run("--check-lexicon", self.folder / "demo").returncode, 0)
        path = self.proposed(odd)
        text = path.read_text()
        path.write_text(re.sub(r"^# (\[\[|id =|parents =|forms =)", r"\1", text, flags=re.M).replace('[""]', '["hedgerow"]'))
        checked = run("--check-lexicon", path.parent)
        self.assertEqual(checked.returncode, 0, checked.stderr.decode() + path.read_text())

    def test_on_standard_error_where_no_file_is_named(self):
        done = run("--from", "lines", "--suggest", 1, "--output", "/dev/null", given="Quibblewort.\nZanthryl, quibblewort.")
        self.assertIn("# quibblewort: twice", done.stderr.decode())
        self.assertNotIn("zanthryl: ", done.stderr.decode())
        self.assertIn("(Space-Saving; it held them all, so counts are exact)", done.stderr.decode())
        self.assertEqual(run("--suggestions", "x.toml", given="Plum.").returncode, 2)

    def test_the_sketch_is_bounded_and_says_so(self):
        words = ("zq" + str(n).translate(str.maketrans("0123456789", "bcdfghjklm")) for n in range(21000))
        lines = [f"{word}. Quibblewort." for word in words]
        done = run("--from", "lines", "--suggest", 3, "--output", "/dev/null", given="\n".join(lines))
        text = done.stderr.decode()
        self.assertIn("it was full, so counts are bounds and rare phrases may be missing", text)
        self.assertIn("\n# quibblewort: 21000 times\n", text)


class Bounds(Case):
    def peak(self, path, *arguments):
        """Peak resident kilobytes of a run, from the kernel's account of that child alone."""
        process = subprocess.Popen([PROGRAM, *arguments, "--jobs", "2", "--output", "/dev/null", str(path)])
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        self.assertEqual(process.returncode, 0)
        return usage.ru_maxrss

    def test_memory_does_not_grow_with_the_file(self):
        row = '7,"Deep ruby. Cassis, cedar,\nno butter; crisp acidity, long finish."\n'
        small = self.file("small.csv", "id,note\n" + row * 20_000)
        large = self.file("large.csv", "id,note\n" + row * 200_000)
        for form in ("csv", "tidy"):
            small_peak, large_peak = (self.peak(path, "--format", form) for path in (small, large))
            self.assertLess(large_peak, small_peak * 1.3 + 4096, form)

    def test_a_line_too_long_to_hold_costs_itself_only(self):
        given = b"Plum.\n" + b"x" * (34 << 20) + b"\nFig.\n"
        done = run("--from", "lines", "--plain", given=given)
        self.assertEqual(done.returncode, 1)
        self.assertEqual([json.loads(line)["text"] for line in done.stdout.splitlines()], ["Plum.", "Fig."])
        self.assertIn(b"standard input:2: the row is longer than 32 MB", done.stderr)


class Terminals(Case):
    def errors(self, own_terminal):
        """What a slow run writes to standard error, a terminal or a pipe."""
        primary, secondary = pty.openpty() if own_terminal else os.pipe()  # read here, write there
        with subprocess.Popen([PROGRAM, "--from", "lines", "--jobs", "1", "--output", "/dev/null"], stdin=subprocess.PIPE,
                              stderr=secondary) as process:
            os.close(secondary)
            for _ in range(4):
                process.stdin.write(b"Plum, fig and cassis; long.\n" * 3000)
                process.stdin.flush()
                time.sleep(0.15)
            process.stdin.close()
            process.wait(60)
        seen = b""
        try:
            while block := os.read(primary, 65536):
                seen += block
        except OSError:  # a terminal whose other end is closed
            pass
        os.close(primary)
        return seen

    def test_progress_shows_on_a_terminal_and_goes_away(self):
        seen = self.errors(True)
        self.assertIn(b" notes", seen)
        self.assertTrue(seen.endswith(b"\r\x1b[K"))

    def test_no_progress_in_a_pipe(self):
        self.assertEqual(self.errors(False), b"")


if __name__ == "__main__":
    unittest.main()
