"""The package passes a strict type checker, and the stub says what the compiled module has."""
import subprocess
import sys
import tempfile
import unittest

from _load import ENVIRONMENT, PACKAGE, SOURCE

USE = '''
import racking
from typing import Optional
reader = racking.Reader(racking.Lexicon.house())
note: racking.Note = reader.read("Plum.")
low: Optional[racking.Interval] = note.structure.tannin.range
words: list[str] = [aroma.text + aroma.descriptor.id for aroma in note.aromas]
for one in reader.read_many(["Plum.", None]):
    if one is not None:
        print(one.maturity.stage, one.structure["tannin"].label)
note.structure.grip
reader.read(7)
'''


# What no stub can say of pybind11's classes: their metaclass, and that some cannot be made.
ALLOWED = """
racking._racking.(Batch|Column|Descriptor|Lexicon|Note|Overlay|Suggestions|_Reader)
racking._racking.(Column|Descriptor|Lexicon|Overlay).__init__
"""


class Stubs(unittest.TestCase):
    def run_module(self, *arguments, code=0):
        with tempfile.TemporaryDirectory() as cache:
            done = subprocess.run(
                [sys.executable, "-m", *arguments], cwd=cache, capture_output=True, text=True,
                env={**ENVIRONMENT, "MYPYPATH": str(PACKAGE), "MYPY_CACHE_DIR": cache})
        self.assertEqual(done.returncode, code, done.stdout + done.stderr)
        return done.stdout

    def test_the_package_is_strict(self):
        self.run_module("mypy", "--strict", "--config-file", str(SOURCE / "pyproject.toml"),
                        "-p", "racking")

    def test_the_stub_is_that_of_the_module(self):
        with tempfile.NamedTemporaryFile("w", suffix=".txt") as allowed:
            allowed.write(ALLOWED)
            allowed.flush()
            out = self.run_module("mypy.stubtest", "racking._racking",
                                  "--ignore-missing-stub", "--allowlist", allowed.name,
                                  "--mypy-config-file", str(SOURCE / "pyproject.toml"))
        self.assertIn("Success", out)

    def test_users_are_told(self):
        out = self.run_module("mypy", "--strict", "-c", USE, code=1)
        self.assertIn('"Structure" has no attribute "grip"', out)
        self.assertIn('Argument 1 to "read"', out)
        self.assertIn("Found 2 errors", out)


if __name__ == "__main__":
    unittest.main()
