"""Prints how quick reading is from Python: speed.py NOTES, ended by NUL as tests/bench/make_notes.py
writes them. To be run on a quiet machine, beside tests/bench for the figures of C++."""
import pathlib
import resource
import sys
import threading
import time

del sys.path[0]   # beside this file lie the sources, which are not built
import racking


def quickest(work, turns=5):
    times = []
    for _ in range(turns):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return min(times)


def resident():
    """The most that was ever resident, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def two_threads(reader, texts):
    threads = [threading.Thread(target=reader.read_many, args=(texts, 1)) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def main(path):
    texts = [note.decode() for note in pathlib.Path(path).read_bytes().split(b"\0") if note]
    reader = racking.Reader()
    each = 1e9 / len(texts)
    print(f"read                      {quickest(lambda: [reader.read(text) for text in texts]) * each:9.0f} ns a note")
    one = quickest(lambda: reader.read_many(texts, jobs=1))
    print(f"read_many, one thread     {one * each:9.0f} ns a note")
    both = quickest(lambda: two_threads(reader, texts))
    print(f"read_many in two threads  {2 * one / both:9.2f} × one")
    notes = reader.read_many(texts)
    notes.table()
    print(f"table                     {quickest(notes.table) * each:9.0f} ns a note")
    print(f"aromas                    {quickest(notes.aromas) * each:9.0f} ns a note")
    short = ["plum"] * 100000
    print(f"a read of one word        {quickest(lambda: [reader.read(text) for text in short]) / 1e5 * 1e9:9.0f} ns")
    million = [f"{texts[number % len(texts)]} {number}" for number in range(1_000_000)]
    before = resident()
    notes = reader.read_many(million)
    table = notes.table()
    print(f"a million notes           {resident():9.0f} MB resident with their table; "
          f"{before:.0f} before, with the texts")
    return 0 if len(table) == 1_000_000 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
