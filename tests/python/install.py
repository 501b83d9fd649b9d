"""The package installs: offline with pip into a virtual environment, as a wheel that needs nothing
of the build, and by cmake --install."""
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest
import zipfile

from _load import BUILD, SOURCE

USE = ("import racking; note = racking.Reader().read('Damp cardboard; grippy.');"
       "print(racking.__file__); print(note.structure.tannin.label, note.condition.verdict)")
COPIED = ("CMakeLists.txt", "CHANGELOG.md", "LICENSE", "bindings", "include", "lexicon", "lib",
          "pyproject.toml", "setup.py")


def run(*command, **more):
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True, **more)
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
    return done.stdout


def clean(**more):
    environment = {name: value for name, value in os.environ.items()
                   if name not in ("PYTHONPATH", "RACKING_BUILD_DIR", "LD_LIBRARY_PATH")}
    return {**environment, **more}


class Install(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory(prefix="racking_install_")
        cls.addClassCleanup(cls.folder.cleanup)
        cls.root = pathlib.Path(cls.folder.name)
        # A copy of the sources: nothing is left in the tree, and nothing of its build is used.
        source = cls.root / "source"
        source.mkdir()
        run("cp", "-r", *(SOURCE / name for name in COPIED), source)
        run("/usr/bin/python3", "-m", "venv", "--system-site-packages", cls.root / "build_env")
        # ccache then knows what the build that is tested has compiled.
        environment = clean(CMAKE_BUILD_PARALLEL_LEVEL=str(os.cpu_count()),
                            CCACHE_BASEDIR=str(source), CCACHE_NOHASHDIR="1")
        run(cls.root / "build_env/bin/pip", "wheel", "--no-build-isolation", "--no-index",
            "--no-deps", "--wheel-dir", cls.root / "wheels", source, env=environment)
        cls.wheel, = (cls.root / "wheels").glob("*.whl")
        run("rm", "-rf", source)

    def test_the_wheel_is_complete(self):
        names = zipfile.ZipFile(self.wheel).namelist()
        expected = {path.name for path in (SOURCE / "bindings/python/racking").glob("*.py*")
                    if path.suffix in (".py", ".pyi") or path.name == "py.typed"} | {"py.typed"}
        inside = {name.removeprefix("racking/") for name in names if name.startswith("racking/")}
        self.assertEqual({name for name in inside if not name.endswith(".so")}, expected)
        self.assertEqual(sum(name.endswith(".so") for name in inside), 1)

    def test_it_says_what_it_needs(self):
        archive = zipfile.ZipFile(self.wheel)
        metadata, = (name for name in archive.namelist() if name.endswith("METADATA"))
        text = archive.read(metadata).decode()
        self.assertIn("libicu", text)
        self.assertIn("libre2", text)

    def test_it_runs_in_an_environment_with_nothing_else(self):
        environment = self.root / "fresh"
        run("/usr/bin/python3", "-m", "venv", environment)
        run(environment / "bin/pip", "install", "--no-index", "--no-deps", self.wheel, env=clean())
        out = run(environment / "bin/python", "-I", "-c", USE, cwd="/", env=clean())
        self.assertTrue(out.startswith(str(environment)), out)
        self.assertIn("firm to gripping suspect", out)
        out = run(environment / "bin/python", "-I", "-m", "racking", "--format", "tidy",
                  input="plum; grippy", cwd="/", env=clean())
        self.assertIn("plum", out)
        module, = environment.rglob("_racking*.so")
        needed = run("ldd", module)
        self.assertIn("libicuuc", needed)
        self.assertIn("libre2", needed)
        self.assertNotIn("not found", needed)
        self.assertNotIn("libracking", needed)
        self.assertEqual(run("readelf", "-d", module).count("RUNPATH"), 0)
        exported = [line.split()[-1] for line in run("nm", "-D", "--defined-only", module).splitlines()]
        self.assertEqual(exported, ["PyInit__racking"])

    def test_pip_installs_it_with_tables_where_debian_has_pandas(self):
        run(self.root / "build_env/bin/pip", "install", "--no-index", self.wheel, env=clean())
        code = "import racking; print(racking.Reader().read_many(['Grippy.', None]).table()['tannin_low'].tolist())"
        out = run(self.root / "build_env/bin/python", "-I", "-c", code, cwd="/", env=clean())
        self.assertEqual(out, "[4, <NA>]\n")

    def test_cmake_installs_it(self):
        prefix = self.root / "prefix"
        run("cmake", "--install", BUILD, "--prefix", prefix, "--component", "python")
        package, = prefix.rglob("racking/__init__.py")
        out = run(sys.executable, "-c", USE, cwd="/", env=clean(PYTHONPATH=str(package.parents[1])))
        self.assertTrue(out.startswith(str(prefix)), out)
        self.assertIn("firm to gripping suspect", out)


if __name__ == "__main__":
    unittest.main()
