"""The example notebook runs from a clean kernel; the outputs that are committed are of its cells."""
import pathlib
import subprocess
import sys
import tempfile
import unittest

from _load import ENVIRONMENT, SOURCE
import nbformat

FOLDER = SOURCE / "examples" / "notebook"


def code_cells(path):
    return [cell for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]


def kinds(cell):
    return [sorted(output.get("data", {})) or output.output_type for output in cell.outputs]


class Notebooks(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder, "executed.ipynb")
            environment = {name: value for name, value in ENVIRONMENT.items() if name != "MPLBACKEND"}
            done = subprocess.run([sys.executable, FOLDER / "build_notebook.py", out], env=environment,
                                  capture_output=True, text=True, timeout=300)
            assert done.returncode == 0, done.stderr[-3000:]
            cls.executed = code_cells(out)
        cls.committed = code_cells(FOLDER / "two_vintages.ipynb")

    def text(self, word):
        cell, = (cell for cell in self.executed if word in cell.source and "=" in cell.source)
        return "\n".join(output.data["text/plain"] for output in cell.outputs)

    def test_the_committed_outputs_are_of_these_cells(self):
        self.assertEqual([cell.source for cell in self.committed], [cell.source for cell in self.executed])
        self.assertEqual([kinds(cell) for cell in self.committed], [kinds(cell) for cell in self.executed])

    def test_the_walk_comes_to_its_ends(self):
        look = self.text("second_look = ")
        for row in ("T05", "T11", "T12", "T15"):
            self.assertIn(row, look)
        self.assertNotIn("T01", look)
        pictures = sum("image/png" in output.get("data", {}) for cell in self.executed for output in cell.outputs)
        self.assertEqual(pictures, 4)
        shown = [output.data["text/html"] for cell in self.executed for output in cell.outputs
                 if "text/html" in output.get("data", {})]
        self.assertTrue(any("<mark>" in page and 'class="scale"' in page for page in shown))


if __name__ == "__main__":
    unittest.main()
