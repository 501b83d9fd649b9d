"""The exceptions. All derive from ``Error``."""
from __future__ import annotations

from typing import Any, Dict, Optional, Sequence, Tuple

from .records import Problem
from .vocabulary import ErrorCode

__all__ = [
    "BadArgument", "Error", "LexiconCorrupt", "LexiconError", "LexiconInvalid",
    "LexiconUnreadable", "OutOfRange", "TextError", "TextIllFormed", "TextTooLarge", "WrongType",
]


class Error(Exception):
    """What every failing call raises. ``str()`` is the message with its place.

    ``source``, ``line`` and ``column`` are of a lexicon's file, counted from 1 (0: not known);
    ``position`` is in code points of a text and ``row`` the text's place in a batch, both
    counted from 0 (None: not of a text). ``problems``: every problem of a lexicon.

    >>> try:
    ...     Lexicon.load("/nowhere")
    ... except Error as error:
    ...     error.code
    <ErrorCode.lexicon_unreadable: 'lexicon_unreadable'>
    """

    code: ErrorCode = ErrorCode.bad_argument

    def __init__(self, message: str = "", *, source: str = "", line: int = 0, column: int = 0,
                 problems: Sequence[Problem] = (), position: Optional[int] = None,
                 row: Optional[int] = None) -> None:
        super().__init__(message)
        self.message = message
        self.source = source
        self.line = line
        self.column = column
        self.problems: Tuple[Problem, ...] = tuple(problems)
        self.position = position
        self.row = row

    def __str__(self) -> str:
        if self.problems:
            more = len(self.problems) - 1
            return str(self.problems[0]) + (f"; and {more} more" if more else "")
        if self.source:
            return str(Problem(self.source, self.line, self.column, self.message, ""))
        return self.message

    def __reduce__(self) -> Tuple[Any, ...]:
        state: Dict[str, Any] = {
            "source": self.source, "line": self.line, "column": self.column,
            "problems": self.problems, "position": self.position, "row": self.row,
        }
        return type(self), (self.message,), state


class LexiconError(Error):
    """A lexicon that cannot be used."""


class LexiconInvalid(LexiconError):
    """Lexicon files have problems; ``problems`` lists each with its place and how to mend it.

    >>> try:
    ...     Overlay.parse('[[phrase]]\\nform = 3')
    ... except LexiconInvalid as error:
    ...     error.line > 0
    True
    """

    code = ErrorCode.lexicon_invalid


class LexiconUnreadable(LexiconError):
    """A lexicon folder or file cannot be read."""

    code = ErrorCode.lexicon_unreadable


class LexiconCorrupt(LexiconError):
    """A compiled lexicon fails its checks, or is not the one that a pickle was made with.

    >>> try:
    ...     Lexicon.from_blob(b"not a lexicon")
    ... except LexiconCorrupt:
    ...     print("no lexicon")
    no lexicon
    """

    code = ErrorCode.lexicon_corrupt


class BadArgument(Error, ValueError):
    """A call that no input could make right."""


class WrongType(Error, TypeError):
    """An argument of a wrong type.

    >>> try:
    ...     reader.read(b"Plum.")
    ... except WrongType as error:
    ...     print(error)
    text must be str, not bytes; decode it first, as in text.decode("utf-8")
    """


class OutOfRange(Error, IndexError):
    """A place that a sequence does not have."""


class TextError(Error, ValueError):
    """A text that cannot be read at all."""


class TextTooLarge(TextError):
    """A note exceeds the reader's size limit; ``position`` is where it does.

    >>> try:
    ...     Reader(size_limit=4).read("Cherry")
    ... except TextTooLarge as error:
    ...     error.position
    4
    """

    code = ErrorCode.text_too_large


class TextIllFormed(TextError):
    """A lone surrogate, which no UTF-8 can hold; ``position`` is where it stands.

    >>> try:
    ...     reader.read("Plum \\ud800")
    ... except TextIllFormed as error:
    ...     error.position
    5
    """
