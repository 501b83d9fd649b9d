"""Installs the library, moves the tree, and builds and runs a consumer against it there: with
find_package and with pkg-config, shared and static, in C and in C++."""
import os
import pathlib
import shlex
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
STRICT = ["-Wall", "-Wextra", "-pedantic", "-Werror"]


def run(*command, **settings):
    done = subprocess.run([str(word) for word in command], text=True, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, **settings)
    if done.returncode != 0:
        sys.exit(f"failed: {shlex.join(str(word) for word in command)}\n{done.stdout}")
    return done.stdout.strip()


def install(build, work):
    """Into one folder, then moved to another: the tree must hold no path of its own."""
    run("cmake", "--install", build, "--prefix", work / "first")
    shutil.move(work / "first", work / "moved")
    return work / "moved"


def library_folder(tree):
    return next(tree.rglob("libracking.a")).parent


def check_public_headers(tree, c_compiler, cpp_compiler):
    """Each header stands alone, under strict flags; racking.h also as C99 and as C++."""
    headers = sorted((tree / "include/racking").iterdir())
    assert len(headers) > 5, headers
    include = ["-I", tree / "include"]
    for header in headers:
        run(cpp_compiler, "-std=c++20", *STRICT, "-fsyntax-only", *include, "-x", "c++",
            "-", input=f"#include <racking/{header.name}>\n")
        words = header.read_text().lower()
        for foreign in ("<unicode/", "<re2/", "<toml"):
            assert foreign not in words, f"{header.name} includes {foreign}"
    run(c_compiler, "-std=c99", *STRICT, "-fsyntax-only", *include, "-x", "c", "-",
        input="#include <racking/racking.h>\n")


def with_find_package(tree, work, c_compiler, cpp_compiler):
    build = work / "find_package"
    run("cmake", "-S", HERE / "consumer", "-B", build, "-G", "Ninja",
        f"-DCMAKE_PREFIX_PATH={tree}", f"-DCMAKE_C_COMPILER={c_compiler}",
        f"-DCMAKE_CXX_COMPILER={cpp_compiler}", "-DCMAKE_BUILD_TYPE=Release")
    run("cmake", "--build", build)
    lexicon = (build / "lexicon_dir.txt").read_text() + "/lexicon"
    assert pathlib.Path(lexicon).resolve().is_relative_to(tree.resolve()), lexicon
    for language in ("c", "cpp"):
        for kind in ("racking", "racking_static"):
            program = build / f"{language}_{kind}"
            print(f"find_package {language} {kind}: {run(program, lexicon)}")
            check_linkage(program, kind == "racking")


def with_pkg_config(tree, work, c_compiler, cpp_compiler):
    libraries = library_folder(tree)
    environment = {**os.environ, "PKG_CONFIG_PATH": str(libraries / "pkgconfig"),
                   "LD_LIBRARY_PATH": str(libraries)}
    lexicon = run("pkg-config", "--variable=lexicondir", "racking", env=environment) + "/lexicon"
    compilers = {"c": [c_compiler, "-std=c99"], "cpp": [cpp_compiler, "-std=c++20"]}
    for language, compiler in compilers.items():
        source = HERE / f"consumer/consumer.{language}"
        for kind, option in (("shared", []), ("static", ["--static"])):
            flags = shlex.split(run("pkg-config", "--cflags", "--libs", *option, "racking",
                                    env=environment))
            if kind == "static":   # both libraries lie in one folder: take the archive
                flags = ["-l:libracking.a" if flag == "-lracking" else flag for flag in flags]
            program = work / f"pkg_config_{language}_{kind}"
            run(*compiler, *STRICT, source, "-o", program, *flags)
            print(f"pkg-config {language} {kind}: {run(program, lexicon, env=environment)}")
            check_linkage(program, kind == "shared")


def check_linkage(program, shared):
    needed = run("readelf", "-d", program)
    assert ("libracking.so" in needed) == shared, f"{program}: {needed}"


def main():
    build = pathlib.Path(sys.argv[1])
    c_compiler, cpp_compiler = sys.argv[2:4]
    with tempfile.TemporaryDirectory(prefix="racking-install-") as folder:
        work = pathlib.Path(folder)
        tree = install(build, work)
        check_public_headers(tree, c_compiler, cpp_compiler)
        with_find_package(tree, work, c_compiler, cpp_compiler)
        with_pkg_config(tree, work, c_compiler, cpp_compiler)


main()
