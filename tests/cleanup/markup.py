"""Tags and entities. The outside check is the WHATWG list of named character references, as
Python's html.entities carries it."""
import html.entities
import json
import unittest

from _run import Case


class Markup(Case):
    def resolve(self, *texts):
        given = "\n".join(json.dumps({"text": text}) for text in texts)
        return self.texts(given=given)

    def test_every_entity_of_the_standard(self):
        names = {name: text for name, text in html.entities.html5.items() if name.endswith(";")}
        blank = {name for name, text in names.items() if not text.strip()}
        tested = sorted(set(names) - blank)
        self.assertGreater(len(tested), 2000)
        found = self.resolve(*(f"x&{name}y" for name in tested))
        # "&amp;lt;" is text escaped twice, so what comes out of one pass is read again: only
        # "&amp;" and "&lt;" themselves could be hit, and alone they are not.
        self.assertEqual(dict(zip(tested, found)), {name: f"x{names[name]}y" for name in tested})

    def test_what_cannot_be_markup_stays(self):
        texts = ["a < b and c > d", "<3 this", "R&D & B&B", "salt & pepper", "sweet &shy nose", "&bogus; &notnose;",
                 "x<y>z", "<wine> of the day", "a <b and c> d", "1<2&3", "&", "<", "<>", "</", "&#;", "&#x;", "<b",
                 "AT&T; ok"]
        self.assertEqual(self.resolve(*texts), texts)

    def test_tags_go_and_lines_break(self):
        self.assertEqual(self.resolve(
            "Nose: plum.<br>Palate: fig.<BR/>Long.<br />End", "<p class=\"x\">One</p>\n<p>Two <b>bold</b></p>",
            "<ul><li>plum</li><li>fig</li></ul>", "nl2br<br />\r\nhere", "<td>plum</td><td>fig</td>", "a<br><br>b",
            "<!-- x -->Plum<script>var a='<b>fig</b>';</script>", "<o:p></o:p>Fig<a href='x>y'>!</a>"),
            ["Nose: plum.\nPalate: fig.\nLong.\nEnd", "One\nTwo bold", "plum\nfig", "nl2br\nhere", "plum  fig", "a\n\nb", "Plum", "Fig!"])

    def test_entities_numbers_and_twice_escaped(self):
        self.assertEqual(self.resolve("Cr&egrave;me &#233; &#xE9; &eacute tart", "a&nbsp;b", "&amp;eacute; &lt;br&gt; x", "&lt;3"),
                         ["Crème é é é tart", "a b", "é\nx", "<3"])

    def test_records_say_so(self):
        records = self.records(given='{"text":"Plum &amp; fig<br>long"}\n{"text":"Plum & fig"}')
        [problem] = records[0]["problems"]
        self.assertEqual((problem["code"], problem["span"]), ("markup", [0, len(records[0]["text"])]))
        self.assertEqual(records[1]["problems"], [])


if __name__ == "__main__":
    unittest.main()
