"""What the operations that make holes share: where and how large, their names, and the common checks."""

from __future__ import annotations

from abc import abstractmethod
from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import replace

from calculators.wording import Sentence
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Operation
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.feature import Shape
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.zones import around, merged
from procedures.engine.place_words import points_words
from procedures.engine.sketch import Sketch

from .checks import hollow_metal
from .holes import FACES, LONG, SHAPES, Face, Hole, free_names, holes_between


class HoleWork(Operation):
    """An operation on holes: how far one may reach, what it may not run into, what sizes say it."""

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        hot = []
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            section = branch.section_at((span.low + span.high) / 2)
            hot.append(around(branch, span.low, span.high, max(section.width, section.thickness)))
        return merged(hot)

    def reaching(self, piece: Piece, point: Point, reach: float) -> Span:
        """Return the range `reach` mm on each side of a point, as far as this branch goes.

        Raises Unworkable where it would reach beyond an end with nothing more beyond.
        """
        length = piece.branch(point.branch).length
        low, high = point.at - reach, point.at + reach
        for end, over in (("start", -low), ("end", high - length)):
            room = min((one.length for one in self._beyond(piece, point.branch, end)), default=0.0)
            if over > room + TOUCH:
                raise Unworkable(
                    stop(
                        f"{self.id}.breaks_out",
                        "It would reach {over:length} beyond the {end} of {branch}.",
                        hint="Set it {over:length} further in, or make it smaller.",
                        over=over - room,
                        end=end,
                        branch=piece.branch(point.branch).said,
                        field="where",
                        source="geometry",
                    )
                )
        return Span(point.branch, max(low, 0.0), min(high, length))

    def _beyond(self, piece: Piece, name: str, end: str) -> tuple[Branch, ...]:
        """Return the branches that go on from an end of a branch; none where it is free."""
        branch = piece.branch(name)
        held = branch.attached if end == "start" and branch.is_held_at_start else None
        parent = (piece.branch(held.parent),) if held else ()
        itself = (branch,) if piece.is_closed(name) else ()
        return (*itself, *parent, *piece.children(name, end))

    def sizes_given(self, shape: Shape, size: float, length: float | None) -> Iterator[Finding]:
        """Yield what is wrong with the length along the bar: wanted, not wanted, or too little for a slot."""
        if shape in LONG and length is None:
            yield stop(
                f"{self.id}.no_length",
                "A {shape} needs its length along the bar too.",
                hint="Give the length, or choose a round or a square.",
                shape=shape,
                field="length",
                source="geometry",
            )
        if shape not in LONG and length is not None:
            yield stop(
                f"{self.id}.length_not_used",
                "A {shape} hole has one size; the length is for a rectangle or a slot.",
                hint="Leave the length out, or choose a rectangle or a slot.",
                shape=shape,
                field="length",
                source="geometry",
                mend={"shape": "rectangle" if shape == "square" else "slot"},
            )
        if shape == "slot" and length is not None and length < size:
            yield stop(
                f"{self.id}.slot_too_short",
                "A slot {length:size} long and {width:size} wide is wider than long.",
                hint="Give the longer size as its length: it lies along the bar.",
                length=length,
                width=size,
                field="length",
                source="geometry",
            )

    def meeting(
        self, piece: Piece, span: Span, earlier: tuple[Span, ...], itself: Collection[str] = ()
    ) -> Iterator[Finding]:
        """Stop a hole over `span` that runs into another, or into one of the `earlier` of this step.

        `itself` are the names of holes that it takes the place of.
        """
        holes = holes_between(piece.branch(span.branch), span)
        there = [one.said for one in holes if one.name not in itself]
        alike = [one for one in earlier if one.branch == span.branch]
        if any(one.low < span.high and span.low < one.high for one in alike):
            there.append("another of this step")
        if there:
            yield stop(
                f"{self.id}.meets_another",
                "It would run into {other}.",
                hint="Set them further apart.",
                other=there[0],
                field="where",
                source="geometry",
            )


class HoleMaking(HoleWork):
    """An operation that makes one or more holes alike."""

    where: tuple[Position, ...] = declare.positions("Centre at", "One place or several, each made alike.")
    shape: Shape = declare.choice("Shape", SHAPES, default="round")
    size: float = declare.length("Size", "Diameter, side, or width across the bar.")
    length: float | None = declare.length(
        "Length", "Along the bar; for a rectangle or a slot.", required=False
    )
    face: Face = declare.choice("Made", FACES, default="flat")
    name: str = declare.name("Name", "Several are numbered.", default="hole")

    @property
    def hole(self) -> Hole:
        """The hole as it is when done."""
        length = self.length if self.shape in LONG and self.length is not None else self.size
        return Hole(self.shape, length, self.size, self.face)

    def points(self, piece: Piece) -> tuple[Point, ...]:
        """Return the centre of every hole, on each member of a group."""
        return tuple(point for position in self.where for point in piece.points(position))

    def reach(self, piece: Piece) -> float:
        """Return how far [mm] from its centre, along the bar, the work at a hole goes."""
        return self.hole.length / 2

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        reach = self.reach(piece)
        return tuple(self.reaching(piece, one, reach) for one in self.points(piece))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return self.points(piece)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from self.sizes_given(self.shape, self.size, self.length)
        spans = self.spans(piece)
        for index, span in enumerate(spans):
            yield from hollow_metal(piece.branch(span.branch), span, "where")
            yield from self.meeting(piece, span, spans[:index], self.taken_over(piece, span))

    def taken_over(self, piece: Piece, span: Span) -> Collection[str]:
        """Return the names of the holes that a hole over `span` takes the place of."""
        return ()

    def common_cautions(self, before: Piece) -> Iterator[Finding]:
        """Yield the cautions about the first hole that is too near a free end, and about holding."""
        yield from self.near_end(before)

    def near_end(self, before: Piece) -> Iterator[Finding]:
        """Warn of the first hole that is too near a free end."""
        width = self.hole.width
        for point in self.points(before):
            length = before.branch(point.branch).length
            ends = (("start", point.at), ("end", length - point.at))
            near = [gap for end, gap in ends if not self._beyond(before, point.branch, end)]
            if min(near, default=width) < width:
                yield caution(
                    f"{self.id}.near_end",
                    "The centre is {gap:length} from the end: nearer than {width:size} the end gives way.",
                    hint="Keep {width:size} at least, better one and a half times that.",
                    gap=min(near),
                    width=width,
                    field="where",
                    source="one hole's width from memory",
                )
                break

    # -- making ----------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        made: list[tuple[str, str]] = []
        for branch, placed in self.named(piece).items():
            for at, name in sorted(placed, reverse=True):  # from the far end: what lies before stays put
                piece = self.made(piece, piece.branch(branch), at, name)
                made.append((branch, name))
        spans = [
            around(branch, hole.at, hole.at, hole.length / 2)
            for branch in piece.branches
            for hole in branch.features
            if (branch.name, hole.name) in made
        ]
        return replace(piece, worked=tuple(sorted(spans, key=lambda one: (one.branch, one.low))))

    def named(self, piece: Piece) -> dict[str, list[tuple[float, str]]]:
        """Return, by branch, where each hole comes and its name."""
        by_branch: dict[str, list[float]] = defaultdict(list)
        for point in self.points(piece):
            by_branch[point.branch].append(point.at)
        return {
            branch: list(zip(ats, free_names(piece.branch(branch), self.name, len(ats)), strict=True))
            for branch, ats in by_branch.items()
        }

    @abstractmethod
    def made(self, piece: Piece, branch: Branch, at: float, name: str) -> Piece:
        """Return the piece with one hole made in it. May raise Unworkable."""

    # -- words and drawing -----------------------------------------------------------------------

    def places(self, piece: Piece) -> Sentence:
        """Return where the holes go, in words that follow "at"."""
        return points_words(piece, self.where)

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            middle = (span.low + span.high) / 2
            named = holes_between(after.branch(span.branch), Span(span.branch, middle, middle + TOUCH))
            sketch.point(Point(span.branch, middle), named[0].name if named else self.name)
