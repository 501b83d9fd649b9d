"""Many notes, and the tables of what they say."""
from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Iterable, Iterator, List, Optional, Tuple, Union, overload

from . import _racking
from ._racking import Note
from .errors import BadArgument, OutOfRange, WrongType
from .reader import Reader

if TYPE_CHECKING:
    import os

    import pandas

__all__ = ["Notes"]

_LINES = 1 << 12


class Notes(Sequence[Optional[Note]]):
    """What ``Reader.read_many`` returns: an immutable sequence of notes, None where missing.

    A note is read when it is asked for; the tables are there already. Slices are Notes.
    Equal if the readers' lexicons, the texts and the index are.

    >>> notes = reader.read_many(["Plum, firm tannin.", None, "Lemon."])
    >>> notes
    <racking.Notes: 3 notes, 1 missing>
    >>> [note.text for note in notes if note]
    ['Plum, firm tannin.', 'Lemon.']
    >>> notes[::2].texts
    ['Plum, firm tannin.', 'Lemon.']
    """

    __slots__ = ("_reader", "_batch", "_index", "_jobs")

    def __init__(self, reader: Reader, batch: _racking.Batch, index: Any, jobs: int) -> None:
        self._reader = reader
        self._batch = batch
        self._index = index
        self._jobs = jobs

    # ---- a sequence ----

    @property
    def reader(self) -> Reader:
        """The reader that read them.

        >>> notes.reader == reader
        True
        """
        return self._reader

    @property
    def index(self) -> Any:
        """The index of the caller's Series; None where there was none.

        >>> notes.index is None
        True
        """
        return self._index

    @property
    def texts(self) -> List[Optional[str]]:
        """The texts as given, None where missing.

        >>> notes.texts[1] is None
        True
        """
        return list(self._batch.texts)

    def __len__(self) -> int:
        return len(self._batch)

    @overload
    def __getitem__(self, key: int) -> Optional[Note]: ...
    @overload
    def __getitem__(self, key: slice) -> Notes: ...
    def __getitem__(self, key: Union[int, slice]) -> Union[Optional[Note], Notes]:
        if isinstance(key, slice):
            rows = range(len(self))[key]
            index = None if self._index is None else self._index[key]
            return Notes(self._reader, self._batch.take(rows), index, self._jobs)
        try:
            row = range(len(self))[key]
        except TypeError:
            raise WrongType(
                f"notes are found by int or slice, not {type(key).__name__}") from None
        except IndexError:
            raise OutOfRange(f"no note {key} of {len(self)}") from None
        text = self._batch.texts[row]
        return None if text is None else self._reader.read(text)

    def __iter__(self) -> Iterator[Optional[Note]]:
        for text in self._batch.texts:
            yield None if text is None else self._reader.read(text)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Notes):
            return NotImplemented
        return (self._reader.lexicon == other._reader.lexicon
                and self._batch.texts == other._batch.texts
                and same_index(self._index, other._index))

    def __hash__(self) -> int:
        return hash((self._reader.lexicon, tuple(self._batch.texts)))

    def __repr__(self) -> str:
        missing = self._batch.texts.count(None)
        return (f"<racking.Notes: {len(self):,} note{'' if len(self) == 1 else 's'}"
                + (f", {missing:,} missing>" if missing else ">"))

    def _repr_html_(self) -> str:
        from .notebook import notes_html

        return notes_html(self)

    def __copy__(self) -> Notes:
        return self

    def __deepcopy__(self, memo: Any) -> Notes:
        return self

    def __reduce__(self) -> Tuple[Any, ...]:
        return notes_of, (self._reader, self.texts, self._index)

    # ---- tables ----

    def table(self, tidy: bool = False, families: bool = False) -> pandas.DataFrame:
        """One row a note, on the caller's index; a missing note's row is missing throughout.

        Steps are 1 to 5 (``tannin_low``, ``tannin_high``, …; ``depth_low`` of colour: watery 1
        … opaque 5), alcohol is in % vol as the note has it (``alcohol_value_low`` …, where a
        single value is both), ``vintage_value`` a year, coverage is 0 to 1, the rest are counts and categories.
        ``families``: also a count of each family's aromas, denied ones left out. ``tidy``: also
        the cleaned note. Needs pandas; raises ImportError without it.

        >>> table = reader.read_many(["Plum, firm tannin.", None]).table()
        >>> table["tannin_low"].tolist()
        [4, <NA>]
        >>> table["verdict"].tolist()
        ['not stated', nan]
        """
        from .tables import note_table

        return note_table(self, tidy, families)

    def aromas(self, asides: bool = False, words: bool = True) -> pandas.DataFrame:
        """One row an aroma, its index that of its note. ``begin`` and ``end`` are in code
        points; strength is on trace 1 … dominant 5. ``asides``: also what is said of other
        frames and times. ``words``: also the words of the note. Needs pandas.

        >>> aromas = reader.read_many(["Plum, no oak."]).aromas()
        >>> aromas[["descriptor", "family", "words", "stance"]].values.tolist()
        [['plum', 'orchard', 'Plum', 'stated'], ['oak', 'workshop', 'oak', 'denied']]
        """
        from .tables import aroma_table

        return aroma_table(self, asides, words)

    def structure(self) -> pandas.DataFrame:
        """One row for each dimension that a note speaks of, its index that of its note. Steps
        are 1 to 5, missing where nothing single is said. Needs pandas.

        >>> levels = reader.read_many(["Grippy tannin, full body."]).structure()
        >>> levels["dimension"].tolist(), levels["label"].tolist()[1]
        (['body', 'tannin'], 'firm to gripping')
        """
        from .tables import structure_table

        return structure_table(self)

    # ---- records ----

    def to_jsonl(self, path: Optional[Union[str, os.PathLike[str]]] = None, *,
                 depth: str = "full", offsets: str = "codepoint", tidy: bool = True,
                 ids: Optional[Iterable[object]] = None) -> Optional[str]:
        """Records as JSON Lines, into a file or returned. A missing note gives no line.

        ``ids``: one a note, as strings; else the labels of the index, else the places from 0.
        ``depth``: "full" or "plain"; ``offsets``: "codepoint", "byte" or "utf16". The file is
        written under another name first, so that it is whole or not there.

        Raises ``BadArgument``, ``WrongType``, OSError.

        >>> lines = reader.read_many(["Plum.", None, "Lemon."]).to_jsonl(depth="plain")
        >>> [line[:60] for line in lines.splitlines()] == [
        ...     note.to_json(depth="plain", id=id)[:60] for id, note in [
        ...         ("0", reader.read("Plum.")), ("2", reader.read("Lemon."))]]
        True
        """
        names = labels(self, ids)
        lines = (self._batch.json_lines(begin, begin + _LINES, names[begin:begin + _LINES],
                                        depth, offsets, tidy, self._jobs)
                 for begin in range(0, len(self), _LINES))
        if path is None:
            return b"".join(lines).decode()
        from .files import written_whole

        with written_whole(path) as file:
            for part in lines:
                file.write(part)
        return None


def labels(notes: Notes, ids: Optional[Iterable[object]]) -> List[str]:
    given = ids if ids is not None else notes.index if notes.index is not None else range(len(notes))
    names = [str(label) for label in given]
    if len(names) != len(notes):
        raise BadArgument(f"{len(names)} ids for {len(notes)} notes")
    return names


def same_index(a: Any, b: Any) -> bool:
    return (a is None) == (b is None) and (a is None or bool(a.equals(b)))


def notes_of(reader: Reader, texts: List[Optional[str]], index: Any) -> Notes:
    notes = reader.read_many(texts)
    return Notes(notes._reader, notes._batch, index, notes._jobs)
