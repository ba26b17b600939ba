"""The numbers of one step: section, lengths and mass before and after, as texts in the reader's units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.number_texts import SPACE
from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.pieces.branch import Feature
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import close
from procedures.engine.replay import Frame

EVEN = 0.03  # of a size: two smiths measuring the same bar differ by more


@dataclass(frozen=True, slots=True)
class Figure:
    """One number before and after a step: texts without their unit. `before` is "" for what is new."""

    kind: str  # "section", "worked", "length", "branch", "hole", "state", "mass"
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
    """Return the sections of a run without their unit: "□12", or "□12 to □4" for a taper.

    Ends that differ by less than a hammer leaves are one size: the one between them.
    """
    if _is_even(start, end):
        return units.section_short(start.blend(end, 0.5))
    first, last = units.section_short(start), units.section_short(end)
    return first if first == last else f"{first} to {last}"


def _is_even(start: Section, end: Section) -> bool:
    pairs = ((start.width, end.width), (start.thickness, end.thickness))
    return start.shape == end.shape and all(abs(a - b) <= EVEN * max(a, b) for a, b in pairs)


def run_at(piece: Piece, span: Span | None, units: UnitSystem) -> str:
    """Return the sections of a range, without their unit; "" where there is none."""
    if span is None or not piece.has_branch(span.branch):
        return ""
    branch = piece.branch(span.branch)
    leaves = [one.widest for one in branch.segments_between(span.low, span.high) if one.bulge]
    if leaves:
        return f"widest {units.section_short(max(leaves, key=lambda one: one.width))}"
    first, last = branch.sections_between(span.low, span.high)
    if _is_even(first, last):  # the middle, where both ends are alike: those of a bar may be scarfed
        first = last = branch.section_at((span.low + span.high) / 2)
    return said_run(first, last, units)


def spans_of(frame: Frame) -> tuple[Span | None, Span | None]:
    """Return the range to compare before and after a step: the first it worked, on one branch if it can be.

    A step may work one branch and leave others worked (a split opened); what was there before is what counts.
    """
    after = frame.after.worked[0] if frame.after.worked else None
    before = frame.worked[0] if frame.worked else None
    if after and before and before.branch != after.branch and frame.before.has_branch(after.branch):
        length = frame.before.branch(after.branch).length
        before = Span(after.branch, min(after.low, length), min(after.high, length))
    return before, after


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
    before, after = spans_of(frame)
    holes = tuple(_new_holes(frame))
    if after:
        old, new = run_at(frame.before, before, units), run_at(frame.after, after, units)
        yield Figure("section", "Section", old, new, units.length_unit)
        if before and not holes:
            yield _figure("worked", "Worked part", units.length(before.length), units.length(after.length))
    for one in holes:
        yield Figure("hole", _hole_name(one), "", _hole(one, units), units.length_unit)
    if not (_is_whole(frame.before, before) and _is_whole(frame.after, after)):
        yield from _branch_length(frame, units)
    yield from _new_branches(frame, after, units)
    yield from _treated(frame, after, units)
    yield _figure("mass", "Mass", units.mass(frame.before.mass), units.mass(frame.after.mass))


def _treated(frame: Frame, told: Span | None, units: UnitSystem) -> Iterator[Figure]:
    """Yield the state of the steel where the step changed it; of runs in several states, the last told."""
    now = [one.treatment for metal in frame.left for one in metal.run]
    was = [one.treatment for metal in frame.found for one in metal.run]
    if told and now and was and now[-1] != was[-1]:
        yield Figure("state", "Steel", was[-1].said.text(units), now[-1].said.text(units), "")


def _new_branches(frame: Frame, told: Span | None, units: UnitSystem) -> Iterator[Figure]:
    """Yield the lengths of branches the step made, like ones together; not of those told of already."""
    new: dict[str, list[str]] = {}
    for branch in frame.after.branches:
        if not frame.before.has_branch(branch.name):
            new.setdefault(units.length(branch.length), []).append(branch.name)
    for text, names in new.items():
        if not (told and told.branch in names and _is_whole(frame.after, told)):
            yield _figure("branch", "Length of " + ", ".join(names), "", text)


def _is_whole(piece: Piece, span: Span | None) -> bool:
    """Whether a range is a whole branch of the piece, so that its length is the branch's."""
    return (
        span is not None
        and piece.has_branch(span.branch)
        and close(span.length, piece.branch(span.branch).length)
    )


def _branch_length(frame: Frame, units: UnitSystem) -> Iterator[Figure]:
    before, after, name = frame.before, frame.after, branch_of(frame)
    if before.has_branch(name):
        several = len(before.branches) + len(after.branches) > 2
        long = (units.length(piece.branch(name).length) for piece in (before, after))
        yield _figure("length", f"Length of {name}" if several else "Whole length", *long)


def _figure(kind: str, label: str, before: str, after: str) -> Figure:
    value, unit = split_unit(after)
    old, old_unit = split_unit(before)
    return Figure(kind, label, old if old_unit == unit else before, value, unit)


def _new_holes(frame: Frame) -> Iterator[Feature]:
    """Yield the holes the step made, each once by its size, however many branches it was made on.

    Those of a part that comes in, or of an arm that was bar before, were there already.
    """
    seen: set[tuple[str, str, float, float]] = set()
    for branch in frame.after.branches:
        if not frame.before.has_branch(branch.name):
            continue
        old = {(one.name, one.kind) for one in frame.before.branch(branch.name).features}
        for one in branch.features:
            size = (one.kind, one.shape, round(one.length, 3), round(one.width, 3))
            if (one.name, one.kind) not in old and size not in seen:
                seen.add(size)
                yield one


def _hole_name(feature: Feature) -> str:
    names = {"punched": "Hole", "drifted": "Drifted hole"}
    return names.get(feature.kind, feature.kind.capitalize())


def _hole(feature: Feature, units: UnitSystem) -> str:
    if feature.shape == "round":
        return units.section_short(Section.round(feature.width))
    if feature.shape == "square":
        return units.section_short(Section.square(feature.width))
    return f"{units.size_short(feature.length)}{SPACE}×{SPACE}{units.size_short(feature.width)}"
