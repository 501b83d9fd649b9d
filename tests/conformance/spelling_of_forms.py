#!/usr/bin/python3
"""Every single-word form of the English lexicon is spelled as a dictionary has it.

Sources: the word lists of Debian's hunspell-en-gb and hunspell-en-us (en_GB.dic and en_US.dic
with their .aff rules, expanded here; the format is that of hunspell(5)). A word that neither
lists must stand in tests/data/trade_words.txt, reviewed, under a reason. A line there that no
form needs, or that a dictionary knows, fails too.

Left out: names (lexicon/names) and the shorthand files, which are misspelled on purpose.
With --phrases the words of longer forms are shown too, for a reader to look through.
"""
import collections
import pathlib
import re
import sys
import tomllib
import unicodedata

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDERS = ("aroma", "scales", "sight", "condition")
KEYS = ("forms", "adjectives", "fixed", "hints", "forms_with")
DICTIONARIES = [pathlib.Path("/usr/share/hunspell") / name for name in ("en_GB", "en_US")]
TRADE_WORDS = ROOT / "tests/data/trade_words.txt"

Affix = collections.namedtuple("Affix", "cross strip add flags condition")


def read_affixes(path):
    """({flag: [Affix]} of prefixes, the same of suffixes, the flags of parts of compounds)."""
    prefixes, suffixes, parts, cross = collections.defaultdict(list), collections.defaultdict(list), set(), {}
    for line in path.with_suffix(".aff").read_text(encoding="utf-8-sig").splitlines():
        fields = line.split()
        if len(fields) == 2 and fields[0] in ("ONLYINCOMPOUND", "FORBIDDENWORD", "NEEDAFFIX"):
            parts.add(fields[1])
        elif len(fields) == 2 and fields[0] == "FLAG":
            raise SystemExit(f"{path}.aff: flags of more than one character are not read here")
        if len(fields) < 4 or fields[0] not in ("PFX", "SFX"):
            continue
        kind, flag, strip, add = fields[:4]
        if len(fields) == 4:   # the heading of a group: cross product and count
            cross[kind, flag] = strip == "Y"
            continue
        add, _, flags = add.partition("/")
        condition = re.compile(f"^(?:{fields[4]})" if kind == "PFX" else f"(?:{fields[4]})$")
        (prefixes if kind == "PFX" else suffixes)[flag].append(
            Affix(cross[kind, flag], "" if strip == "0" else strip, "" if add == "0" else add, flags, condition))
    return prefixes, suffixes, parts


def suffixed(word, flags, suffixes):
    for flag in flags:
        for affix in suffixes.get(flag, ()):
            if word.endswith(affix.strip) and affix.condition.search(word):
                made = word[:len(word) - len(affix.strip)] + affix.add
                yield made, affix
                for again, second in suffixed(made, affix.flags, suffixes):
                    yield again, second


def prefixed(word, flags, prefixes, cross_only=False):
    for flag in flags:
        for affix in prefixes.get(flag, ()):
            if (affix.cross or not cross_only) and word.startswith(affix.strip) and affix.condition.search(word):
                yield affix.add + word[len(affix.strip):]


def dictionary(path):
    prefixes, suffixes, parts = read_affixes(path)
    words = set()
    for line in path.with_suffix(".dic").read_text(encoding="utf-8-sig").splitlines()[1:]:
        entry = line.split("\t")[0].strip()
        word, _, flags = entry.partition("/") if not entry.startswith("/") else (entry, "", "")
        if parts.intersection(flags):
            continue
        words.add(word)
        words.update(prefixed(word, flags, prefixes))
        for made, affix in suffixed(word, flags, suffixes):
            words.add(made)
            if affix.cross:
                words.update(prefixed(made, flags, prefixes, cross_only=True))
    return words


def forms():
    for folder in FOLDERS:
        for path in sorted((ROOT / "lexicon" / folder).glob("*.toml")):
            if path.name == "shorthand.toml":
                continue
            for kind, entries in tomllib.loads(path.read_text(encoding="utf-8")).items():
                for entry in entries if isinstance(entries, list) else ():
                    for key in KEYS:
                        for form in entry.get(key, ()):
                            # A slot is spelt where it is declared; alternatives stand here.
                            form = re.sub(r"[{|?}]", " ", re.sub(r"\{[^|}]*\}", " ", form))
                            yield " ".join(form.split()), f"{path.relative_to(ROOT)}: {kind} {entry.get('id', entry.get('fault', ''))}"


def pieces(word):
    """The parts that a dictionary would list: "well-oaked" is two, an ending "'s" is none."""
    for part in re.split(r"[-–/]", word):
        part = part.strip(".,;:!?\"()+")
        if part.endswith("'s"):
            part = part[:-2]
        if part:
            yield part


def trade_words():
    words, reason = {}, None
    for number, line in enumerate(TRADE_WORDS.read_text(encoding="utf-8").splitlines(), 1):
        line = line.strip()
        if line.startswith("##"):
            reason = line[2:].strip()
        elif line and not line.startswith("#"):
            assert reason, f"{TRADE_WORDS}:{number}: {line} stands under no reason"
            assert line not in words, f"{TRADE_WORDS}:{number}: {line} is listed twice"
            words[line] = number
    return words


def main():
    known = set()
    for path in DICTIONARIES:
        listed = dictionary(path)
        assert len(listed) > 100_000, f"{path}: only {len(listed)} words; is the package installed whole?"
        known.update(unicodedata.normalize("NFC", word).lower() for word in listed)
    # The expansion itself: words made by suffix, prefix and both, and two that are no words.
    for word, right in (("berries", 1), ("juicier", 1), ("unripened", 1), ("savoury", 1), ("savory", 1),
                        ("colour", 1), ("color", 1), ("blackcurants", 0), ("liquorise", 0)):
        assert (word in known) == bool(right), f"the expansion of the dictionaries is broken: {word}"

    trade, missing, used = trade_words(), collections.defaultdict(set), set()
    for form, where in forms():
        if " " in form and "--phrases" not in sys.argv:
            continue
        for word in form.split():
            for piece in pieces(word):
                key = unicodedata.normalize("NFC", piece).lower()
                if key in known:
                    continue
                if key in trade:
                    used.add(key)
                else:
                    missing[key].add(f"{form} ({where})")
    for key, where in sorted(missing.items()):
        print(f"{key}: in neither dictionary nor trade_words.txt: {'; '.join(sorted(where)[:3])}")
    failed = bool(missing)
    for word, number in trade.items():
        if word in known or word not in used:
            print(f"{TRADE_WORDS.name}:{number}: {word}: {'a dictionary has it' if word in known else 'no form needs it'}")
            failed = True
    return failed


if __name__ == "__main__":
    sys.exit(main())
