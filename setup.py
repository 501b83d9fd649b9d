"""Has CMake build the compiled module of the Python package. The rest is in pyproject.toml."""
import os
import pathlib
import subprocess
import sys

from setuptools import Extension, setup
from setuptools.command.build_ext import build_ext

ROOT = pathlib.Path(__file__).resolve().parent


class CMakeBuild(build_ext):
    """Builds the target `_racking` alone: no tests, no examples, no development build touched.

    RACKING_CMAKE_ARGUMENTS: more arguments for CMake. RACKING_CMAKE_BUILD: a folder to build in
    and keep, so that the next build is quick."""

    def build_extension(self, extension):
        target = pathlib.Path(self.get_ext_fullpath(extension.name)).resolve()
        folder = pathlib.Path(os.environ.get("RACKING_CMAKE_BUILD") or
                              pathlib.Path(self.build_temp).resolve() / "cmake")
        folder.mkdir(parents=True, exist_ok=True)
        generator = [] if (folder / "CMakeCache.txt").exists() else ["-G", "Ninja"]
        subprocess.run(
            ["cmake", "-S", str(ROOT), "-B", str(folder), *generator,
             "-DCMAKE_BUILD_TYPE=Release", "-DRACKING_BUILD_PYTHON=ON", "-DRACKING_BUILD_TESTS=OFF",
             "-DRACKING_BUILD_EXAMPLES=OFF", f"-DPython_EXECUTABLE={sys.executable}",
             *os.environ.get("RACKING_CMAKE_ARGUMENTS", "").split()],
            check=True)
        jobs = ["-j", str(self.parallel)] if self.parallel else []
        subprocess.run(["cmake", "--build", str(folder), "--target", "_racking", *jobs], check=True)
        target.parent.mkdir(parents=True, exist_ok=True)
        self.copy_file(str(folder / "python" / "racking" / target.name), str(target))
        subprocess.run(["strip", "--strip-unneeded", str(target)], check=False)


# Everything that building leaves lies below build/, which git ignores.
BUILD = ROOT / "build" / "python"
BUILD.mkdir(parents=True, exist_ok=True)
os.chdir(ROOT)
setup(
    ext_modules=[Extension("racking._racking", sources=[])],
    cmdclass={"build_ext": CMakeBuild},
    options={
        "build": {"build_base": "build/python"},
        "egg_info": {"egg_base": "build/python"},
    },
)
