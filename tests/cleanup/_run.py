"""Runs note_cleanup, found in NOTE_CLEANUP, on bytes or files."""
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("NOTE_CLEANUP", "note_cleanup")
SOURCE = pathlib.Path(os.environ.get("RACKING_SOURCE_DIR", pathlib.Path(__file__).parents[2]))
NOTES = SOURCE / "examples" / "notes"


def run(*arguments, given=b"", timeout=300):
    """The finished process; its output and errors are bytes."""
    if isinstance(given, str):
        given = given.encode()
    return subprocess.run([PROGRAM, *map(str, arguments)], input=given, capture_output=True,
                          timeout=timeout, check=False)


class Case(unittest.TestCase):
    """A test with a folder of its own."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="note_cleanup_"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def file(self, name, content):
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def records(self, *arguments, given=b"", code=0):
        """The JSON Lines of a run that ends with `code`."""
        done = run(*arguments, given=given)
        self.assertEqual(done.returncode, code, done.stderr.decode())
        return [json.loads(line) for line in done.stdout.decode().splitlines()]

    def texts(self, *arguments, given=b"", code=0):
        return [record["text"] for record in self.records(*arguments, given=given, code=code)]
