"""Racking reads free-text wine tasting notes and gives back what they say.

>>> import racking
>>> reader = racking.Reader()
>>> note = reader.read("Brick at the rim. Damp cardboard, some cassis; grippy, dries the gums.")
>>> note.structure.tannin.range
Interval(low=4, high=5)
>>> [aroma.descriptor.id for aroma in note.aromas]
['damp-cardboard', 'blackcurrant']

What C++ has as an accessor without arguments is an attribute here (``note.aromas``,
``lexicon.name``); what does some work is a method (``note.tidy()``, ``lexicon.to_blob()``).
Options of C++ (``ReaderOptions``, ``JsonOptions``) are keyword arguments. Spans count code
points; ``span_bytes`` beside them counts bytes of UTF-8.

Tasting involves alcohol: spit, rest, and never taste and drive. A note is no laboratory result;
an off bottle can be unpleasant, so ask for another. Local rules and licensed practice come first.
"""
from . import accessor as _accessor
from ._racking import (
    Descriptor, Lexicon, Note, Overlay, Suggestions, bands, broken_limits, check_examples, check_sweetness_term,
    colour_indices, convert, rescale_score, size_classes, step_label, suggest, sweetness_terms, units, version,
    wu_palmer,
)
from .errors import *
from .measures import *
from .notes import Notes
from .reader import Reader
from .records import *
from .vocabulary import *
from . import errors as _errors, measures as _measures, records as _records, vocabulary as _vocabulary

__version__ = version()
__all__ = [
    "Descriptor", "Lexicon", "Note", "Notes", "Overlay", "Reader", "Suggestions", "bands", "broken_limits",
    "check_examples", "check_sweetness_term", "colour_indices", "convert", "rescale_score",
    "size_classes", "step_label", "suggest", "sweetness_terms", "units", "version", "wu_palmer",
]
__all__ += _errors.__all__
__all__ += _measures.__all__
__all__ += _records.__all__
__all__ += _vocabulary.__all__

_accessor.watch()
