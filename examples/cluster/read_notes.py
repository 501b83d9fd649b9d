"""Reads tens of millions of notes with Dask: partitions of a table, mapped over processes.

  read_notes.py IN.csv OUT/ [--column note] [--id id] [--workers N] [--rows 50000]

IN.csv needs a column of ids, each once. OUT/ receives one file a partition, the table of its
notes with their ids. A partition's file is written under another name and moved to its place, so
it is whole or not there: where a worker dies, Dask gives its partitions to another, which writes
the same files again, and nothing is lost or doubled. Run again after a stop, it does only what
is not yet there.

Needs Debian's python3-dask, python3-distributed and python3-pandas.
"""
import argparse
import io
import os
import pathlib
import sys

import dask
import dask.distributed
import pandas

import racking

_readers = {}


def reader():
    """One a process; it is made where it is used, so that nothing large is sent."""
    if "house" not in _readers:
        _readers["house"] = racking.Reader()
    return _readers["house"]


def read_partition(source, begin, end, column, id, out, jobs=1):
    """Reads the rows of the bytes begin … end - 1 into their file, and returns how many there are."""
    target = pathlib.Path(out) / part_name(begin, end)
    if target.exists():
        return len(pandas.read_csv(target, usecols=[id], dtype=str))
    with open(source, "rb") as file:
        heading = file.readline()
        file.seek(begin)
        rows = io.BytesIO(heading + file.read(end - begin))
    table = pandas.read_csv(rows, usecols=[id, column], dtype=str, keep_default_na=False, na_values=[""])
    notes = reader().read_many(table.set_index(id)[column], jobs=jobs)
    temporary = target.with_suffix(f".{os.getpid()}.tmp")
    notes.table().to_csv(temporary, index_label=id)
    os.replace(temporary, target)
    return len(notes)


def part_name(begin, end):
    return f"part-{begin:014d}-{end:014d}.csv"


def partitions(source, rows):
    """(begin, end) in bytes of so many rows each, after the heading. A line end inside quotes ends
    no row. One pass over the file."""
    with open(source, "rb") as file:
        begin = at = len(file.readline())
        count, quoted = 0, False
        for line in file:
            at += len(line)
            quoted ^= line.count(b'"') % 2 == 1
            count += not quoted
            if count == rows and not quoted:
                yield begin, at
                begin, count = at, 0
    if at > begin:
        yield begin, at


def read_all(client, source, out, column="note", id="id", rows=50000):
    """The number of notes read, over the workers of a client."""
    out = pathlib.Path(out)
    out.mkdir(parents=True, exist_ok=True)
    parts = list(partitions(source, rows))
    known = {part_name(*part) for part in parts}
    for left in out.iterdir():
        if left.suffix == ".tmp":
            left.unlink()     # of a worker that died before
        elif left.name not in known:
            raise FileExistsError(f"{left} is not of this table cut into {rows} rows; its notes would "
                                  "be there twice")
    tasks = [dask.delayed(read_partition)(str(source), *part, column, id, str(out)) for part in parts]
    done = sum(client.gather(client.compute(tasks, retries=3)))
    for left in out.glob("*.tmp"):
        left.unlink()
    return done


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("source")
    parser.add_argument("out")
    parser.add_argument("--column", default="note")
    parser.add_argument("--id", default="id")
    parser.add_argument("--workers", type=int, default=len(os.sched_getaffinity(0)))
    parser.add_argument("--rows", type=int, default=50000)
    options = parser.parse_args()
    with dask.distributed.LocalCluster(
            n_workers=options.workers, threads_per_worker=1, processes=True,
            dashboard_address=None) as cluster, dask.distributed.Client(cluster) as client:
        done = read_all(client, options.source, options.out, options.column, options.id, options.rows)
    print(f"{done:,} notes read into {options.out}")
    print("A note is no laboratory result; local rules and licensed practice come first.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
