"""Runs the benchmarks of a build folder and prints the figures: table.py BUILD [--quick]."""
import json
import pathlib
import statistics
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
BENCH = ROOT / "tests/bench"
ROWS = [("note", "text to Note"), ("plain", "text to plain JSON"), ("full", "text to full JSON"),
        ("tidy", "text to full JSON with tidy text"), ("icu", "ICU word iteration alone")]


def make_notes(build):
    out = {kind: build / f"{kind}.notes" for kind in ("generated", "demo")}
    make = ["/usr/bin/python3", "-B", BENCH / "make_notes.py"]
    subprocess.run([*make, "generated", ROOT / "lexicon", ROOT / "tests/data/word_counts.tsv",
                    out["generated"]], check=True)
    subprocess.run([*make, "demo", ROOT / "examples/notes", out["demo"]], check=True)
    return out


def run_benchmarks(build, notes, quick):
    result = build / "bench.json"
    subprocess.run([build / "tests/bench/racking_bench", notes["generated"], notes["demo"],
                    f"--benchmark_out={result}", "--benchmark_out_format=json",
                    f"--benchmark_repetitions={3 if quick else 9}",
                    f"--benchmark_min_time={0.1 if quick else 0.3}",
                    "--benchmark_enable_random_interleaving=true",
                    "--benchmark_report_aggregates_only=true"],
                   check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    runs = json.loads(result.read_text())["benchmarks"]
    return {run["run_name"]: run for run in runs if run["aggregate_name"] == "median"}


def print_speed(kind, path, figures):
    notes = path.read_bytes().split(b"\0")[:-1]
    accented = sum(not note.isascii() for note in notes)
    print(f"\n{kind}: {len(notes)} notes of {sum(map(len, notes)) / len(notes):.0f} bytes, "
          f"{100 * accented / len(notes):.0f} % with accents or other marks")
    print(f"  {'':34}{'MB/s':>8}{'us/note':>9}{'ours/ICU':>10}{'JSON bytes/note':>17}")
    icu = figures[f"{kind}/icu"]["bytes_per_second"]
    for key, label in ROWS:
        run = figures[f"{kind}/{key}"]
        size = run.get("json_bytes_a_note")
        print(f"  {label:34}{run['bytes_per_second'] / 1e6:8.1f}"
              f"{1e6 / run['items_per_second']:9.2f}{run['bytes_per_second'] / icu:10.2f}"
              + (f"{size:17.0f}" if size else ""))


def print_start(build, toml_ms):
    runs = [[float(word) for word in subprocess.run([build / "tests/bench/fresh_process"],
                                                    check=True, text=True, stdout=subprocess.PIPE)
             .stdout.split()] for _ in range(15)]
    lexicon, reader, resident, private, own = (statistics.median(column) for column in zip(*runs))
    print("\nfresh process, median of 15")
    print(f"  house lexicon ready        {lexicon:7.2f} ms")
    print(f"  lexicon and reader ready   {reader:7.2f} ms")
    print(f"  the lexicon's own          {own / 1024:7.2f} MiB (compiled tables, mapped with the library, "
          "and what opening them allocates)")
    print(f"  resident after one note    {resident / 1024:7.2f} MiB, of it private "
          f"{private / 1024:.2f} MiB (the whole process: C++ runtime, ICU, RE2, library, lexicon, reader)")
    print(f"lexicon from its TOML files  {toml_ms:7.0f} ms")


def main():
    build = pathlib.Path(sys.argv[1]).resolve()
    notes = make_notes(build)
    figures = run_benchmarks(build, notes, "--quick" in sys.argv)
    print("medians; throughput ours / ICU's, same run, one thread, higher is better")
    for kind in ("generated", "demo"):
        print_speed(kind, notes[kind], figures)
    print_start(build, figures["lexicon_from_toml"]["real_time"])


main()
