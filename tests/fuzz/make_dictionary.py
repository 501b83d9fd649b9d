"""Writes a libFuzzer dictionary of the lexicon's own words and keys: make_dictionary.py LEXICON OUT."""
import pathlib
import re
import sys

EXTRA = ["[[descriptor]]", "[[phrase]]", "[[cue]]", "[[sense]]", "[[level]]", "[[name]]", "[[slot]]", "{*}", "{*?}", "?}", "{", "= [", "\"]\n",
         "13.5%", "12 g/L", "pH 3.4", "18/20", "2015", "med(+)", "\u00e8", "\u2019", "\u2013", "\ufeff",
         "\r\n", "N: ", "P: ", "\xf0\x9f\x8d\xb7"]
MOST = 1500


def quoted(word):
    text = "".join(f"\\x{byte:02x}" if byte < 32 or byte > 126 or byte in b'"\\' else chr(byte)
                   for byte in word.encode())
    return f'"{text}"'


def main():
    words = set(EXTRA)
    found = set()
    for path in sorted(pathlib.Path(sys.argv[1]).rglob("*.toml")):
        text = path.read_text()
        words.update(re.findall(r"^(\w+) = ", text, re.MULTILINE))
        found.update(word for word in re.findall(r'"([^"\n]{2,24})"', text) if "<" not in word)
    every = max(1, len(found) // MOST)
    words.update(sorted(found)[::every])
    pathlib.Path(sys.argv[2]).write_text("\n".join(map(quoted, sorted(words))) + "\n")


main()
