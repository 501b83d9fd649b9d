"""The closed lists of the record, with the ids that records use.

Every member is a ``str`` equal to its id, so both ways of writing read well:

>>> Stance.hedged == "hedged"
True
>>> Hue("onion skin")
<Hue.onion_skin: 'onion skin'>

``name_of`` and ``parse`` of C++ are here too.
"""
from __future__ import annotations

import enum
from typing import Optional, Type, TypeVar

__all__ = [
    "BandRule", "Dimension", "ErrorCode", "Fault", "Frame", "Hue", "NameKind", "Offsets", "Origin", "Phase",
    "PointsTo", "QuantityKind", "SightKind", "SightPart", "Stage", "Stance", "State",
    "TermCheck", "Verdict", "When", "WineColour", "WineStyle", "name_of", "parse",
]


class Dimension(enum.StrEnum):
    """The seven scales, then the expression of the nose, which has the same shape."""

    acidity = "acidity"
    body = "body"
    tannin = "tannin"
    sweetness = "sweetness"
    alcohol = "alcohol"
    sparkle = "sparkle"
    finish = "finish"
    expression = "expression"


class Phase(enum.StrEnum):
    """The part of tasting that words speak of."""

    sight = "sight"
    nose = "nose"
    palate = "palate"
    finish = "finish"
    overall = "overall"


class Stance(enum.StrEnum):
    """Whether the taster states, doubts or denies."""

    stated = "stated"
    hedged = "hedged"
    denied = "denied"


class When(enum.StrEnum):
    """The time that words speak of; ``now`` and ``with air`` are of this glass."""

    now = "now"
    with_air = "with air"
    later = "later"
    before = "before"


class Frame(enum.StrEnum):
    """What words are about; only ``tasting`` is about this wine as it tastes."""

    tasting = "tasting"
    pairing = "pairing"
    making = "making"
    place = "place"
    serving = "serving"
    name = "name"
    outlook = "outlook"
    other = "other"


class State(enum.StrEnum):
    """A state that an aroma is in."""

    unripe = "unripe"
    ripe = "ripe"
    overripe = "overripe"
    fresh = "fresh"
    dried = "dried"
    cooked = "cooked"
    candied = "candied"
    preserved = "preserved"
    roasted = "roasted"
    smoked = "smoked"
    fermenting = "fermenting"
    bruised = "bruised"


class Origin(enum.StrEnum):
    """Where a smell usually comes from."""

    grape = "grape"
    fermentation = "fermentation"
    cask = "cask"
    ageing = "ageing"


class Hue(enum.StrEnum):
    """A colour at the core or the rim."""

    colourless = "colourless"
    green = "green"
    straw = "straw"
    lemon = "lemon"
    yellow = "yellow"
    gold = "gold"
    old_gold = "old gold"
    amber = "amber"
    topaz = "topaz"
    bronze = "bronze"
    brown = "brown"
    pink = "pink"
    salmon = "salmon"
    onion_skin = "onion skin"
    peach = "peach"
    apricot = "apricot"
    copper = "copper"
    orange = "orange"
    red = "red"
    cherry = "cherry"
    crimson = "crimson"
    raspberry = "raspberry"
    magenta = "magenta"
    violet = "violet"
    purple = "purple"
    plum = "plum"
    blue = "blue"
    black = "black"
    ruby = "ruby"
    garnet = "garnet"
    brick = "brick"
    rust = "rust"
    mahogany = "mahogany"
    tawny = "tawny"
    honey = "honey"


class Fault(enum.StrEnum):
    """A fault of wine."""

    cork_taint = "cork taint"
    oxidation = "oxidation"
    reduction = "reduction"
    volatile_acidity = "volatile acidity"
    brettanomyces = "brettanomyces"
    mousiness = "mousiness"
    heat_damage = "heat damage"
    refermentation = "refermentation"
    light_strike = "light strike"
    smoke_taint = "smoke taint"
    sulphur_dioxide = "sulphur dioxide"
    geranium_taint = "geranium taint"
    ladybird_taint = "ladybird taint"
    earthy_taint = "earthy taint"
    plastic_taint = "plastic taint"
    haze = "haze"
    other = "other"


class QuantityKind(enum.StrEnum):
    """What a number measures."""

    alcohol = "alcohol"
    sugar = "sugar"
    total_acidity = "total acidity"
    volatile_acidity = "volatile acidity"
    ph = "pH"
    sulphur_dioxide = "sulphur dioxide"
    pressure = "pressure"
    persistence = "persistence"
    rim_width = "rim width"
    temperature = "temperature"
    vintage = "vintage"
    age = "age"
    time_in_wood = "time in wood"
    share = "share"
    score = "score"
    colour_density = "colour density"
    colour_shade = "colour shade"


class NameKind(enum.StrEnum):
    """What a name names."""

    grape = "grape"
    place = "place"
    method = "method"
    vessel = "vessel"
    closure = "closure"


class WineColour(enum.StrEnum):
    """The colour of the wine."""

    red = "red"
    rose = "rosé"
    white = "white"
    orange = "orange"


class WineStyle(enum.StrEnum):
    """The style of the wine."""

    still = "still"
    semi_sparkling = "semi-sparkling"
    sparkling = "sparkling"
    fortified = "fortified"


class Verdict(enum.StrEnum):
    """What a note says of the condition of the bottle."""

    not_stated = "not stated"
    sound = "sound"
    suspect = "suspect"


class Stage(enum.StrEnum):
    """A stage of a wine's life."""

    early = "early"
    mid_life = "mid-life"
    late = "late"


class SightKind(enum.StrEnum):
    """What the eye sees, as a lexicon's phrases say it."""

    depth = "depth"
    clarity = "clarity"
    deposit = "deposit"
    bubbles = "bubbles"
    tears = "tears"
    rim = "rim"
    colour = "colour"


class SightPart(enum.StrEnum):
    """What of the glass was seen."""

    core = "core"
    rim = "rim"
    depth = "depth"
    clarity = "clarity"
    deposit = "deposit"
    bubbles = "bubbles"
    tears = "tears"


class BandRule(enum.StrEnum):
    """What a band of a measure is: a legal term, a legal limit, or a class of size."""

    term = "term"
    limit = "limit"
    size = "size"


class TermCheck(enum.StrEnum):
    """How a stated term of sweetness goes with the sugar."""

    fits = "fits"
    within_tolerance = "within tolerance"
    contradicts = "contradicts"
    not_covered = "not covered"


class PointsTo(enum.StrEnum):
    """Which way a piece of evidence speaks."""

    younger = "younger"
    older = "older"


class Offsets(enum.StrEnum):
    """The unit in which offsets are written out."""

    byte = "byte"
    codepoint = "codepoint"
    utf16 = "utf16"


class ErrorCode(enum.StrEnum):
    """What kind of failure an ``Error`` is."""

    lexicon_invalid = "lexicon_invalid"
    lexicon_unreadable = "lexicon_unreadable"
    lexicon_corrupt = "lexicon_corrupt"
    text_too_large = "text_too_large"
    bad_argument = "bad_argument"


_Member = TypeVar("_Member", bound=enum.StrEnum)


def name_of(member: enum.StrEnum) -> str:
    """The id that a record uses.

    >>> name_of(When.with_air)
    'with air'
    """
    return member.value


def parse(kind: Type[_Member], id: str) -> Optional[_Member]:
    """The member with this id, or None.

    >>> parse(Fault, "cork taint")
    <Fault.cork_taint: 'cork taint'>
    >>> parse(Fault, "thirst") is None
    True
    """
    try:
        return kind(id)
    except ValueError:
        return None
