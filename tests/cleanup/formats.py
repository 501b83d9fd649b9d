"""Every input format, as a user would bring it. Python's csv and json modules are the outside
check of tables and of JSON."""
import csv
import io
import json
import random
import re
import unittest

from _run import NOTES, Case, run


def table(rows, **dialect):
    out = io.StringIO(newline="")
    csv.writer(out, **dialect).writerows(rows)
    return out.getvalue()


class JsonLines(Case):
    def test_id_and_text_need_no_flags(self):
        text = ("Deep ruby, brick rim. Nose: cassis, a touch of cedar, no butter. Crisp acidity, "
                "grippy tannins, long finish. 13.5%.")
        [record] = self.records(given=json.dumps({"id": "1", "text": text}))
        self.assertEqual((record["id"], record["text"]), ("1", text))
        for aroma in record["aromas"]:
            begin, end = aroma["span"]
            self.assertEqual(record["text"][begin:end], aroma["text"])
        found = {aroma["descriptor"]: aroma for aroma in record["aromas"]}
        self.assertEqual(found["blackcurrant"]["family"], "hedgerow")
        self.assertEqual(found["butter"]["stance"], "denied")

    def test_keys_are_found_or_named(self):
        lines = [{"sku": 7, "tasting note": "Plum.", "cellar": "B"}]
        given = "\n".join(map(json.dumps, lines))
        self.assertEqual([(r["id"], r["text"]) for r in self.records(given=given)], [("7", "Plum.")])
        nested = json.dumps({"wine": {"said": "Fig."}, "k": "a"})
        [record] = self.records("--column", "/wine/said", "--id-column", "k", given=nested)
        self.assertEqual((record["id"], record["text"]), ("a", "Fig."))

    def test_strings_blank_lines_and_escapes(self):
        given = '"Plum, fig."\r\n\r\n  \n{"text": "Cr\\u00e8me\\nbr\\u00fbl\\u00e9e \\ud83c\\udf47"}'
        self.assertEqual(self.texts("--from", "jsonl", given=given), ["Plum, fig.", "Crème\nbrûlée 🍇"])

    def test_bad_lines_are_listed_and_the_rest_done(self):
        given = "\n".join(['{"id": 1, "text": "Plum."}', '{"id": 2, "text": ', '[1]',
                           '{"id": 4}', '{"id": 5, "text": 5}', '7', '{"id": 7, "text": "Fig."}'])
        unread = self.folder / "unread.jsonl"
        records = self.records("--unread", unread, given=given, code=1)
        self.assertEqual([record["id"] for record in records], ["1", "7"])
        rows = [json.loads(line) for line in unread.read_text().splitlines()]
        self.assertEqual([row["line"] for row in rows], [2, 3, 4, 5, 6])
        self.assertEqual(rows[0]["row"], '{"id": 2, "text": ')
        self.assertTrue(all(row["reason"] for row in rows))
        errors = run(given=given).stderr.decode()
        for row in rows:
            self.assertIn(f"standard input:{row['line']}: {row['reason']}", errors)

    def test_ill_formed_bytes_are_kept_and_listed(self):
        [record] = self.records(given=b'{"id": "x", "text": "Plum\xff and f\xc3\xadg \xe2\x82."}\n' + "{\"text\": \"Crème brûlée, façade\"}".encode())[:1]
        self.assertEqual(record["text"], "Plum\ufffd and fíg \ufffd.")
        self.assertTrue(record["problems"])


class Tables(Case):
    def test_separators_and_quoted_breaks(self):
        rows = [["id", "wine", "note"], ["a", "x, y; z\tw", 'He said "plum".\nThen fig; tart, dry.'],
                ["b", "", ""], ["c", "q", " Peach "]]
        for separator in ",;\t":
            with self.subTest(separator=separator):
                given = table(rows, delimiter=separator, quoting=csv.QUOTE_ALL)
                records = self.records(given=given)
                self.assertEqual([(r["id"], r["text"]) for r in records],
                                 [(row[0], row[2]) for row in rows[1:]])

    def test_generated_tables_read_as_the_csv_module_reads_them(self):
        chance = random.Random(20260311)
        pieces = ["plum", "fig", ",", ";", '"', '""', "\n", "\r\n", " ", "é", "\t", "x"]
        rows = [["note", "ref"]]
        for number in range(400):
            rows.append(["".join(chance.choices(pieces, k=chance.randrange(1, 12))), f"r{number}"])
        given = table(rows, quoting=csv.QUOTE_ALL)
        self.assertEqual([[r["text"], r["id"]] for r in self.records("--from", "csv", given=given)],
                         list(csv.reader(io.StringIO(given, newline="")))[1:])

    def test_columns_are_guessed_or_named(self):
        rows = [["No", "Wine", "Tasting Note", "Price"], ["1", "A", "Plum.", "9"]]
        [record] = self.records(given=table(rows))
        self.assertEqual((record["id"], record["text"]), ("1", "Plum."))
        for name in ("Wine", "wine", "2"):
            [record] = self.records("--from", "csv", "--column", name, "--id-column", "price", given=table(rows))
            self.assertEqual((record["id"], record["text"]), ("9", "A"))
        done = run("--from", "csv", "--column", "Smell", given=table(rows))
        self.assertEqual(done.returncode, 2)
        self.assertIn("“Tasting Note”", done.stderr.decode())

    def test_no_heading_takes_the_longest_column(self):
        rows = [["2024-01-02", "A1", "Plum, fig and a long finish."], ["2024-01-03", "A2", "Lemon; crisp."]]
        self.assertEqual(self.texts("--from", "csv", given=table(rows)), [row[2] for row in rows])

        first = [["Notes of plum and fig, with a long finish", "A1"], ["Lemon and a citrus note; crisp.", "A2"]]
        self.assertEqual(self.texts("--from", "csv", given=table(first)), [row[0] for row in first])

    def test_odd_headings(self):
        for heading in ("My tasting notes", "Notes (blind)", "palate comments", "NOTE", "tasting_note", "Review text"):
            given = table([["Note ID", heading, "Number of notes"], ["7", "Plum.", "1"]])
            [record] = self.records("--from", "csv", given=given)
            self.assertEqual((record["id"], record["text"]), ("7", "Plum."), heading)

    def test_ill_formed_bytes_in_a_table(self):
        given = "id,note\n1,Crème brûlée\n2,Pêche mûre\n".encode() + b"\xff3,Plum \xe9 fig\n"
        last = self.records("--from", "csv", given=given)[-1]
        self.assertEqual((last["id"], last["text"]), ("\ufffd3", "Plum \ufffd fig"))
        for form in ("csv", "tidy", "html"):
            self.assertEqual(run("--from", "csv", "--format", form, given=given).returncode, 0)

    def test_tsv_semicolon_order_and_old_line_ends(self):
        self.assertEqual(self.texts("--from", "tsv", given="id\tnote\n1\tPlum, fig\n"), ["Plum, fig"])
        self.assertEqual(self.texts("--from", "csv", given="sep=;\r\nid;note\r\n1;Plum, fig\r\n"), ["Plum, fig"])
        self.assertEqual(self.texts("--from", "csv", given="id,note\r1,Plum\r2,Fig\r"), ["Plum", "Fig"])

    def test_a_note_that_lost_its_quotes(self):
        last = self.records("--from", "csv", given="id,note\n1,Plum\n2,Plum, fig, long\n")
        self.assertEqual(last[1]["text"], "Plum, fig, long")
        self.assertIn("fields-joined", [problem["code"] for problem in last[1]["problems"]])
        first = run("--from", "csv", given="note,id\nPlum,1\nPlum, fig,2\n")
        self.assertEqual(first.returncode, 1)
        self.assertIn(b"standard input:3: the row has 3 fields", first.stderr)

    def test_short_rows_and_open_quotes_cost_one_row(self):
        given = 'id,note\n1,Plum\n2\n3,"Fig\n4,Lemon\n5,"Two\nlines"\n'
        unread = self.folder / "unread.jsonl"
        records = self.records("--from", "csv", "--unread", unread, given=given, code=1)
        self.assertEqual([(r["id"], r["text"]) for r in records],
                         [("1", "Plum"), ("4", "Lemon"), ("5", "Two\nlines")])
        rows = [json.loads(line) for line in unread.read_text().splitlines()]
        self.assertEqual([(row["line"], row["row"]) for row in rows], [(3, "2"), (4, '3,"Fig')])

    def test_a_quote_open_to_the_end(self):
        given = 'id,note\n1,Plum\n2,"Fig\n3,Lemon\n4,Peach\n'
        done = run("--from", "csv", given=given)
        self.assertEqual(done.returncode, 1)
        self.assertEqual([json.loads(line)["id"] for line in done.stdout.splitlines()], ["1", "3", "4"])
        self.assertIn(b"standard input:3: a quote opens here and never closes", done.stderr)

    def test_many_open_quotes_do_not_take_for_ever(self):
        given = "id,note\n" + "".join(f'{n},"Plum and fig {n}\n' for n in range(20000)) + "z,Lemon\n"
        done = run("--from", "csv", given=given, timeout=60)
        self.assertEqual(done.returncode, 1)
        self.assertIn('"Lemon"', done.stdout.decode())


class PlainText(Case):
    def test_lines_and_paragraphs(self):
        given = "Plum.\n\n\nFig,\nlong.\n\nLemon."
        self.assertEqual(self.texts("--from", "lines", given=given), ["Plum.", "Fig,", "long.", "Lemon."])
        self.assertEqual(self.texts("--from", "paragraphs", given=given), ["Plum.", "Fig,\nlong.", "Lemon."])

    def test_rows_without_ids_are_numbered(self):
        self.assertEqual([r["id"] for r in self.records(given="Plum.\nFig.\n")], ["row 1", "row 2"])

    def test_nothing_in_nothing_out(self):
        for given in ("", "\n\n", "id,note\n"):
            self.assertEqual(self.records("--from", "csv", given=given), [])
            done = run("--from", "lines", given="")
            self.assertEqual((done.returncode, done.stdout), (0, b""))


class Guesses(Case):
    def kind(self, name, content, code):
        done = run("--summary", self.file(name, content))
        self.assertEqual(done.returncode, code, done.stderr)
        return re.search(r": (\w+) \(guessed\)", done.stderr.decode())[1]

    def test_by_name_and_content(self):
        prose = "Plum, fig, leather.\nLemon, lime, crisp.\n"
        for name, content, kind in [
                ("a.csv", prose, "csv"), ("a.tsv", "note\tid\nPlum\t1\n", "tsv"),
                ("a.jsonl", '"Plum"\n', "jsonl"), ("a.ndjson", '{"text":"Plum"}\n', "jsonl"),
                ("a.txt", prose, "lines"), ("b.txt", prose.replace("\n", "\n\n"), "paragraphs"),
                ("export", '{"text":"Plum"}\n', "jsonl"), ("export", '{oops\n{"text":"Plum"}\n', "jsonl!"), ("export", '{"text":"' + "Plum, " * 20000 + '"}\n', "jsonl"),
                ("export", "id;note\n1;Plum, fig\n", "csv"),
                ("export", "id\tnotes\n1\tPlum, fig\n", "tsv"), ("a.CSV", "note,id\nPlum,1\n", "csv")]:
            with self.subTest(name=name, content=content):
                broken = kind.endswith("!")  # one row is unread
                self.assertEqual(self.kind(name, content, 1 if broken else 0), kind.rstrip("!"))

    def test_the_demo(self):
        for name, kind, rows in [("cooperative-bench.csv", "csv", None), ("judge.csv", "csv", None),
                                 ("merchant.jsonl", "jsonl", None), ("students.txt", "paragraphs", None)]:
            records = self.records(NOTES / name)
            self.assertGreater(len(records), 15, name)
            if kind == "csv":
                content = (NOTES / name).read_text()
                separator = ";" if name == "judge.csv" else ","
                expected = [row[-1] for row in csv.reader(io.StringIO(content), delimiter=separator)][1:]
                self.assertEqual([record["text"] for record in records], expected)


if __name__ == "__main__":
    unittest.main()
