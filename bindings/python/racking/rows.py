"""Notes out of a file: a table, JSON Lines, a note a line or a note a paragraph."""
from __future__ import annotations

import csv
import io
import json
import re
from typing import Dict, Iterator, List, NamedTuple, Optional, Sequence

from .errors import BadArgument

FORMATS = ("csv", "tsv", "jsonl", "lines", "paragraphs")
# The surest first.
NOTE_HEADINGS = (
    "tastingnote", "tastingnotes", "note", "notes", "text", "description", "review", "reviewtext",
    "comment", "comments", "tasting", "impression", "impressions", "remark", "remarks", "body",
    "content", "notetext", "winenote", "winenotes")
ID_HEADINGS = (
    "id", "noteid", "rowid", "recordid", "uuid", "key", "entry", "entryid", "code", "rowno", "row",
    "ref", "reference", "no", "nr", "number", "lot", "sku")


class Row(NamedTuple):
    """One note of a file; `unread` says why it is none."""

    id: str
    text: Optional[str]
    line: int
    unread: str = ""


def decoded(data: bytes, encoding: Optional[str] = None) -> str:
    """UTF-8 or UTF-16 by its mark, UTF-8 if the bytes are, else Windows-1252."""
    if encoding is not None:
        return data.decode(encoding, "replace")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def plain(heading: str) -> str:
    return re.sub(r"[\x00-\x7f]", lambda c: c[0].lower() if c[0].isalnum() else "", heading)


def best(headings: Sequence[str], known: Sequence[str]) -> Optional[int]:
    ranked = [(known.index(plain(name)), at) for at, name in enumerate(headings)
              if plain(name) in known]
    return min(ranked)[1] if ranked else None


def named(headings: Sequence[str], name: str, option: str) -> int:
    for at, heading in enumerate(headings):
        if heading == name or plain(heading) == plain(name) != "":
            return at
    if name.isdecimal() and 1 <= int(name) <= len(headings):
        return int(name) - 1
    listed = ", ".join(f"“{heading}”" for heading in headings)
    raise BadArgument(f"{option} {name}: no such column; the first row has {listed}")


def separator_of(text: str) -> str:
    """The one that the first line has most of, outside quotes."""
    first = re.sub(r'"[^"]*"', "", text.split("\n", 1)[0])
    return max(",;\t", key=first.count)


def is_json_lines(text: str) -> bool:
    first = next((line for line in text.splitlines() if line.strip()), "")
    if not first.lstrip().startswith("{"):
        return False
    try:
        return isinstance(json.loads(first), dict)
    except ValueError:
        return False


def is_table(text: str) -> bool:
    headings: List[str] = next(csv.reader(io.StringIO(text), delimiter=separator_of(text)), [])
    return len(headings) > 1 and best(headings, NOTE_HEADINGS) is not None


def guessed(name: str, text: str, columns: Sequence[str] = ()) -> str:
    """The format, from name and content. Named columns make a table of what has them among its
    headings; raises BadArgument if nothing shows a table and one is named."""
    if is_json_lines(text):
        return "jsonl"
    extension = name.rpartition(".")[2].lower()
    kind = {"csv": "csv", "tsv": "tsv", "tab": "tsv", "jsonl": "jsonl", "ndjson": "jsonl",
            "json": "jsonl"}.get(extension)
    if kind is not None:
        return kind
    if is_table(text):
        return "tsv" if separator_of(text) == "\t" else "csv"
    if columns:
        headings: List[str] = next(csv.reader(io.StringIO(text), delimiter=separator_of(text)), [])
        if {plain(column) for column in columns} <= {plain(heading) for heading in headings}:
            return "tsv" if separator_of(text) == "\t" else "csv"
        raise BadArgument(f"{name}: --column and --id-column are for tables and JSON Lines, and this "
                          "looks like plain text; if it is none, say --from csv, tsv or jsonl")
    lines = [line for line in text.splitlines() if line.strip()]
    breaks = len(re.findall(r"\S[^\S\n]*\n(?:[^\S\n]*\n)+(?=[^\n]*\S)", text))
    return "paragraphs" if breaks and breaks * 6 >= len(lines) - 1 else "lines"


def rows_of(text: str, kind: str, column: Optional[str] = None,
            id_column: Optional[str] = None, prefix: str = "row ") -> Iterator[Row]:
    """The rows of a file's text; ids are the file's own, else `prefix` and a count from 1."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if kind in ("csv", "tsv"):
        source = table_rows(text, kind, column, id_column)
    elif kind == "jsonl":
        source = json_rows(text, column, id_column)
    elif column is not None or id_column is not None:
        raise BadArgument("--column and --id-column are for tables and JSON Lines, not plain text")
    else:
        source = text_rows(text, kind)
    for number, row in enumerate(source, 1):
        yield row if row.id else row._replace(id=f"{prefix}{number}")


def table_rows(text: str, kind: str, column: Optional[str],
               id_column: Optional[str]) -> Iterator[Row]:
    separator = "\t" if kind == "tsv" else separator_of(text)
    limit = csv.field_size_limit(2**31 - 1)
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
        rows = [(reader.line_num, row) for row in reader if any(row)]
    finally:
        csv.field_size_limit(limit)
    if not rows:
        return
    headings = rows[0][1]
    note = best(headings, NOTE_HEADINGS) if column is None else named(headings, column, "--column")
    id_at = best(headings, ID_HEADINGS) if id_column is None else named(
        headings, id_column, "--id-column")
    if note is None:
        raise BadArgument("no column is named for notes; say which with --column")
    for line, row in rows[1:]:
        id = row[id_at] if id_at is not None and id_at < len(row) else ""
        if note >= len(row):
            yield Row(id, None, line, f"the row has {len(row)} of {len(headings)} fields")
        elif len(row) > len(headings):
            yield Row(id, None, line, f"the row has {len(row)} fields instead of {len(headings)}; "
                                      "put the note in quotes")
        else:
            yield Row(id, row[note], line)


def json_rows(text: str, column: Optional[str], id_column: Optional[str]) -> Iterator[Row]:
    for line, content in enumerate(text.split("\n"), 1):
        if not content.strip():
            continue
        try:
            value = json.loads(content)
        except ValueError as error:
            yield Row("", None, line, f"not JSON: {error}")
            continue
        if isinstance(value, str):
            yield Row("", value, line)
        elif isinstance(value, dict):
            yield json_row(value, line, column, id_column)
        else:
            yield Row("", None, line, "neither an object nor a string")


def json_row(value: Dict[str, object], line: int, column: Optional[str],
             id_column: Optional[str]) -> Row:
    strings = [key for key, one in value.items() if isinstance(one, str)]
    id_key = id_column if id_column is not None else key_of(list(value), ID_HEADINGS)
    id = value.get(id_key) if id_key is not None else None
    name = id if isinstance(id, str) else "" if id is None else json.dumps(id)
    key = column if column is not None else key_of(strings, NOTE_HEADINGS)
    if key is None:
        return Row(name, None, line, "no text: no key such as note, text or description")
    found = value.get(key)
    if not isinstance(found, str):
        return Row(name, None, line, f"no text under “{key}”")
    return Row(name, found, line)


def key_of(keys: List[str], known: Sequence[str]) -> Optional[str]:
    at = best(keys, known)
    return None if at is None else keys[at]


def text_rows(text: str, kind: str) -> Iterator[Row]:
    kept: List[str] = []
    began = 0
    for line, content in enumerate(text.split("\n"), 1):
        if content.strip():
            if kind == "lines":
                yield Row("", content, line)
            else:
                began = began or line
                kept.append(content)
        elif kept:
            yield Row("", "\n".join(kept), began)
            kept, began = [], 0
    if kept:
        yield Row("", "\n".join(kept), began)
