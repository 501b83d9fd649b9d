"""Compares what the shared library exports with exports.txt, and lets nothing but our own names
through. `check_exports.py LIBRARY --write` takes a deliberate change into the list."""
import pathlib
import re
import subprocess
import sys

LIST = pathlib.Path(__file__).resolve().parent / "exports.txt"
C_FUNCTION = re.compile(r"racking_[a-z0-9_]+")
# A template's name has its result type before it.
CPP_NAME = re.compile(r"(typeinfo for |typeinfo name for |vtable for )?racking::v1::"
                      r"|std::optional<racking::v1::\w+> racking::v1::")


def exported(library):
    lines = subprocess.run(["nm", "--dynamic", "--defined-only", "--demangle", library], text=True,
                           check=True, stdout=subprocess.PIPE).stdout.splitlines()
    return sorted({line.split(" ", 2)[2] for line in lines})


def main():
    names = exported(sys.argv[1])
    foreign = [name for name in names if not C_FUNCTION.fullmatch(name) and not CPP_NAME.match(name)]
    if foreign:
        sys.exit("exported, but not ours:\n  " + "\n  ".join(foreign))
    if "--write" in sys.argv:
        LIST.write_text("\n".join(names) + "\n")
        return
    listed = LIST.read_text().splitlines()
    added, gone = sorted(set(names) - set(listed)), sorted(set(listed) - set(names))
    for name in added:
        print("new:", name)
    for name in gone:
        print("gone:", name)
    if added or gone:
        sys.exit(f"{LIST} no longer holds; if that is meant: check_exports.py LIBRARY --write")
    print(len(names), "names, as listed")


main()
