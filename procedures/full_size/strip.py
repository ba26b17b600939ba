"""The mark-out strip: the raw bar at full size with every place that is struck on it, and what for."""

from __future__ import annotations

from collections import defaultdict

from calculators.wording import UnitSystem
from procedures.drawing.lettering import name
from procedures.engine.markout import BarMark, Use, bar_marks
from procedures.engine.replay import PartReplay

from .laid_bar import LaidBar, Place, Symbol
from .pattern import Pattern

_CHISELLED = {"cut_off", "split", "fuller"}  # common practice, no source


def strip(replayed: PartReplay, nominal: PartReplay | None, units: UnitSystem) -> Pattern:
    """Return the mark-out strip of a part's raw bar.

    `nominal` is the same part replayed without scale, where `replayed` reckons with it: the distances that
    would do if the fire took nothing are then said too.
    """
    part, piece = replayed.part, replayed.start
    section, length = piece.stock.section, piece.stock.length
    half = section.width / 2
    without = _by_use(bar_marks(nominal)) if nominal else {}
    marks = bar_marks(replayed)
    shown = _by_use(marks)
    places = tuple(_place(replayed, one, _nominal(one, shown, without), units) for one in marks)
    bar = f"{units.section(section)} × {units.length(length)}, {piece.material.title.lower()}"
    notes = [f"Raw bar {bar}. All marks are struck cold, before the first heat."]
    if any(one.symbol == "soapstone" for one in places):
        notes.append("Soapstone burns off in the fire; what must last through a heat is punched.")
    if nominal:
        notes.append("Distances allow for what the fire takes; in brackets, the nominal distance without it.")
    else:
        notes.append("Nominal: what the fire takes is not reckoned in.")
    if not replayed.is_complete:
        notes.append("A step stops the work: marks of the steps after it are not here.")
    return LaidBar(
        key="strip",
        title=f"{name(part.name, 60)}: mark-out strip",
        lead=f"{bar}. {len(marks)} places to mark.",
        edges=((0.0, -half, half), (length, -half, half)),
        places=(*places, Place(length, "", f"{units.length(length)}: end of the bar")),
        units=units,
        section=section,
        notes=tuple(notes),
        datum="datum end",
    ).pattern()


def _place(replayed: PartReplay, mark: BarMark, nominal: float | None, units: UnitSystem) -> Place:
    """Return a mark as it stands on the strip."""
    under = units.length(mark.at)
    if nominal is not None and units.length(nominal) != under:
        under += f" ({units.length(nominal)})"
    over = "; ".join(_use_words(one) for one in mark.uses)
    return Place(mark.at, over, under, _symbol(replayed, mark), strong=mark.kind == "mark")


def _use_words(use: Use) -> str:
    if use.kind == "mark":
        return name(use.label, 30)
    steps = ", ".join(map(str, use.steps))
    return f"{steps} {name(use.label, 30)}"


def _symbol(replayed: PartReplay, mark: BarMark) -> Symbol:
    """Return how it is struck: what is cut is nicked, what must last through a heat is punched."""
    steps = {step for use in mark.uses for step in use.steps}
    if any(replayed.frames[step - 1].step.operation in _CHISELLED for step in steps):
        return "chisel"
    if any(use.kind == "mark" for use in mark.uses):
        return "punch"
    hot = next((one.number for one in replayed.frames if one.heats or one.welding_heats), None)
    return "soapstone" if hot is None or max(steps) <= hot else "punch"


def _by_use(marks: tuple[BarMark, ...]) -> dict[tuple[str, str, int], list[float]]:
    """Return the places of each use, in order: a step may begin and end, or be done at several."""
    found: dict[tuple[str, str, int], list[float]] = defaultdict(list)
    for mark in marks:
        for use in mark.uses:
            for step in use.steps:
                found[use.kind, use.label, step].append(mark.at)
    return found


def _nominal(
    mark: BarMark,
    shown: dict[tuple[str, str, int], list[float]],
    without: dict[tuple[str, str, int], list[float]],
) -> float | None:
    """Return where a mark would lie if the fire took nothing, or None where that is not known."""
    use = mark.uses[0]
    key = use.kind, use.label, use.steps[0]
    here, there = shown[key], without.get(key, [])
    return there[here.index(mark.at)] if len(here) == len(there) else None
