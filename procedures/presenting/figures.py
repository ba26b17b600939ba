"""The numbers of one step: section, lengths and mass before and after, as texts in the reader's units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.number_texts import SPACE
from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.branch import Feature
from procedures.engine.piece import Piece
from procedures.engine.place import Span
from procedures.engine.replay import Frame


@dataclass(frozen=True, slots=True)
class Figure:
    """One number before and after a step: texts without their unit. `before` is "" for what is new."""

    kind: str  # "section", "worked", "length", "branch", "hole", "mass"
    label: str
    before: str
    after: str
    unit: str

    @property
    def changed(self) -> bool:
        """Whether the step changed it as far as can be shown."""
        return self.before != self.after


@dataclass(frozen=True, slots=True)
class Fact:
    """One number with its name: the text without its unit, and the unit."""

    label: str
    value: str
    unit: str = ""


def split_unit(text: str) -> tuple[str, str]:
    """Return ("35.1", "g") of "35.1 g"; the unit is "" where there is none at the end."""
    value, _, unit = text.rpartition(SPACE)
    return (value, unit) if value and unit[:1].isalpha() else (text, "")


def fact(label: str, text: str) -> Fact:
    """Return a fact from a text that ends in its unit."""
    return Fact(label, *split_unit(text))


def said_run(start: Section, end: Section, units: UnitSystem) -> str:
    """Return the sections of a run without their unit: "□12", or "□12 to □4" for a taper."""
    first, last = units.section_short(start), units.section_short(end)
    return first if first == last else f"{first} to {last}"


def run_at(piece: Piece, spans: tuple[Span, ...], units: UnitSystem) -> str:
    """Return the sections of the first of these ranges, without their unit; "" where there is none."""
    if not spans or not piece.has_branch(spans[0].branch):
        return ""
    span = spans[0]
    return said_run(*piece.branch(span.branch).sections_between(span.low, span.high), units)


def branch_of(frame: Frame) -> str:
    """Return the branch whose length a step is judged by: the one it worked, or the root."""
    for span in (*frame.worked, *frame.after.worked):
        if frame.before.has_branch(span.branch) and frame.after.has_branch(span.branch):
            return span.branch
    return frame.after.root.name


def figures(frame: Frame, units: UnitSystem) -> tuple[Figure, ...]:
    """Return the rows of numbers of a step that came about; none of one that did not."""
    return tuple(_rows(frame, units)) if frame.status == "done" else ()


def _rows(frame: Frame, units: UnitSystem) -> Iterator[Figure]:
    before, after = frame.before, frame.after
    section = run_at(after, after.worked, units)
    if section:
        yield Figure("section", "Section", run_at(before, frame.worked, units), section, units.length_unit)
        if frame.worked:
            long = (units.length(spans[0].length) for spans in (frame.worked, after.worked))
            yield _figure("worked", "Worked part", *long)
    yield from (
        Figure("hole", _hole_name(one), "", _hole(one, units), units.length_unit) for one in _new_holes(frame)
    )
    name = branch_of(frame)
    several = len(before.branches) + len(after.branches) > 2
    if before.has_branch(name):
        long = (units.length(piece.branch(name).length) for piece in (before, after))
        yield _figure("length", f"Length of {name}" if several else "Whole length", *long)
    new: dict[str, list[str]] = {}
    for branch in after.branches:
        if not before.has_branch(branch.name):
            new.setdefault(units.length(branch.length), []).append(branch.name)
    for text, names in new.items():
        yield _figure("branch", "Length of " + ", ".join(names), "", text)
    yield _figure("mass", "Mass", units.mass(before.mass), units.mass(after.mass))


def _figure(kind: str, label: str, before: str, after: str) -> Figure:
    value, unit = split_unit(after)
    old, old_unit = split_unit(before)
    return Figure(kind, label, old if old_unit == unit else before, value, unit)


def _new_holes(frame: Frame) -> Iterator[Feature]:
    """Yield the holes the step made, each once by its size, however many branches it was made on."""
    seen: set[tuple[str, str, float, float]] = set()
    for branch in frame.after.branches:
        had = frame.before.branch(branch.name).features if frame.before.has_branch(branch.name) else ()
        old = {(one.name, one.kind) for one in had}
        for one in branch.features:
            size = (one.kind, one.shape, round(one.length, 3), round(one.width, 3))
            if (one.name, one.kind) not in old and size not in seen:
                seen.add(size)
                yield one


def _hole_name(feature: Feature) -> str:
    return {"punched": "Hole", "slit": "Slit", "drifted": "Drifted hole"}[feature.kind]


def _hole(feature: Feature, units: UnitSystem) -> str:
    if feature.shape == "round":
        return units.section_short(Section.round(feature.width))
    if feature.shape == "square":
        return units.section_short(Section.square(feature.width))
    return f"{units.size_short(feature.length)}{SPACE}×{SPACE}{units.size_short(feature.width)}"
