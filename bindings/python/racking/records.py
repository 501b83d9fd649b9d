"""What a note's fields are made of.

Every record is an immutable named tuple: it compares by value, hashes, pickles, unpacks, and
shows its fields. Spans are half-open and count code points, as Python's own slices do:

>>> note.text[note.aromas[0].span.slice]
'Damp cardboard'

``span_bytes`` beside a span is the same place in the text's UTF-8.
"""
from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Optional, Tuple, Union, overload

from .vocabulary import (
    Dimension, Fault, Frame, Hue, NameKind, Phase, PointsTo, QuantityKind, SightPart, Stage,
    Stance, State, Verdict, When, WineColour, WineStyle,
)

if TYPE_CHECKING:
    from ._racking import Descriptor

__all__ = [
    "Aroma", "Condition", "Cue", "Evidence", "Explanation", "FaultReading", "Interval", "Level",
    "Maturity", "Name", "Problem", "Quantity", "Reading", "Reason", "Remark", "Sight", "Span",
    "Statement", "Structure", "Suggestion", "TextProblem", "Trait", "Unmapped", "Wine",
]


class Span(NamedTuple):
    """A half-open range of a text.

    >>> span = Span(3, 9)
    >>> span.size, span.slice
    (6, slice(3, 9, None))
    """

    begin: int
    end: int

    @property
    def size(self) -> int:
        """How long it is.

        >>> Span(3, 9).size
        6
        """
        return self.end - self.begin

    @property
    def empty(self) -> bool:
        """Whether nothing is in it.

        >>> Span(3, 3).empty
        True
        """
        return self.begin == self.end

    @property
    def slice(self) -> slice:
        """For the text: ``text[span.slice]``.

        >>> "some cassis"[Span(5, 11).slice]
        'cassis'
        """
        return slice(self.begin, self.end)

    def contains(self, other: Span) -> bool:
        """Whether the other lies inside this one.

        >>> Span(0, 9).contains(Span(3, 9))
        True
        """
        return self.begin <= other.begin and other.end <= self.end

    def overlaps(self, other: Span) -> bool:
        """Whether they share a place.

        >>> Span(0, 3).overlaps(Span(3, 9))
        False
        """
        return self.begin < other.end and other.begin < self.end


class Interval(NamedTuple):
    """An interval of steps on a five-step scale; 1 ≤ low ≤ high ≤ 5.

    >>> low, high = note.structure.tannin.range
    >>> low, high
    (4, 5)
    """

    low: int
    high: int

    @property
    def width(self) -> int:
        """How many steps it covers.

        >>> Interval(4, 5).width
        2
        """
        return self.high - self.low + 1


class Cue(NamedTuple):
    """Words that decided something about a reading, and the rule that did.

    >>> [(cue.text, cue.rule) for cue in note.aromas[1].cues]
    [('some', 'strength.some')]
    """

    rule: str
    text: str
    span: Span
    span_bytes: Span


class Statement(NamedTuple):
    """A stretch of the text of one frame and phase. Statements tile the text.

    >>> note.statements[0].phase
    <Phase.sight: 'sight'>
    """

    frame: Frame
    phase: Phase
    text: str
    span: Span
    span_bytes: Span


class Aroma(NamedTuple):
    """A descriptor where it stands.

    ``parts`` is empty unless other words stand inside the span. ``strength`` is on trace 1,
    light 2, clear 3, marked 4, dominant 5; None where the note does not say.

    >>> aroma = note.aromas[0]
    >>> aroma.descriptor.id, aroma.family.id, aroma.text
    ('damp-cardboard', 'cellar', 'Damp cardboard')
    """

    descriptor: Descriptor
    text: str
    span: Span
    span_bytes: Span
    parts: Tuple[Span, ...]
    parts_bytes: Tuple[Span, ...]
    strength: Optional[Interval]
    state: Tuple[State, ...]
    phase: Phase
    stance: Stance
    when: When
    frame: Frame
    respelled: bool
    cues: Tuple[Cue, ...]

    @property
    def family(self) -> Optional[Descriptor]:
        """The family of its descriptor; None for the root.

        >>> str(note.aromas[1].family)
        'hedgerow'
        """
        return self.descriptor.family


class Reading(NamedTuple):
    """One thing said of one dimension. ``range`` is None where a denial leaves no one interval.

    >>> [(reading.text, reading.range.low) for reading in note.readings]
    [('grippy', 4), ('dries the gums', 4)]
    """

    dimension: Dimension
    range: Optional[Interval]
    text: str
    span: Span
    span_bytes: Span
    phase: Phase
    stance: Stance
    when: When
    frame: Frame
    cues: Tuple[Cue, ...]


class Level(NamedTuple):
    """What a note says of one dimension, all readings combined.

    ``label`` is the house's words for the range. ``conflict``: stated readings share no step.

    >>> note.structure.tannin.label
    'firm to gripping'
    """

    range: Optional[Interval]
    label: Optional[str]
    conflict: bool
    traits: Tuple[str, ...]
    readings: Tuple[Reading, ...]

    @property
    def stated(self) -> bool:
        """Whether the note speaks of it at all.

        >>> note.structure.acidity.stated
        False
        """
        return bool(self.readings or self.traits)


class Structure(NamedTuple):
    """The levels, and the expression of the nose. By name, or by dimension:

    >>> note.structure["tannin"] is note.structure.tannin
    True
    """

    acidity: Level
    body: Level
    tannin: Level
    sweetness: Level
    alcohol: Level
    sparkle: Level
    finish: Level
    expression: Level

    @overload  # type: ignore[override]
    def __getitem__(self, key: Union[int, str]) -> Level: ...
    @overload
    def __getitem__(self, key: slice) -> Tuple[Level, ...]: ...
    def __getitem__(self, key: Union[int, str, slice]) -> Union[Level, Tuple[Level, ...]]:
        """The level of a ``Dimension`` or its id; or by place, as in any tuple."""
        if isinstance(key, str):
            level: Level = getattr(self, Dimension(key).value)
            return level
        return tuple.__getitem__(self, key)


class Trait(NamedTuple):
    """A word for the whole, or for the texture: balanced, complex, silky.

    >>> reader.read("Elegant, and so well balanced.").traits[0].id
    'elegant'
    """

    id: str
    text: str
    span: Span
    span_bytes: Span
    dimension: Optional[Dimension]
    phase: Phase
    stance: Stance
    when: When
    frame: Frame
    cues: Tuple[Cue, ...]


class Sight(NamedTuple):
    """What was seen of one part: a hue at core or rim, a range of depth (watery 1, pale 2,
    mid-depth 3, deep 4, opaque 5), a value for the rest.

    >>> rim = note.sight[0]
    >>> rim.part.value, rim.hue.value
    ('rim', 'brick')
    """

    part: SightPart
    hue: Optional[Hue]
    range: Optional[Interval]
    value: Optional[str]
    text: str
    span: Span
    span_bytes: Span
    stance: Stance
    when: When
    frame: Frame
    cues: Tuple[Cue, ...]


class Quantity(NamedTuple):
    """A number with its unit as the note has it ("% vol", "g/L", …): a value, else low and high.

    >>> reader.read("Full; 14.5% vol.").quantities[0].value
    14.5
    """

    kind: QuantityKind
    value: Optional[float]
    low: Optional[float]
    high: Optional[float]
    out_of: Optional[float]
    unit: Optional[str]
    of: Optional[str]
    frame: Frame
    text: str
    span: Span
    span_bytes: Span


class FaultReading(NamedTuple):
    """A fault that the note states, suspects or denies, with a caution. A note is no laboratory
    result.

    >>> fault = note.condition.faults[0]
    >>> fault.fault.value, fault.stance.value, fault.texts
    ('cork taint', 'hedged', ('Damp cardboard',))
    """

    fault: Fault
    texts: Tuple[str, ...]
    spans: Tuple[Span, ...]
    spans_bytes: Tuple[Span, ...]
    stance: Stance
    when: When
    frame: Frame
    caution: Optional[str]
    cues: Tuple[Cue, ...]


class Condition(NamedTuple):
    """The condition of the bottle, as far as the note speaks of it.

    >>> note.condition.verdict
    <Verdict.suspect: 'suspect'>
    """

    verdict: Verdict
    faults: Tuple[FaultReading, ...]


class Evidence(NamedTuple):
    """What speaks for a stage of life.

    >>> note.maturity.evidence[0].because
    'brick rim on a red'
    """

    points_to: PointsTo
    because: str
    text: str
    span: Span
    span_bytes: Span


class Maturity(NamedTuple):
    """One stage or two neighbours; None when nothing speaks.

    >>> [stage.value for stage in note.maturity.stage]
    ['mid-life', 'mid-life']
    """

    stage: Optional[Tuple[Stage, Stage]]
    evidence: Tuple[Evidence, ...]


class Name(NamedTuple):
    """A grape, place, method, vessel or closure that the note names.

    >>> reader.read("Merlot: plum.").names[0].kind
    <NameKind.grape: 'grape'>
    """

    kind: NameKind
    name: str
    text: str
    span: Span
    span_bytes: Span


class Remark(NamedTuple):
    """What a careful colleague would raise. `id` says which remark it is, to count it by.

    >>> note.remarks
    ()
    """

    text: str
    spans: Tuple[Span, ...]
    spans_bytes: Tuple[Span, ...]
    id: str = ""


class Unmapped(NamedTuple):
    """Words that could say something and that the lexicon does not know, as written.

    >>> reader.read("Plum and zorbleberry.").unmapped[0].text
    'zorbleberry'
    """

    text: str
    span: Span
    span_bytes: Span


class Reason(NamedTuple):
    """One decision about a reading: what was decided, by which rule and which words.

    ``what``: words, form, spelling, parts, sense, level, place, stance, when, frame, phase,
    strength, state, fault or measure. ``rule`` is that of the lexicon, None where none decided;
    ``because`` a sentence of plain English; ``text`` the words that it rests on.

    >>> plum = reader.read("Plums without oak.")
    >>> [(why.what, why.rule) for why in plum.explain(plum.aromas[1]).reasons][1]
    ('stance', 'negation.no')
    """

    what: str
    rule: Optional[str]
    because: str
    text: str
    span: Span
    span_bytes: Span


class Explanation(NamedTuple):
    """Why a reading was read so: all reasons as one paragraph, and each by itself.

    >>> crisp = reader.read("Very crisp.")
    >>> print(crisp.explain(crisp.readings[0]).reasons[1].because)
    ‘Very’ moves it further out, to steps 4 to 5 (brisk to sharp).
    """

    text: str
    reasons: Tuple[Reason, ...]


class TextProblem(NamedTuple):
    """Something odd about the input, never a refusal.

    >>> note.problems
    ()
    """

    code: str
    message: str
    span: Span
    span_bytes: Span


class Wine(NamedTuple):
    """What kind of wine it is, and whether that was inferred.

    >>> note.wine.colour.value, note.wine.colour_inferred
    ('red', True)
    """

    colour: Optional[WineColour]
    colour_inferred: bool
    style: Optional[WineStyle]
    style_inferred: bool


class Problem(NamedTuple):
    """One thing that is wrong in a lexicon file, and how to mend it. Line and column count from
    1, columns in code points; 0: not known.

    >>> str(Problem("mine/words.toml", 3, 9, "no such parent", "add it"))
    'mine/words.toml:3:9: no such parent (add it)'
    """

    source: str
    line: int
    column: int
    message: str
    mend: str

    def __str__(self) -> str:
        place = self.source
        if self.line:
            place += f":{self.line}" + (f":{self.column}" if self.column else "")
        mend = f" ({self.mend})" if self.mend else ""
        return (f"{place}: " if place else "") + self.message + mend


class Suggestion(NamedTuple):
    """A phrase that the lexicon doesn't know, and the family that its company speaks for.

    The phrase was written at most ``occurrences`` times and at least ``occurrences - excess``. ``contexts`` are
    pairs of a note's id and the words round the phrase. ``association`` is the weight of evidence
    for ``family`` and ``margin`` how far it is ahead of ``runner_up``, both in nats; ``sure`` says
    whether that is enough to name it. See `Suggestions`.

    >>> suggest([reader.read("Plum, quibblewort.")], 5)[0].contexts
    (('', 'Plum, quibblewort.'),)
    """

    phrase: str
    occurrences: int
    excess: int
    contexts: Tuple[Tuple[str, str], ...]
    family: Optional[str]
    runner_up: Optional[str]
    association: float
    margin: float
    companions: int
    learned: int
    sure: bool
