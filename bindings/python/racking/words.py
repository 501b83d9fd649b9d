"""Short phrases for what a note says."""
from __future__ import annotations

from typing import List, Optional, Tuple

from ._racking import Descriptor, Note
from .records import Quantity, Sight
from .vocabulary import Dimension, Frame, SightPart, Stance

STRENGTHS = ("trace", "light", "clear", "marked", "dominant")
DEPTHS = ("watery", "pale", "mid-depth", "deep", "opaque")


def note_repr(note: Note) -> str:
    text = " ".join(note.text.split())
    shown = text if len(text) <= 48 else text[:47].rstrip() + "…"
    said = [f"{len(note.aromas)} aroma{'' if len(note.aromas) == 1 else 's'}"]
    for dimension in Dimension:
        level = note.structure[dimension]
        if level.label:
            said.append(f"{dimension} {level.label}")
    if note.condition.verdict != "not stated":
        said.append(note.condition.verdict.value)
    return f"<racking.Note {shown!r}: {'; '.join(said)}>"


def families_found(note: Note) -> List[Tuple[Descriptor, List[str]]]:
    """Families and the labels of their aromas, denied ones left out, in the lexicon's order."""
    found: List[Tuple[Descriptor, List[str]]] = []
    for aroma in note.aromas:
        family = aroma.family
        if aroma.stance == Stance.denied or family is None:
            continue
        label = aroma.descriptor.label + ("?" if aroma.stance == Stance.hedged else "")
        for known, labels in found:
            if known == family:
                if label not in labels:
                    labels.append(label)
                break
        else:
            found.append((family, [label]))
    return sorted(found, key=lambda pair: pair[0].index)


def number_words(value: float) -> str:
    return repr(value).removesuffix(".0")


def quantity_words(quantity: Quantity) -> str:
    words = ""
    if quantity.value is not None:
        words = number_words(quantity.value)
    elif quantity.low is not None and quantity.high is not None:
        words = f"{number_words(quantity.low)}–{number_words(quantity.high)}"
    elif quantity.low is not None:
        words = f"at least {number_words(quantity.low)}"
    elif quantity.high is not None:
        words = f"at most {number_words(quantity.high)}"
    if quantity.out_of is not None:
        words += f" of {number_words(quantity.out_of)}"
    if quantity.unit:
        words += quantity.unit if quantity.unit.startswith("%") else f" {quantity.unit}"
    return words + (f" {quantity.of}" if quantity.of else "")


def sight_word(sight: Sight) -> str:
    word = "rim " if sight.part == SightPart.rim else ""
    if sight.hue is not None:
        word += sight.hue.value
    elif sight.part == SightPart.depth and sight.range is not None:
        word += interval_words(DEPTHS, sight.range)
    else:
        word += sight.value or ""
    if sight.stance == Stance.hedged:
        word += "?"
    return f"not {word}" if sight.stance == Stance.denied else word


def sight_words(note: Note) -> str:
    return "; ".join(dict.fromkeys(filter(None, map(sight_word, note.sight))))


def condition_words(note: Note) -> str:
    before = {Stance.stated: "", Stance.hedged: "perhaps ", Stance.denied: "no "}
    faults = [before[stance] + fault.fault.value
              for stance in before for fault in note.condition.faults if fault.stance == stance]
    return note.condition.verdict.value + (": " + ", ".join(faults) if faults else "")


def maturity_words(note: Note) -> Optional[str]:
    stage = note.maturity.stage
    if stage is None:
        return None
    return stage[0].value if stage[0] == stage[1] else f"{stage[0].value} to {stage[1].value}"


def alcohol_words(note: Note) -> str:
    for quantity in note.quantities:
        if quantity.kind == "alcohol" and quantity.frame != Frame.other:
            return quantity_words(quantity._replace(unit=None, out_of=None, of=None))
    return ""


def interval_words(steps: Tuple[str, ...], range: Tuple[int, int]) -> str:
    low, high = range
    return steps[low - 1] if low == high else f"{steps[low - 1]} to {steps[high - 1]}"
