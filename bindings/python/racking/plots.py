"""Pictures of notes, with matplotlib. All read well in grey: hatching and words, no colour code.

Each function takes ``ax``: matplotlib axes to draw in, else makes its own, and returns the axes.
Wines are told apart by name: pass ``{"name": note or Notes}``.
"""
from __future__ import annotations

from typing import TYPE_CHECKING, Any, Dict, Iterable, List, Mapping, Optional, Tuple, Union

import matplotlib.patches
import matplotlib.pyplot
import matplotlib.ticker

from ._racking import Note, step_label
from .errors import BadArgument, WrongType
from .notes import Notes
from .records import Interval
from .vocabulary import Dimension, Stance

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["family_shares", "over_years", "panel_spread", "structure_profile"]

OneOrMany = Union[Note, Notes, Iterable[Optional[Note]]]
Wines = Union[OneOrMany, Mapping[str, OneOrMany]]

INK = "#1c1a17"
HATCHES = ("////", "....", "----", "xxxx", "\\\\\\\\", "||||")


def listed(notes: OneOrMany) -> List[Note]:
    if isinstance(notes, Note):
        return [notes]
    found: List[Note] = []
    for note in notes:
        if note is not None and not isinstance(note, Note):
            raise WrongType(f"a plot is made of notes, not of {type(note).__name__}")
        if note is not None:
            found.append(note)
    return found


def named(wines: Wines) -> Dict[str, List[Note]]:
    if isinstance(wines, Mapping):
        return {str(name): listed(notes) for name, notes in wines.items()}
    return {"": listed(wines)}


def axes(ax: Optional[Axes], width: float, height: float) -> Axes:
    if ax is not None:
        return ax
    _, made = matplotlib.pyplot.subplots(figsize=(width, height), layout="constrained")
    return made


def dimension_of(dimension: Union[Dimension, str]) -> Dimension:
    try:
        return Dimension(dimension)
    except ValueError:
        raise BadArgument(f"'{dimension}' is no dimension; there are {', '.join(Dimension)}") from None


def covering(notes: Iterable[Note], dimension: Dimension) -> List[Interval]:
    return [level.range for level in (note.structure[dimension] for note in notes)
            if level.range is not None]


def cell(ax: Axes, x: float, y: float, width: float, height: float, filled: float,
         hatch: str) -> None:
    """An outlined cell, hatched from its floor up to a share of its height."""
    if filled > 0:
        ax.add_patch(matplotlib.patches.Rectangle(
            (x, y), width, height * filled, fill=False, hatch=hatch, edgecolor=INK, linewidth=0))
    ax.add_patch(matplotlib.patches.Rectangle(
        (x, y), width, height, fill=False, edgecolor=INK, linewidth=0.8))


def cells(ax: Axes, y: float, intervals: List[Interval], hatch: str, height: float = 0.8) -> None:
    """Five cells, each filled by the share of the intervals that cover its step."""
    for step in range(1, 6):
        covered = sum(1 for low, high in intervals if low <= step <= high)
        cell(ax, step - 0.45, y, 0.9, height, covered / max(len(intervals), 1), hatch)


def bare(ax: Axes) -> None:
    for side in ("top", "right", "left", "bottom"):
        ax.spines[side].set_visible(False)
    ax.tick_params(length=0)


def structure_profile(wines: Wines, ax: Optional[Axes] = None) -> Axes:
    """The structure of one or several wines: a row of five cells for each dimension and wine,
    hatched over the interval. Of several notes of a wine, a cell fills by the share of those
    stating the dimension whose interval covers the step.

    >>> from racking import plots
    >>> ax = plots.structure_profile({"2016": reader.read("Grippy, fresh."),
    ...                               "2019": reader.read("Soft tannin, sharp.")})
    >>> ax.get_title()
    'Structure'
    """
    groups = named(wines)
    rows: List[Tuple[Dimension, str, List[Interval], int]] = []
    for dimension in Dimension:
        for number, (name, notes) in enumerate(groups.items()):
            intervals = covering(notes, dimension)
            if intervals:
                rows.append((dimension, name, intervals, number))
    ax = axes(ax, 6.4, 0.8 + 0.55 * max(len(rows), 1))
    for place, (dimension, name, intervals, number) in enumerate(reversed(rows)):
        y = place * 1.3
        cells(ax, y, intervals, HATCHES[number % len(HATCHES)])
        for step in range(1, 6):
            ax.text(step, y - 0.05, step_label(dimension, step), ha="center", va="top", fontsize=7)
    ax.set_yticks([place * 1.3 + 0.4 for place in range(len(rows))],
                  [f"{dimension} {name}".strip() for dimension, name, _, _ in reversed(rows)])
    ax.set_xlim(0.4, 5.6)
    ax.set_ylim(-0.6, max(len(rows), 1) * 1.3)
    ax.set_xticks([])
    ax.set_title("Structure")
    if not rows:
        ax.text(3, 0.4, "no level stated", ha="center")
    bare(ax)
    return ax


def family_shares(wines: Wines, ax: Optional[Axes] = None) -> Axes:
    """Bars of the share of each family among the aromas found; denied ones are left out.

    >>> from racking import plots
    >>> ax = plots.family_shares(reader.read_many(["Plum and cherry.", "Lemon."]))
    >>> ax.get_xlabel()
    'share of the aromas found'
    """
    groups = named(wines)
    counts: Dict[str, Dict[Tuple[int, str], int]] = {name: {} for name in groups}
    for name, notes in groups.items():
        for note in notes:
            for aroma in note.aromas:
                if aroma.stance != Stance.denied and aroma.family is not None:
                    key = (aroma.family.index, aroma.family.label)
                    counts[name][key] = counts[name].get(key, 0) + 1
    families = sorted({key for found in counts.values() for key in found}, reverse=True)
    ax = axes(ax, 6.4, 1.2 + 0.3 * len(families) * max(len(groups), 1))
    height = 0.8 / max(len(groups), 1)
    for number, (name, found) in enumerate(counts.items()):
        total = max(sum(found.values()), 1)
        ax.barh([place + 0.4 - (number + 0.5) * height for place in range(len(families))],
                [found.get(family, 0) / total for family in families], height=height * 0.9,
                fill=False, hatch=HATCHES[number % len(HATCHES)], edgecolor=INK, label=name)
    ax.set_yticks(range(len(families)), [label for _, label in families])
    ax.set_xlabel("share of the aromas found")
    ax.xaxis.set_major_formatter(matplotlib.ticker.PercentFormatter(1.0, decimals=0))
    ax.set_title("Families")
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    if len(groups) > 1:
        ax.legend(frameon=False)
    return ax


def over_years(notes: OneOrMany, years: Iterable[Any], dimension: Union[Dimension, str] = "tannin",
               ax: Optional[Axes] = None) -> Axes:
    """One wine over the years it was tasted: a column of five cells a year, hatched over the
    interval. ``years``: one a note, in any order; notes of one year share a column. Missing
    notes and notes that state no level leave an empty column.

    >>> from racking import plots
    >>> ax = plots.over_years([reader.read("Grippy."), reader.read("Soft tannin.")], [2019, 2024])
    >>> [label.get_text() for label in ax.get_xticklabels()]
    ['2019', '2024']
    """
    of = dimension_of(dimension)
    every: List[Optional[Note]] = [notes] if isinstance(notes, Note) else list(notes)
    when = list(years)
    if len(every) != len(when):
        raise BadArgument(f"{len(when)} years for {len(every)} notes")
    columns: Dict[Any, List[Note]] = {year: [] for year in sorted(set(when))}
    for note, year in zip(every, when):
        if note is not None:
            columns[year].append(note)
    ax = axes(ax, 1.6 + 0.9 * max(len(columns), 2), 3.6)
    for place, group in enumerate(columns.values()):
        intervals = covering(group, of)
        for step in range(1, 6):
            covered = sum(1 for low, high in intervals if low <= step <= high)
            cell(ax, place - 0.4, step - 0.45, 0.8, 0.9, covered / max(len(intervals), 1), HATCHES[0])
        if not intervals:
            ax.text(place, 0.45, "not stated", ha="center", va="top", fontsize=7)
    ax.set_xticks(range(len(columns)), [str(year) for year in columns])
    ax.set_yticks(range(1, 6), [step_label(of, step) for step in range(1, 6)])
    ax.set_xlim(-0.6, max(len(columns), 1) - 0.4)
    ax.set_ylim(0.2, 5.6)
    ax.set_title(f"{of} over the years".capitalize())
    bare(ax)
    return ax


def panel_spread(panel: Mapping[str, OneOrMany], dimension: Union[Dimension, str] = "tannin",
                 ax: Optional[Axes] = None) -> Axes:
    """A panel's spread in one dimension: a row of five cells a taster, and one of all of them
    beneath. A cell fills by the share of the taster's notes whose interval covers the step.

    >>> from racking import plots
    >>> ax = plots.panel_spread({"Odile": reader.read("Grippy."), "Rasmus": reader.read("Soft tannin.")})
    >>> [label.get_text() for label in ax.get_yticklabels()]
    ['all', 'Rasmus', 'Odile']
    """
    of = dimension_of(dimension)
    if not isinstance(panel, Mapping):
        raise WrongType('panel must be a mapping of tasters, {"name": notes}')
    rows = [(name, covering(notes, of)) for name, notes in named(panel).items()]
    rows.append(("all", [one for _, intervals in rows for one in intervals]))
    ax = axes(ax, 6.4, 0.9 + 0.45 * len(rows))
    for place, (name, intervals) in enumerate(reversed(rows)):
        cells(ax, place, intervals, HATCHES[3] if name == "all" and place == 0 else HATCHES[0], 0.7)
        if not intervals:
            ax.text(5.55, place + 0.35, "not stated", va="center", fontsize=7)
    ax.set_yticks([place + 0.35 for place in range(len(rows))],
                  [name for name, _ in reversed(rows)])
    ax.set_xticks(range(1, 6), [step_label(of, step) for step in range(1, 6)])
    ax.set_xlim(0.4, 6.2)
    ax.set_ylim(-0.2, len(rows))
    ax.set_title(f"{of} by taster".capitalize())
    bare(ax)
    return ax
