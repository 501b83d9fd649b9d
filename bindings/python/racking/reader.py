"""The reader of notes, one at a time or many at once."""
from __future__ import annotations

import itertools
import os
import sys
from typing import (
    TYPE_CHECKING, Any, Callable, Iterable, Iterator, List, Optional, Sized, Tuple, Union,
)

from . import _racking
from .errors import BadArgument, WrongType

if TYPE_CHECKING:
    from .notes import Notes

__all__ = ["Reader"]

Progress = Union[bool, Callable[[int, Optional[int]], None]]
_CHUNK = 1 << 14


class Reader(_racking._Reader):
    """Reader(lexicon: Lexicon | None = None, size_limit: int = 16777216, tasting_year: int | None = None)

    Reads notes against one lexicon, the house's unless another is given. Immutable, free of
    global state, and safe to use from many threads at once. ``size_limit`` is the largest note
    in bytes of UTF-8, at most 2147483647. ``tasting_year`` is the year in which the notes were
    tasted, if that is known: with it the age of a stated vintage is held against what the wine
    seems. No clock is read.

    Two readers are equal if their lexicons' content, limits and years are. A reader pickles by its
    lexicon's content (some megabytes).

    Raises ``WrongType`` or ``BadArgument``. Cost: a few milliseconds for the house lexicon.

    >>> reader = Reader()
    >>> note = reader.read("Brick at the rim. Damp cardboard, some cassis; grippy.")
    >>> note.structure.tannin.range
    Interval(low=4, high=5)
    """

    __slots__ = ()

    def read_many(self, texts: Iterable[Any], jobs: Optional[int] = None,
                  progress: Progress = False) -> Notes:
        """Reads any iterable of strings: a list, a generator, a numpy array, a pandas Series.

        None, NaN, ``pandas.NA`` and masked values stay missing. A Series keeps its index.
        ``jobs``: threads, one a processor unless said. ``progress``: True for a count on
        standard error, or a function of (notes done, notes in all or None).

        The notes' tables are filled as they are read, and the notes themselves are not kept:
        asking for one reads its text again, some microseconds.

        Raises ``WrongType``, ``TextIllFormed`` or ``TextTooLarge`` with the ``row``. The GIL is
        given up while a batch is read. Ctrl-C works between batches.

        >>> notes = reader.read_many(["Plum, firm tannin.", None, "Lemon."])
        >>> len(notes), notes[1]
        (3, None)
        """
        from .notes import Notes

        threads = processors() if jobs is None else checked_jobs(jobs)
        index, values = unpacked(texts)
        total = len(values) if isinstance(values, Sized) else None
        batch = _racking.Batch(self)
        report = reporter(progress)
        for chunk in chunks(values):
            batch.extend(chunk, threads)
            report(len(batch), total, False)
        batch.finish()
        report(len(batch), total, True)
        return Notes(self, batch, index, threads)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Reader):
            return NotImplemented
        return self._state() == other._state()

    def __hash__(self) -> int:
        return hash(self._state())

    def _state(self) -> Tuple[Any, ...]:
        return self.lexicon, self.size_limit, self.tasting_year

    def __repr__(self) -> str:
        return f"<racking.Reader of {self.lexicon!r}>"

    def __copy__(self) -> Reader:
        return self

    def __deepcopy__(self, memo: Any) -> Reader:
        return self

    def __reduce__(self) -> Tuple[Any, ...]:
        return Reader, self._state()


def processors() -> int:
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


def checked_jobs(jobs: object) -> int:
    if isinstance(jobs, bool) or not isinstance(jobs, int):
        raise WrongType(f"jobs must be int or None, not {type(jobs).__name__}")
    if not 1 <= jobs <= 1024:
        raise BadArgument("jobs is a number of threads from 1 to 1024")
    return jobs


def unpacked(texts: Any) -> Tuple[Any, Iterable[Any]]:
    """The index of a Series, and what to iterate."""
    if isinstance(texts, (str, bytes)):
        raise WrongType("read_many takes many texts; for one use read")
    if getattr(texts, "ndim", 1) != 1:
        raise WrongType(f"texts must have one dimension, not {texts.ndim}")
    if type(texts).__module__.partition(".")[0] == "pandas":
        index = getattr(texts, "index", None)
        # The array beneath iterates without a Python object a row where it can.
        return index, getattr(texts, "array", texts)
    try:
        iter(texts)
    except TypeError:
        raise WrongType(
            f"texts must be an iterable of str, not {type(texts).__name__}") from None
    return None, texts


def chunks(values: Iterable[Any]) -> Iterator[List[Any]]:
    if isinstance(values, list):
        for begin in range(0, len(values), _CHUNK):
            yield values[begin:begin + _CHUNK]
        return
    iterator = iter(values)
    while chunk := list(itertools.islice(iterator, _CHUNK)):
        yield chunk


def reporter(progress: Progress) -> Callable[[int, Optional[int], bool], None]:
    if not isinstance(progress, bool):
        if not callable(progress):
            raise WrongType(f"progress must be bool or a function, not {type(progress).__name__}")
        tell = progress
        return lambda done, total, last: None if last else tell(done, total)
    if not progress:
        return lambda done, total, last: None

    def show(done: int, total: Optional[int], last: bool) -> None:
        of = f" of {total:,}" if total is not None else ""
        sys.stderr.write(f"\r{done:,}{of} notes read" + ("\n" if last else ""))
        sys.stderr.flush()

    return show
