"""What can be said of a number: units, legal terms, limits, classes, scores, colour indices.

>>> house = Lexicon.house()
>>> [term.band.name for term in sweetness_terms(house, Sweetness(2.0, "sparkling"))]
['brut nature', 'extra brut', 'brut']

Bands and units are data of the lexicon, each with its source and date; an overlay may add to
them or say them anew. Nothing here is legal advice: local rules and licensed practice come
first, and a note is no laboratory result.
"""
from __future__ import annotations

from typing import NamedTuple, Optional, Tuple, Union

from .vocabulary import BandRule, QuantityKind, WineColour, WineStyle

__all__ = ["Band", "ColourIndices", "ScorePoint", "Sweetness", "SweetnessTerm", "Unit"]


class Unit(NamedTuple):
    """A unit of one quantity: value × factor + offset is the value in the quantity's own unit.

    >>> units(Lexicon.house(), "temperature")[1].name
    '°F'
    """

    kind: QuantityKind
    name: str
    factor: float
    offset: float
    source: str


class Band(NamedTuple):
    """A named stretch of one quantity, with its source and date. Bounds, in ``unit``: ``least`` ≥,
    ``above`` >, ``most`` ≤, ``below`` <; None: open.

    >>> bands(Lexicon.house(), "volatile acidity")[0].most
    18.0
    """

    id: str
    kind: QuantityKind
    rule: BandRule
    name: str
    unit: str
    least: Optional[float]
    above: Optional[float]
    most: Optional[float]
    below: Optional[float]
    acid_most: Optional[float]
    acid_gap: Optional[float]
    tolerance: float
    undosed: bool
    remarked: bool
    beyond: Tuple[str, ...]
    terms: Tuple[str, ...]
    styles: Tuple[WineStyle, ...]
    colours: Tuple[WineColour, ...]
    authority: str
    source: str
    as_of: str


class Sweetness(NamedTuple):
    """What is known of a wine's sugar. Sugar and total acidity (as tartaric acid; still wine only)
    in g/L, to the tenth; whether sugar was added after the second fermentation (sparkling only).

    >>> Sweetness(8.0, total_acidity=6.0).style
    'still'
    """

    sugar: float
    style: Union[WineStyle, str] = "still"
    total_acidity: Optional[float] = None
    sugar_added: Optional[bool] = None


class SweetnessTerm(NamedTuple):
    """A term that a wine may bear; provisional if it hangs on what is not known.

    >>> sweetness_terms(Lexicon.house(), Sweetness(8.0))[0].provisional
    True
    """

    band: Band
    provisional: bool


class ScorePoint(NamedTuple):
    """A score and what it is worth on another scale; a plain pair will do.

    >>> rescale_score(17, [ScorePoint(10, 60), ScorePoint(20, 100)])
    88.0
    """

    from_: float
    to: float


class ColourIndices(NamedTuple):
    """Density A420 + A520 + A620 over 1 cm, and shade A420 / A520, None if A520 is 0
    (OIV-MA-AS2-07B).

    >>> colour_indices(0.25, 0.5, 0.25).shade
    0.5
    """

    density: float
    shade: Optional[float]
