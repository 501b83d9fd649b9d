"""What is imported when: reading needs neither numpy nor pandas; the accessor needs no order."""
import subprocess
import sys
import unittest

from _load import ENVIRONMENT


def run(code):
    done = subprocess.run([sys.executable, "-c", code], env=ENVIRONMENT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


class Light(unittest.TestCase):
    def test_reading_needs_neither_numpy_nor_pandas(self):
        out = run("import sys, racking\n"
                  "reader = racking.Reader()\n"
                  "note = reader.read('Plum, grippy.'); repr(note); note._repr_html_(); note.to_json()\n"
                  "notes = reader.read_many(['Plum.', None, float('nan')]); notes.to_jsonl(); notes._repr_html_()\n"
                  "print([name for name in ('numpy', 'pandas', 'matplotlib') if name in sys.modules])")
        self.assertEqual(out, "[]")

    def test_without_pandas_the_rest_works(self):
        out = run("import sys\nsys.modules['pandas'] = sys.modules['numpy'] = None\n"
                  "try:\n    import racking\nexcept ImportError:\n    del sys.modules['pandas']; import racking\n"
                  "sys.modules['pandas'] = None\n"
                  "notes = racking.Reader().read_many(['Grippy.'])\n"
                  "print(notes[0].structure.tannin.label)\n"
                  "try:\n    notes.table()\nexcept ImportError:\n    print('no tables')")
        self.assertEqual(out, "firm to gripping\nno tables")

    def test_the_accessor_in_either_order(self):
        use = "print(pandas.Series(['Grippy.']).racking.read()[0].structure.tannin.label)"
        for imports in ("import pandas, racking", "import racking, pandas",
                        "import racking\nimport pandas.api.types\nimport pandas",
                        "import racking, importlib\npandas = importlib.import_module('pandas')"):
            self.assertEqual(run(f"{imports}\n{use}"), "firm to gripping", imports)

    def test_pandas_is_itself_after_that(self):
        out = run("import racking, pandas, importlib, sys\n"
                  "print(pandas.__spec__.name, type(pandas.__loader__).__name__,\n"
                  "      [finder for finder in sys.meta_path if 'racking' in str(type(finder))])\n"
                  "import importlib.resources\nprint(importlib.resources.files('pandas').joinpath('io').is_dir())")
        self.assertEqual(out, "pandas SourceFileLoader []\nTrue")

    def test_nothing_is_printed(self):
        self.assertEqual(run("import racking\nracking.Reader().read('Plum')"), "")


if __name__ == "__main__":
    unittest.main()
