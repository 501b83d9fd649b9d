"""Tables of many notes: pandas over columns that C++ has filled."""
from __future__ import annotations

from typing import TYPE_CHECKING, Any, Dict, Iterable, List, Optional, Type

import enum

import numpy
import pandas

from ._racking import Batch, step_label
from .vocabulary import (
    Dimension, Frame, Hue, Phase, Stage, Stance, Verdict, When, WineColour, WineStyle,
)

if TYPE_CHECKING:
    from .notes import Notes

__all__ = ["aroma_table", "note_table", "structure_table"]

Array = Any


class Columns:
    """The columns of a batch as pandas has them; `keep`: of which rows, None for all."""

    def __init__(self, batch: Batch, keep: Optional[Array] = None) -> None:
        self.batch = batch
        self.keep = keep

    def raw(self, name: str) -> Array:
        values = numpy.asarray(memoryview(self.batch.column(name)))
        return values if self.keep is None else values[self.keep]

    def integers(self, name: str, missing: Optional[Array] = None, dtype: str = "uint32") -> Array:
        values = self.raw(name).astype(dtype)
        if missing is None:
            missing = numpy.zeros(len(values), dtype=bool)
        return pandas.arrays.IntegerArray(values, missing.copy())

    def steps(self, name: str) -> Array:
        """Steps from 1; 0 is missing."""
        values = self.raw(name)
        return pandas.arrays.IntegerArray(values.astype("int8"), values == 0)

    def floats(self, name: str) -> Array:
        values = self.raw(name)
        return pandas.arrays.FloatingArray(values.copy(), numpy.isnan(values))

    def category(self, name: str, members: Type[enum.StrEnum]) -> Array:
        return categorical(self.raw(name), [member.value for member in members])

    def truth(self, name: str, missing: Optional[Array] = None) -> Array:
        values = self.raw(name).astype(bool)
        if missing is None:
            return values
        return pandas.arrays.BooleanArray(values, missing.copy())

    def strings(self, name: str) -> Array:
        """Strings of the batch, as categories in alphabetical order."""
        codes = self.raw(name)
        used = numpy.unique(codes[codes >= 0])
        every = self.batch.strings()
        words = sorted((every[number], number) for number in used.tolist())
        places = numpy.full(len(every) + 1, -1, dtype="int32")   # the last: for code -1
        for place, (_, number) in enumerate(words):
            places[number] = place
        return categorical(places[codes], [word for word, _ in words])


def categorical(codes: Array, categories: Iterable[str], ordered: bool = False) -> Array:
    # A copy: the batch's own columns are not for changing.
    return pandas.Categorical.from_codes(numpy.array(codes), list(categories), ordered=ordered)


def row_index(notes: Notes) -> Any:
    return pandas.RangeIndex(len(notes)) if notes.index is None else notes.index


def frame_of(columns: Dict[str, Array], index: Any) -> pandas.DataFrame:
    # Each column stands alone and is ours: no copy into blocks.
    return pandas.DataFrame(columns, index=index, copy=False)


def note_table(notes: Notes, tidy: bool, families: bool) -> pandas.DataFrame:
    batch = notes._batch
    read = Columns(batch)
    missing = read.raw("note.missing").astype(bool)
    columns: Dict[str, Array] = {
        "language": categorical(numpy.where(missing, -1, read.raw("note.language")),
                                ["en", "fr", "it", "es", "de", "pt", "und"]),
        "wine_colour": read.category("note.colour", WineColour),
        "wine_style": read.category("note.style", WineStyle),
        "core_hue": read.category("note.core", Hue),
        "rim_hue": read.category("note.rim", Hue),
        "depth_low": read.steps("note.depth_low"),
        "depth_high": read.steps("note.depth_high"),
    }
    for dimension in Dimension:
        for end in ("low", "high"):
            columns[f"{dimension}_{end}"] = read.steps(f"note.{dimension}_{end}")
    columns["conflicts"] = read.integers("note.conflicts", missing)
    columns["verdict"] = read.category("note.verdict", Verdict)
    columns["faults"] = read.strings("note.faults")
    stages = [stage.value for stage in Stage]
    for end in ("from", "to"):
        columns[f"stage_{end}"] = categorical(read.raw(f"note.stage_{end}"), stages, ordered=True)
    for name in ("alcohol_value_low", "alcohol_value_high"):
        columns[name] = read.floats(f"note.{name}")
    vintage = read.raw("note.vintage")
    unknown = numpy.isnan(vintage)
    columns["vintage_value"] = pandas.arrays.IntegerArray(
        numpy.where(unknown, 0, vintage).astype("int32"), unknown)
    for name in ("aromas", "remarks", "unmapped"):
        columns[name] = read.integers(f"note.{name}", missing)
    columns["coverage"] = read.floats("note.coverage")
    if families:
        columns.update(family_counts(notes, missing))
    if tidy:
        columns["tidy"] = tidy_texts(notes)
    return frame_of(columns, row_index(notes))


def family_counts(notes: Notes, missing: Array) -> Dict[str, Array]:
    """How many aromas of each family a note finds, by the family's id."""
    read = Columns(notes._batch)
    found = ((read.raw("aroma.aside") == 0) & (read.raw("aroma.family") >= 0)
             & (read.raw("aroma.stance") != list(Stance).index(Stance.denied)))
    note = read.raw("aroma.note")[found]
    family = read.raw("aroma.family")[found]
    counts: Dict[str, Array] = {}
    for descriptor in notes.reader.lexicon.families:
        of = numpy.bincount(note[family == descriptor.index], minlength=len(notes))
        counts[descriptor.id] = pandas.arrays.IntegerArray(of.astype("uint16"), missing.copy())
    return counts


def tidy_texts(notes: Notes) -> Array:
    texts: List[Optional[str]] = []
    chunk = 1 << 14
    for begin in range(0, len(notes), chunk):
        texts += notes._batch.tidy_texts(begin, begin + chunk, notes._jobs)
    return pandas.array(texts, dtype="string")


def aroma_table(notes: Notes, asides: bool, words: bool) -> pandas.DataFrame:
    aside = numpy.asarray(memoryview(notes._batch.column("aroma.aside"))).astype(bool)
    read = Columns(notes._batch, None if asides or not aside.any() else ~aside)
    lexicon = notes.reader.lexicon
    ids = [descriptor.id for descriptor in lexicon.descriptors]
    families = [descriptor.id for descriptor in lexicon.families]
    places = numpy.full(len(ids) + 1, -1, dtype="int16")         # the last: for code -1
    places[[descriptor.index for descriptor in lexicon.families]] = numpy.arange(len(families))
    columns: Dict[str, Array] = {
        "descriptor": categorical(read.raw("aroma.descriptor"), ids),
        "family": categorical(places[read.raw("aroma.family")], families),
    }
    if words:
        spoken = numpy.array(notes._batch.aroma_words(), dtype=object)
        columns["words"] = spoken if read.keep is None else spoken[read.keep]
    columns.update({
        "begin": read.raw("aroma.begin").astype("int32"),
        "end": read.raw("aroma.end").astype("int32"),
        "strength_low": read.steps("aroma.strength_low"),
        "strength_high": read.steps("aroma.strength_high"),
        "state": read.strings("aroma.state"),
        "phase": read.category("aroma.phase", Phase),
        "stance": read.category("aroma.stance", Stance),
        "when": read.category("aroma.when", When),
        "frame": read.category("aroma.frame", Frame),
        "respelled": read.truth("aroma.respelled"),
    })
    if asides:
        columns["aside"] = aside
    return frame_of(columns, row_index(notes).take(read.raw("aroma.note").astype("int64")))


def structure_table(notes: Notes) -> pandas.DataFrame:
    read = Columns(notes._batch)
    dimension = read.raw("level.dimension")
    low = read.raw("level.low")
    high = read.raw("level.high")
    columns: Dict[str, Array] = {
        "dimension": read.category("level.dimension", Dimension),
        "low": read.steps("level.low"),
        "high": read.steps("level.high"),
        "label": labels(dimension, low, high),
        "conflict": read.truth("level.conflict"),
        "traits": read.strings("level.traits"),
        "readings": read.raw("level.readings").astype("uint32"),
    }
    return frame_of(columns, row_index(notes).take(read.raw("level.note").astype("int64")))


def labels(dimension: Array, low: Array, high: Array) -> Array:
    """The house's words for each range; the categories are those of all ranges there can be."""
    words: Dict[str, int] = {}
    table = numpy.full((len(Dimension), 6, 6), -1, dtype="int16")
    for number, name in enumerate(Dimension):
        for begin in range(1, 6):
            for end in range(begin, 6):
                label = step_label(name, begin)
                if end > begin:
                    label += " to " + step_label(name, end)
                table[number, begin, end] = words.setdefault(label, len(words))
    return categorical(table[dimension, low, high], words)
