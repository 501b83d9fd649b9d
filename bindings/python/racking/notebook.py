"""How notes show themselves in a notebook: marked in place, with a numbered key in the margin;
structure as five outlined cells, those in the interval hatched; colour carries no code."""
from __future__ import annotations

import html
from typing import TYPE_CHECKING, Dict, Iterable, List, NamedTuple, Optional, Tuple, Union

from . import words
from ._racking import Note, step_label
from .records import Aroma, FaultReading, Level, Quantity, Reading, Sight, Span, Trait
from .vocabulary import Dimension, Frame, Phase, SightPart, Stance, When

if TYPE_CHECKING:
    from .notes import Notes

__all__ = ["note_html", "notes_html"]

# `currentColor` follows the notebook's theme, light or dark.
STYLE = """<style>
.racking{font:1rem/1.5 Georgia,"Liberation Serif","DejaVu Serif",serif;max-width:62rem}
.racking .sheet{display:grid;grid-template-columns:minmax(0,1fr) 17rem;gap:1.5rem}
.racking .note{white-space:pre-wrap;overflow-wrap:anywhere;margin:0 0 .6rem;line-height:1.8}
.racking mark{background:none;color:inherit;padding:0;text-decoration:underline solid 1.5px;text-underline-offset:.2em;text-decoration-skip-ink:none}
.racking mark.dotted{text-decoration-style:dotted;text-decoration-thickness:2px}
.racking mark.dashed{text-decoration-style:dashed;text-decoration-thickness:1px}
.racking sup{font-size:.68em;line-height:0;padding-left:.08em}
.racking .key{font-size:.85rem;line-height:1.35;border-left:1px solid;margin:0;padding:0 0 0 2.4rem}
.racking p.key{padding-left:1rem;font-style:italic}
.racking .scales{display:grid;grid-template-columns:repeat(auto-fill,minmax(19rem,1fr));gap:.7rem 2rem;margin:.8rem 0 .4rem}
.racking .name{font-size:.9rem;font-variant:small-caps;letter-spacing:.03em}
.racking .scale ol{list-style:none;display:grid;grid-template-columns:repeat(5,1fr);gap:5px;margin:.1rem 0 0;padding:0;font-size:.72rem;line-height:1.15;text-align:center}
.racking .scale li{margin:0}
.racking .scale b{display:block;height:.95rem;border:1px solid;margin-bottom:.15rem}
.racking .scale .in b{background:repeating-linear-gradient(45deg,currentColor 0 1.5px,transparent 1.5px 5px);print-color-adjust:exact}
.racking .scale .in{font-weight:bold}
.racking .silent{font-size:.85rem;font-style:italic;margin:.3rem 0}
.racking dl{margin:.5rem 0 0;font-size:.92rem}
.racking dl div{display:grid;grid-template-columns:9rem 1fr}
.racking dt{font-variant:small-caps;letter-spacing:.03em;font-weight:normal}
.racking dd{margin:0;overflow-wrap:anywhere}
.racking .bar{display:inline-block;height:.8rem;border:1px solid;vertical-align:middle;background:repeating-linear-gradient(45deg,currentColor 0 1.5px,transparent 1.5px 5px);print-color-adjust:exact}
.racking table{border-collapse:collapse;font-size:.92rem}
.racking th{font-weight:normal;text-align:left;padding:.1rem .8rem .1rem 0}
.racking td{padding:.1rem .4rem;text-align:left}
@media (max-width:44rem){.racking .sheet{grid-template-columns:1fr}.racking dl div{grid-template-columns:1fr}}
</style>
"""

SOLID, DOTTED, DASHED = range(3)   # found; doubted or denied; said of something else
TAGS = ("<mark>", '<mark class="dotted">', '<mark class="dashed">')
CAUTION = ("Tasting involves alcohol: spit, rest, and never taste and drive. A note is no "
           "laboratory result.")

Said = Union[Aroma, Reading, Trait, Sight, FaultReading]


class Mark(NamedTuple):
    pieces: Tuple[Span, ...]
    line: int
    meanings: List[str]


def escaped(text: str) -> str:
    """For HTML; control characters, which HTML cannot hold, as U+FFFD."""
    kept = "".join("\N{REPLACEMENT CHARACTER}" if is_control(c) else c for c in text)
    return html.escape(kept)


def is_control(c: str) -> bool:
    code = ord(c)
    return (code < 0x20 and c not in "\n\t\r") or 0x7F <= code <= 0x9F or code & 0xFFFE == 0xFFFE


# ---- marks ----

def circumstances(said: Said, phase: Phase = Phase.overall) -> str:
    parts = [] if phase == Phase.overall else [phase.value]
    if said.stance == Stance.hedged:
        parts.append("doubted")
    if said.stance == Stance.denied:
        parts.append("not found")
    if said.when != When.now:
        parts.append(said.when.value)
    if said.frame != Frame.tasting:
        parts.append(said.frame.value)
    return f" ({', '.join(parts)})" if parts else ""


def line_of(said: Said) -> int:
    if said.frame != Frame.tasting or said.when in (When.later, When.before):
        return DASHED
    return SOLID if said.stance == Stance.stated else DOTTED


def aroma_meaning(aroma: Aroma) -> str:
    parts = [aroma.descriptor.label]
    if aroma.family is not None and aroma.family != aroma.descriptor:
        parts.append(aroma.family.label)
    parts += [state.value for state in aroma.state]
    if aroma.strength is not None:
        parts.append(words.interval_words(words.STRENGTHS, aroma.strength))
    if aroma.respelled:
        parts.append("respelled")
    return ", ".join(parts) + circumstances(aroma, aroma.phase)


def reading_meaning(reading: Reading) -> str:
    label = "" if reading.range is None else ": " + Note.label(reading.dimension, reading.range)
    return reading.dimension.value + label + circumstances(reading, reading.phase)


def sight_meaning(sight: Sight) -> str:
    name = "colour" if sight.part == SightPart.core else sight.part.value
    value = sight.hue.value if sight.hue is not None else sight.value
    return name + (f": {value}" if value else "") + circumstances(sight)


def quantity_meaning(quantity: Quantity) -> str:
    of = "" if quantity.frame == Frame.tasting else f" ({quantity.frame})"
    return f"{quantity.kind}: {words.quantity_words(quantity)}{of}"


def marks_of(note: Note) -> List[Mark]:
    """In the order of the text; readings of the same words share a mark."""
    marks: Dict[Tuple[Tuple[Span, ...], int], Mark] = {}

    def add(pieces: Iterable[Span], line: int, meaning: str) -> None:
        places = tuple(sorted(piece for piece in pieces if not piece.empty))
        if not places:
            return
        mark = marks.setdefault((places, line), Mark(places, line, []))
        if meaning not in mark.meanings:
            mark.meanings.append(meaning)

    for aroma in note.aromas + note.aside_aromas:
        add(aroma.parts or (aroma.span,), line_of(aroma), aroma_meaning(aroma))
    for reading in note.readings + note.aside_readings:
        add((reading.span,), line_of(reading), reading_meaning(reading))
    for trait in note.traits + note.aside_traits:
        add((trait.span,), line_of(trait), trait.id + circumstances(trait, trait.phase))
    for sight in note.sight + note.aside_sight:
        add((sight.span,), line_of(sight), sight_meaning(sight))
    for quantity in note.quantities:
        line = SOLID if quantity.frame == Frame.tasting else DASHED
        add((quantity.span,), line, quantity_meaning(quantity))
    for fault in note.condition.faults + note.aside_faults:
        add(fault.spans, line_of(fault), f"condition: {fault.fault}" + circumstances(fault))
    return sorted(marks.values(), key=lambda mark: mark.pieces[0])


def marked(text: str, marks: List[Mark]) -> str:
    """Cut wherever a mark begins or ends, underlined where any lies, numbered at its end."""
    cuts = {0, len(text)}
    for mark in marks:
        for piece in mark.pieces:
            cuts |= set(piece)
    places = sorted(cuts)
    out: List[str] = []
    open_marks: List[int] = []
    following = 0
    for begin, end in zip(places, places[1:]):
        while following < len(marks) and marks[following].pieces[0].begin <= begin:
            open_marks.append(following)
            following += 1
        part = Span(begin, end)
        lines = [marks[which].line for which in open_marks
                 if any(piece.contains(part) for piece in marks[which].pieces)]
        ending = [which for which in open_marks if marks[which].pieces[-1].end <= end]
        open_marks = [which for which in open_marks if which not in ending]
        words_here = escaped(text[begin:end])
        out.append(f"{TAGS[min(lines)]}{words_here}</mark>" if lines else words_here)
        if ending:
            out.append(f"<sup>{','.join(str(which + 1) for which in ending)}</sup>")
    return "".join(out)


# ---- the rest of a note ----

def scale_html(dimension: Dimension, level: Level) -> str:
    assert level.range is not None
    low, high = level.range
    steps = f"step {low}" + (f" to {high}" if high > low else "")
    spoken = f"{dimension}: {level.label}, {steps} of 5"
    cells = "".join(
        f"<li{' class=in' if low <= step <= high else ''}><b></b>"
        f"{escaped(step_label(dimension, step))}</li>" for step in range(1, 6))
    conflict = " <i>(in conflict)</i>" if level.conflict else ""
    if level.conflict:
        spoken += ", the note contradicts itself"
    return (f'<div class="scale"><span class="name">{dimension}{conflict}</span>'
            f'<ol role="img" aria-label="{escaped(spoken)}">{cells}</ol></div>')


def structure_html(note: Note) -> str:
    stated = [(dimension, note.structure[dimension]) for dimension in Dimension]
    scales = "".join(scale_html(dimension, level) for dimension, level in stated if level.range)
    silent = [dimension.value for dimension, level in stated if not level.range]
    out = f'<div class="scales">{scales}</div>' if scales else ""
    if silent:
        out += f'<p class="silent">No level stated: {", ".join(silent)}.</p>'
    return out


def line(term: str, text: Optional[str]) -> str:
    return f"<div><dt>{term}</dt><dd>{escaped(text)}</dd></div>" if text else ""


def condition_line(note: Note) -> str:
    cautions = dict.fromkeys(fault.caution for fault in note.condition.faults
                             if fault.caution and fault.stance != Stance.denied)
    return ". ".join([words.condition_words(note), " ".join(cautions)]) if cautions \
        else words.condition_words(note)


def maturity_line(note: Note) -> str:
    because = [f"{one.because} ({one.points_to})" for one in note.maturity.evidence]
    return (words.maturity_words(note) or "not stated") + (
        ": " + "; ".join(because) if because else "")


def note_html(note: Note) -> str:
    """What ``Note._repr_html_`` gives: one ``div`` that brings its own style and no script."""
    marks = marks_of(note)
    language = ' lang="en"' if note.language == "en" else ""
    key = "".join(f"<li>{escaped('; '.join(mark.meanings))}</li>" for mark in marks)
    families = "; ".join(f"{family.label}: {', '.join(labels)}"
                         for family, labels in words.families_found(note))
    return "".join([
        '<div class="racking">', STYLE, '<div class="sheet">',
        f'<p class="note" dir="auto"{language}>{marked(note.text, marks)}</p>',
        f'<ol class="key" aria-label="Key to the numbers">{key}</ol>' if marks
        else '<p class="key">No word of this note is in the lexicon.</p>',
        "</div>", structure_html(note), "<dl>",
        line("Families", families),
        line("Look", words.sight_words(note)),
        line("Measures", "; ".join(f"{quantity.kind} {words.quantity_words(quantity)}"
                                   for quantity in note.quantities)),
        line("Condition", condition_line(note)),
        line("Maturity", maturity_line(note)),
        line("Worth a thought", " ".join(remark.text for remark in note.remarks)),
        line("Kept as written", ", ".join(f"“{one.text}”" for one in note.unmapped)),
        "</dl></div>",
    ])


# ---- many notes ----

def notes_html(notes: Notes) -> str:
    """A summary: how many notes, their families, the structure they state, their condition.
    Needs neither pandas nor numpy."""
    batch = notes._batch
    count = len(notes)
    missing = sum(memoryview(batch.column("note.missing")))
    read = count - missing
    out = ['<div class="racking">', STYLE, f"<p>{read:,} note{'' if read == 1 else 's'}"]
    out.append(f", {missing:,} missing.</p>" if missing else ".</p>")
    out.append(families_html(notes))
    out.append(levels_html(notes))
    verdicts = bytes(value & 0xFF for value in memoryview(batch.column("note.verdict")))
    suspect = verdicts.count(2)
    out.append("<dl>" + line("Condition", f"to look at again: {suspect:,} of {read:,}"
                             if suspect else "no note speaks of a bottle to look at again"))
    coverage = [value for value in memoryview(batch.column("note.coverage")) if value == value]
    if coverage:
        out.append(line("Words read", f"{sum(coverage) / len(coverage):.0%} of those that could "
                                      "say something, on average"))
    out.append(f'</dl><p class="silent">{CAUTION}</p></div>')
    return "".join(out)


def families_html(notes: Notes) -> str:
    batch = notes._batch
    denied = list(Stance).index(Stance.denied)
    seen: Dict[int, int] = {}
    counts: Dict[int, int] = {}
    rows = zip(memoryview(batch.column("aroma.note")), memoryview(batch.column("aroma.family")),
               memoryview(batch.column("aroma.stance")), memoryview(batch.column("aroma.aside")))
    for note, family, stance, aside in rows:
        if aside or stance == denied or family < 0 or seen.get(family) == note:
            continue
        seen[family] = note
        counts[family] = counts.get(family, 0) + 1
    if not counts:
        return ""
    labels = {family.index: family.label for family in notes.reader.lexicon.families}
    most = max(counts.values())
    body = "".join(
        f'<tr><th scope="row">{escaped(labels[family])}</th><td>{found:,}</td>'
        f'<td><span class="bar" style="width:{12 * found / most:.2f}rem"></span></td></tr>'
        for family, found in sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))
    return f"<p class='silent'>Notes in which a family is found</p><table>{body}</table>"


def levels_html(notes: Notes) -> str:
    batch = notes._batch
    rows: List[str] = []
    for dimension in Dimension:
        low = memoryview(batch.column(f"note.{dimension}_low"))
        high = memoryview(batch.column(f"note.{dimension}_high"))
        pairs = [pair for pair in zip(low, high) if pair[0]]
        if not pairs:
            continue
        cells = "".join(
            f"<td>{escaped(step_label(dimension, step))}: "
            f"{sum(1 for begin, end in pairs if begin <= step <= end):,}</td>"
            for step in range(1, 6))
        rows.append(f'<tr><th scope="row">{dimension} ({len(pairs):,})</th>{cells}</tr>')
    if not rows:
        return ""
    return ("<p class='silent'>Notes whose range covers a step; one that speaks loosely covers "
            f"several</p><table>{''.join(rows)}</table>")
