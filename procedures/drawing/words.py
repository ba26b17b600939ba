"""The text alternative of a drawing: the same notes, said as sentences in the reader's units."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from calculators.wording import UnitSystem
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.feature import NOT_HOLES, Feature

from .captions import depth_word
from .curve_notes import CurveNote
from .lettering import name
from .notes import HoleNote, Notes
from .profile import SectionNote

_MOST = 12  # branches or marks said one by one


def describe(notes: Notes, units: UnitSystem, *, title: str) -> str:
    """Return what a drawing shows, in words."""
    return " ".join([f"{title}.", *_sentences(notes, units)])


def _sentences(notes: Notes, units: UnitSystem) -> Iterator[str]:
    piece = notes.piece
    alike = _alike(piece.branches, units)
    for branches in alike:
        yield _branch_words(branches, notes, units)
    if len(alike) > _MOST:
        yield f"There are {len(piece.branches)} branches in all."
    for span in notes.lengths[:_MOST]:
        yield f"Worked: {units.length(span.length)} of {name(span.branch)}."
    for curve in notes.curves[:_MOST]:
        yield f"{_curve_words(curve, units)} on {name(curve.span.branch)}."
    for branch, degrees in notes.angles[:_MOST]:
        side = "left" if degrees > 0 else "right"
        yield f"{name(branch)} leaves at {units.angle(abs(degrees))} to the {side}."
    for one in notes.skins[:_MOST]:
        run = f"{units.length(one.low)} to {units.length(one.high)}"
        words = one.words(units)
        yield f"{words[:1].upper()}{words[1:]}: {name(one.branch)} from {run}."
    yield from _place_words(notes, units)


def _place_words(notes: Notes, units: UnitSystem) -> Iterator[str]:
    new = [one for one in notes.holes if one.new]
    if new:
        yield f"Made: {_features_words(new, units)}."
    old = [one for one in notes.holes if not one.new]
    if old:
        yield f"There before: {_features_words(old, units)}."
    marks = {(one.name, round(one.at, 1)): one for one in notes.marks}
    if marks:
        said = ", ".join(
            f"{name(one.name)} {units.length(one.at)} from the start of {name(one.branch)}"
            for one in list(marks.values())[:_MOST]
        )
        more = f" and {len(marks) - _MOST} more" if len(marks) > _MOST else ""
        yield f"Marks: {said}{more}."


def _alike(branches: Iterable[Branch], units: UnitSystem) -> list[list[Branch]]:
    """Return the branches, those of one build together."""
    found: dict[tuple[object, ...], list[Branch]] = {}
    for one in branches:
        found.setdefault(_build(one, units) if one.attached else (one.name,), []).append(one)
    return list(found.values())


def _build(one: Branch, units: UnitSystem) -> tuple[object, ...]:
    return tuple(
        (str(seg.start), str(seg.end), units.length(seg.length), seg.path.kind) for seg in one.segments
    )


def _branch_words(branches: list[Branch], notes: Notes, units: UnitSystem) -> str:
    first = branches[0]
    names = ", ".join(name(one.name) for one in branches[:_MOST])
    if len(branches) > 1:
        names = f"{len(branches)} alike ({names}{' …' if len(branches) > _MOST else ''})"
    runs = [_run_words(one, units) for one in notes.sections if one.branch == first.name]
    shape = ", then ".join(runs[:_MOST]) + (" …" if len(runs) > _MOST else "")
    return f"{names}: {units.length(first.length)} long, {shape}." if shape else f"{names}: nothing left."


def _run_words(one: SectionNote, units: UnitSystem) -> str:
    section = units.section(one.section)
    if one.high > one.low:
        return f"{section} for {units.length(one.high - one.low)}"
    return f"tapering to {section}" if one.low > 0 else f"beginning at {section}"


def _curve_words(curve: CurveNote, units: UnitSystem) -> str:
    if curve.kind == "bend":
        return f"Bend of {units.angle(curve.angle)}, inside radius {units.size(curve.inside or 0.0)}"
    if curve.kind == "corner":
        fillet = f", inside fillet {units.size(curve.inside)}" if curve.inside else ""
        return f"Sharp corner of {units.angle(curve.angle)}{fillet}"
    if curve.spiral is not None:
        small, large = sorted((curve.spiral.first, curve.spiral.last))
        turns = units.number(round(curve.spiral.turns, 2))
        return f"Scroll of {turns} turns, centre-line radius {units.size(small)} to {units.size(large)}"
    hand = "right" if curve.turns > 0 else "left"
    return f"Twist of {units.number(round(abs(curve.turns), 2))} turns, {hand}-hand"


def _features_words(notes: Iterable[HoleNote], units: UnitSystem) -> str:
    """Return what features there are, those that differ in their names alone together."""
    alike: dict[tuple[str, str], list[str]] = {}
    for one in notes:
        kind = NOT_HOLES.get(one.feature.kind, f"{one.feature.kind} hole")
        called = name(one.feature.name)
        alike.setdefault((kind, _size_words(one.feature, units)), []).append(called)
    said = []
    for (kind, size), names in list(alike.items())[:_MOST]:
        listed = (
            ", ".join(dict.fromkeys(one for one in names if one and one != kind)) if len(names) < 4 else ""
        )
        count = f"{len(names)} × " if len(names) > 1 else ""
        said.append(f"{count}{kind}{f' {listed}' if listed else ''}{size}")
    return "; ".join(said) + (f" and {len(alike) - _MOST} more" if len(alike) > _MOST else "")


def _size_words(feature: Feature, units: UnitSystem) -> str:
    if feature.kind == "slit":
        return f", {units.length(feature.length)} long"
    if feature.kind == "wrap":
        return f", {units.number(feature.turns)} turns of {units.size(feature.depth)} wire"
    if not feature.is_hole:
        return f", {units.size(feature.depth)} {depth_word(feature)}" if feature.depth else ""
    if feature.shape == "round":
        return f", ø{units.size(feature.width)}"
    return f", {units.size_short(feature.length)} × {units.size(feature.width)}"
