"""How objects pickle.

A ``Lexicon`` (and so a ``Reader``) pickles by its whole content, some megabytes. A ``Note`` or
``Descriptor`` of the house lexicon pickles small, by the lexicon's digest: where another house
lexicon is installed, unpickling raises ``LexiconCorrupt`` rather than read the note otherwise
than it was.
"""
from __future__ import annotations

import functools
from typing import Any, Callable, Optional, Tuple

from ._racking import Descriptor, Lexicon, Note, Overlay
from .errors import LexiconCorrupt
from .reader import Reader

Reduced = Tuple[Callable[..., Any], Tuple[Any, ...]]


@functools.lru_cache(maxsize=1)
def house() -> Lexicon:
    return Lexicon.house()


@functools.lru_cache(maxsize=8)
def reader_of(lexicon: Lexicon, tasting_year: Optional[int]) -> Reader:
    return Reader(lexicon, size_limit=2**31 - 1, tasting_year=tasting_year)


class HouseLexicon:
    """Stands for the house lexicon of one digest in a pickle."""

    def __init__(self, version: str, digest: str) -> None:
        self.version = version
        self.digest = digest

    def __reduce__(self) -> Reduced:
        return found_house, (self.version, self.digest)


def found_house(version: str, digest: str) -> Lexicon:
    if house().digest == digest:
        return house()
    raise LexiconCorrupt(
        f"pickled with the house lexicon {version} ({digest}); this is {house().version} "
        f"({house().digest}): read the text again, or pickle the Reader with it")


def small(lexicon: Lexicon) -> Any:
    if lexicon.digest == house().digest:
        return HouseLexicon(lexicon.version, lexicon.digest)
    return lexicon


def lexicon_of(digest: str, blob: bytes) -> Lexicon:
    return house() if house().digest == digest else Lexicon.from_blob(blob)


def reduce_lexicon(lexicon: Lexicon) -> Reduced:
    return lexicon_of, (lexicon.digest, lexicon.to_blob())


def overlay_of(toml: str, source: str) -> Overlay:
    return Overlay.parse(toml, source)


def descriptor_of(lexicon: Lexicon, id: str) -> Descriptor:
    found = lexicon.find(id)
    if found is None:
        raise LexiconCorrupt(f"the lexicon has no descriptor '{id}'")
    return found


def reduce_descriptor(descriptor: Descriptor) -> Reduced:
    return descriptor_of, (small(descriptor.lexicon), descriptor.id)


def note_of(lexicon: Lexicon, text: str, tasting_year: Optional[int] = None) -> Note:
    return reader_of(lexicon, tasting_year).read(text)


def reduce_note(note: Note) -> Reduced:
    if note.lexicon.name == "none" and not note.text:
        return Note, ()
    return note_of, (small(note.lexicon), note.text, note._tasting_year)
