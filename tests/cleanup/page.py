"""The HTML page, as text and in a real headless Chromium."""
import html.parser
import json
import re
import time
import unittest

import _browser
from _run import NOTES, Case, run

ODD = [{"id": "<b>&\"1'", "text": "Cassis <3 & \"fig\" 'plum' a < b > c; grippy tannins."},
       {"id": "two", "text": "Red and black cherries; lemon and lime zest. Not corked."},
       {"id": "<script>alert(1)</script>", "text": "javascript:alert(1) ]]> --> 🍇 crème brûlée \u0007 \u202eplum"}]
VOID = {"meta", "path", "rect", "use", "br"}


class WellFormed(html.parser.HTMLParser):
    """Every element is closed in order; ids are unique."""

    def __init__(self):
        super().__init__()
        self.open, self.tags, self.ids, self.links, self.text = [], [], [], [], ""

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        self.tags.append(tag)
        self.ids += [attributes["id"]] if "id" in attributes else []
        self.links += [value for name, value in attributes.items() if name in ("href", "src", "action")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, (tag, self.open[-3:])
        self.open.pop()

    def handle_data(self, data):
        self.text += data


class Page(Case):
    def page(self, *arguments, given=b"", code=0):
        done = run("--format", "html", *arguments, given=given)
        self.assertEqual(done.returncode, code, done.stderr)
        return done.stdout.decode()

    def parsed(self, page):
        parser = WellFormed()
        parser.feed(page)
        parser.close()
        self.assertEqual(parser.open, [])
        self.assertEqual(len(parser.ids), len(set(parser.ids)))
        return parser

    def test_escapes_and_needs_nothing_else(self):
        page = self.page(given="\n".join(map(json.dumps, ODD)))
        parser = self.parsed(page)
        self.assertNotIn("script", parser.tags)
        self.assertNotIn("img", parser.tags)
        self.assertTrue(all(link.startswith("#") for link in parser.links), parser.links)
        self.assertNotRegex(page, r"https?://|url\((?!#)|@import")
        for record in ODD[:2]:
            self.assertIn(record["id"], parser.text)
        self.assertNotIn("\u0007", page)

    def test_ill_formed_bytes_do_not_break_it(self):
        content = "Crème brûlée, pêche, façade, œuf.\n".encode() * 3 + b"Plum \xff and <b fig.\n"
        page = self.page("--from", "lines", given=content)
        self.assertIn("\ufffd", self.parsed(page).text)

    def test_first_two_thousand_and_says_so(self):
        given = "".join(f'{{"id":"{n}","text":"Cassis, no oak; corked."}}\n' for n in range(2003))
        page = self.page(given=given)
        self.assertEqual(page.count("<article"), 2000)
        self.assertIn("2003 notes.", page)
        self.assertIn("This page shows the first 2000; the counts are of all of them.", page)
        self.assertNotIn("This page shows", self.page(given=given[:given.index('{"id":"9"')]))

    def test_unread_rows_are_told(self):
        page = self.page(given='{"text":"Plum"}\n{oops\n', code=1)
        self.assertIn("1 note; 1 row could not be read.", page)


@unittest.skipUnless(_browser.find(), "chromium and chromium-driver are not installed")
class InChromium(Case):
    def setUp(self):
        super().setUp()
        self.path = self.folder / "page.html"
        sources = sorted(NOTES.iterdir())
        done = run("--format", "html", "--output", self.path, *sources)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.notes = self.records(*sources)
        self.browser = _browser.Browser()
        self.addCleanup(self.browser.close)
        self.browser.open(self.path)

    def test_every_note_stands_as_it_was_written(self):
        shown = self.browser.ask("""return [...document.querySelectorAll('.note')].map(note => {
            const copy = note.cloneNode(true); copy.querySelectorAll('sup').forEach(number => number.remove());
            return copy.textContent; })""")
        self.assertEqual(shown, [note["text"].replace("\r\n", "\n") for note in self.notes])

    def test_marks_numbers_and_key_agree(self):
        articles = self.browser.ask("""return [...document.querySelectorAll('article')].map(article => ({
            numbers: [...article.querySelectorAll('sup')].flatMap(sup => sup.textContent.split(',').map(Number)),
            key: article.querySelectorAll('ol.key li').length,
            marks: [...article.querySelectorAll('mark')].map(mark => mark.textContent),
            line: [...article.querySelectorAll('mark')].every(mark =>
                getComputedStyle(mark).textDecorationLine == 'underline')}))""")
        self.assertEqual(len(articles), len(self.notes))
        for article, note in zip(articles, self.notes):
            self.assertEqual(sorted(article["numbers"]), list(range(1, article["key"] + 1)), note["id"])
            self.assertTrue(article["line"])
            marked = re.sub(r"\s+", " ", " ".join(article["marks"]))
            for aroma in note["aromas"]:
                if aroma["parts"] is None:
                    for word in aroma["text"].split():
                        self.assertIn(word, marked, note["id"])

    def test_scales_are_five_outlined_cells_hatched_in_the_range(self):
        drawn = self.browser.ask("""return [...document.querySelectorAll('article')].map(article =>
            Object.fromEntries([...article.querySelectorAll('.scale')].map(scale => {
                const cells = [...scale.querySelectorAll('li')];
                const boxes = cells.map(cell => cell.firstElementChild.getBoundingClientRect());
                return [scale.querySelector('.name').firstChild.textContent.trim(), {
                    hatched: cells.flatMap((cell, at) => cell.querySelector('svg use') ? [at + 1] : []),
                    outlined: cells.every(cell => getComputedStyle(cell.firstElementChild).borderTopWidth == '1px'),
                    apart: boxes.every((box, at) => at == 0 || box.left > boxes[at - 1].right + 2),
                    filled: cells.filter(cell => cell.querySelector('use')).every(cell =>
                        cell.querySelector('use').getBoundingClientRect().width > 20),
                    label: scale.querySelector('ol').getAttribute('aria-label')}]; })))""")
        some = 0
        for scales, note in zip(drawn, self.notes):
            levels = dict(note["structure"], expression=note["expression"])
            stated = {name: level for name, level in levels.items() if level and level["range"]}
            self.assertEqual(set(scales), set(stated), note["id"])
            for name, level in stated.items():
                low, high = level["range"]
                self.assertEqual(scales[name]["hatched"], list(range(low, high + 1)), note["id"])
                self.assertIn(level["label"], scales[name]["label"])
                self.assertTrue(scales[name]["outlined"] and scales[name]["apart"] and scales[name]["filled"])
                some += 1
        self.assertGreater(some, 50)

    def test_readable_dark_on_light_and_without_colour(self):
        colours = self.browser.ask("""return [...new Set([...document.querySelectorAll('body, body *')].flatMap(element => {
            const style = getComputedStyle(element);
            return [style.color, style.backgroundColor, style.borderTopColor]; }))]""")
        for colour in colours:  # greys, near enough, so that nothing is told by hue
            red, green, blue, *alpha = map(float, re.findall(r"[\d.]+", colour))
            self.assertTrue(alpha == [0] or max(red, green, blue) - min(red, green, blue) <= 24, colour)
        text, ground = self.browser.ask(
            "const s = getComputedStyle(document.body); return [s.color, s.backgroundColor]")

        def luminance(colour):  # WCAG 2.2, relative luminance and contrast ratio
            parts = [int(n) / 255 for n in re.findall(r"\d+", colour)[:3]]
            linear = [n / 12.92 if n <= 0.04045 else ((n + 0.055) / 1.055) ** 2.4 for n in parts]
            return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

        self.assertGreater((luminance(ground) + 0.05) / (luminance(text) + 0.05), 7)
        self.assertIn("Serif", self.browser.ask("return getComputedStyle(document.body).fontFamily"))

    def test_no_overflow_on_a_desk_or_a_telephone(self):
        for width in (1100, 500, 390):
            self.browser.size(width, 900)
            fits = "return document.documentElement.scrollWidth <= window.innerWidth"
            # The window takes its new size, and the page its new layout, a moment later.
            until = time.monotonic() + 10
            while not self.browser.ask(fits) and time.monotonic() < until:
                time.sleep(0.1)
            self.assertTrue(self.browser.ask(fits), width)

    def test_prints_without_backgrounds_and_says_nothing_wrong(self):
        self.assertTrue(self.browser.print().startswith(b"%PDF-"))
        self.assertEqual([m for m in self.browser.messages() if m["level"] == "SEVERE"], [])

    def test_semantics(self):
        found = self.browser.ask("""return {
            lang: document.documentElement.lang, title: document.title.length > 0,
            headings: [...document.querySelectorAll('h1,h2,h3')].map(h => +h.tagName[1]),
            labelled: [...document.querySelectorAll('article')].every(a =>
                document.getElementById(a.getAttribute('aria-labelledby')).textContent.length > 0),
            landmarks: ['header', 'main', 'footer'].every(tag => document.querySelector(tag)),
            links: [...document.querySelectorAll('a')].every(a => document.querySelector(a.getAttribute('href'))),
            caution: document.querySelector('footer').textContent}""")
        self.assertEqual(found["lang"], "en")
        self.assertTrue(found["title"] and found["labelled"] and found["landmarks"] and found["links"])
        for before, after in zip(found["headings"], found["headings"][1:]):
            self.assertLessEqual(after, before + 1)
        self.assertIn("no laboratory", found["caution"])


if __name__ == "__main__":
    unittest.main()
