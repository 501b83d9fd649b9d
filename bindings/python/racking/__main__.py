"""python -m racking FILE: reads a file of notes and writes down what they say.

For the common case; the program note_cleanup also repairs broken tables, proposes words to add and
makes a page.
"""
from __future__ import annotations

import argparse
import contextlib
import os
import re
import sys
from typing import IO, Iterator, List, Optional

from . import words
from .errors import BadArgument, Error
from .files import written_whole
from .markup import resolved
from .notes import Notes
from .reader import Reader
from .rows import FORMATS, Row, decoded, guessed, rows_of
from .vocabulary import Dimension, Stance
from ._racking import Lexicon, Note, Overlay, version

DONE, SOME_UNREAD, USAGE, UNREADABLE = range(4)
CAUTION = ("Tasting involves alcohol: spit, rest, and never taste and drive. A note is no "
           "laboratory result; an off bottle can be unpleasant, so ask for another. Local rules "
           "and licensed practice come first.")


def parser() -> argparse.ArgumentParser:
    made = argparse.ArgumentParser(
        prog="python -m racking", description="Reads wine tasting notes and writes down what they say.",
        epilog=CAUTION)
    made.add_argument("files", nargs="*", metavar="FILE", help="files of notes; none, or -: standard input")
    made.add_argument("--from", dest="kind", choices=FORMATS, help="guessed from name and content")
    made.add_argument("--encoding", help="of the input (found out)")
    made.add_argument("--column", help="column or key of the notes (found by its name)")
    made.add_argument("--id-column", help="column or key of their ids, likewise")
    made.add_argument("--format", choices=("jsonl", "csv", "tidy"), default="jsonl",
                      help="a record a line; a row a note; a cleaned note a line")
    made.add_argument("--plain", action="store_true", help="shorter records, for jsonl")
    made.add_argument("--offsets", choices=("byte", "codepoint", "utf16"), default="codepoint",
                      help="unit of spans, for jsonl")
    made.add_argument("--lexicon", action="append", default=[], metavar="DIR",
                      help="a folder of your own words, laid on the house lexicon; one with a "
                           "lexicon.toml replaces it")
    made.add_argument("--jobs", type=int, help="threads that read notes (one a processor)")
    made.add_argument("--output", metavar="FILE", help="written whole or not at all")
    made.add_argument("--version", action="version", version=f"racking {version()}")
    return made


def lexicon_of(folders: List[str]) -> Lexicon:
    lexicon = Lexicon.house()
    for folder in folders:
        if os.path.exists(os.path.join(folder, "lexicon.toml")):
            lexicon = Lexicon.load(folder)
        else:
            lexicon = lexicon.overlaid(Overlay.load(folder))
    return lexicon


def rows_in(options: argparse.Namespace) -> Iterator[Row]:
    files = options.files or ["-"]
    for name in files:
        if name == "-":
            data = sys.stdin.buffer.read()
        else:
            with open(name, "rb") as file:
                data = file.read()
        try:
            text = decoded(data, options.encoding)
        except LookupError:
            raise BadArgument(
                f"--encoding {options.encoding}: not an encoding that is known here") from None
        prefix = "row " if len(files) == 1 else f"{os.path.basename(name)} row "
        kind = options.kind or guessed(
            "standard input" if name == "-" else name, text,
            [one for one in (options.column, options.id_column) if one])
        yield from rows_of(text, kind, options.column, options.id_column, prefix)


@contextlib.contextmanager
def output(path: Optional[str]) -> Iterator[IO[bytes]]:
    if path in (None, "-"):
        yield sys.stdout.buffer
        sys.stdout.buffer.flush()
    else:
        assert path is not None
        with written_whole(path) as file:
            yield file


def table_heading() -> str:
    scales = "".join(f",{dimension}_low,{dimension}_high,{dimension}_label" for dimension in Dimension)
    return f"id,families,aromas{scales},colour,condition,maturity,alcohol,tidy\n"


def aromas_found(note: Note) -> List[str]:
    found = []
    for aroma in note.aromas:
        label = aroma.descriptor.label
        found.append({Stance.hedged: f"{label}?", Stance.denied: f"no {label}"}.get(aroma.stance, label))
    return list(dict.fromkeys(found))


def table_row(note: Note, id: str) -> str:
    cells = [id, "; ".join(family.id for family, _ in words.families_found(note)),
             "; ".join(aromas_found(note))]
    for dimension in Dimension:
        level = note.structure[dimension]
        cells += ["", "", ""] if level.range is None else [
            str(level.range.low), str(level.range.high), level.label or ""]
    cells += [words.sight_words(note), words.condition_words(note), words.maturity_words(note) or "",
              words.alcohol_words(note), note.tidy()]
    return ",".join(map(quoted, cells)) + "\n"


def quoted(cell: str) -> str:
    """As any reader of tables takes it, whatever separator it expects."""
    if not re.search(r'[,;\t"\r\n]|^ | $', cell):
        return cell
    return '"' + cell.replace('"', '""') + '"'


def write(file: IO[bytes], notes: Notes, ids: List[str], options: argparse.Namespace) -> None:
    if options.format == "jsonl":
        depth = "plain" if options.plain else "full"
        lines = notes.to_jsonl(depth=depth, offsets=options.offsets, ids=ids) or ""
        file.write(lines.encode())
        return
    for note, id in zip(notes, ids):
        if note is None:
            continue
        line = table_row(note, id) if options.format == "csv" else " ".join(note.tidy().split()) + "\n"
        file.write(line.encode())


def clean_up(options: argparse.Namespace) -> int:
    reader = Reader(lexicon_of(options.lexicon))
    unread = marked_up = 0
    ids: List[str] = []
    texts: List[str] = []
    for row in rows_in(options):
        reason = row.unread
        if not reason:
            try:
                str(row.text).encode()
                if len(str(row.text).encode()) > reader.size_limit:
                    reason = "the note is larger than can be read"
            except UnicodeEncodeError:
                reason = "the text holds a lone surrogate"
        if reason:
            unread += 1
            print(f"racking: line {row.line}: {reason}", file=sys.stderr)
            continue
        ids.append(row.id)
        text, pieces = resolved(str(row.text))
        texts.append(text)
        marked_up += pieces > 0
    chunk = 1 << 14
    with output(options.output) as file:
        if options.format == "csv":
            file.write(table_heading().encode())
        for begin in range(0, len(texts), chunk):
            notes = reader.read_many(texts[begin:begin + chunk], jobs=options.jobs)
            write(file, notes, ids[begin:begin + chunk], options)
    if marked_up:
        print(f"racking: HTML was resolved in {marked_up} notes", file=sys.stderr)
    return SOME_UNREAD if unread else DONE


def main(arguments: Optional[List[str]] = None) -> int:
    options = parser().parse_args(arguments)
    try:
        return clean_up(options)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except BadArgument as error:
        print(f"racking: {error}", file=sys.stderr)
        return USAGE
    except Error as error:
        for problem in error.problems:
            print(problem, file=sys.stderr)
        print(f"racking: {error}", file=sys.stderr)
        return UNREADABLE
    except OSError as error:
        print(f"racking: {error}", file=sys.stderr)
        return UNREADABLE
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main())
