"""Bars that lie together and are clasped or bound: which, how large the bundle is, and whether they touch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import dist
from typing import ClassVar, Literal

from calculators.sections import Section
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Operation
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.path import Straight
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.pose import PosedBranch, pose

from .bringing import SIDES, other_part, place_on

_TOUCHING = 1.0  # mm that bars of a bundle may lie apart before they are closed up: our judgement


@dataclass(frozen=True, slots=True)
class Bundle:
    """Bars that lie together, `width` by `height` mm over all, and how long a line round them is [mm]."""

    width: float
    height: float
    around: float


def bundle_of(sections: list[Section], *, stacked: bool) -> Bundle:
    """Return the bundle of bars lying side by side or, stacked, on each other."""
    if len(sections) == 1:
        alone = sections[0]
        return Bundle(alone.width, alone.thickness, alone.perimeter)
    wide, thick = [one.width for one in sections], [one.thickness for one in sections]
    width, height = (max(wide), sum(thick)) if stacked else (sum(wide), max(thick))
    return Bundle(width, height, 2 * (width + height))


def nearest(posed: PosedBranch, to: tuple[float, float, float]) -> float:
    """Return how far from its start the centreline of a branch comes nearest to a point [mm]."""
    best, at = float("inf"), 0.0
    for one in posed.segments:
        places = [station.at for station in one.stations]
        if isinstance(one.segment.path, Straight):
            start, ahead = one.start.origin, one.start.ahead
            along = sum((x - y) * a for x, y, a in zip(to, start, ahead, strict=True))
            places.append(one.low + min(max(along, 0.0), one.segment.length))
        for place in places:
            off = dist(posed.axes_at(place).origin, to)
            if off < best:
                best, at = off, place
    return at


class Bundling(Operation):
    """An operation that holds bars together at one or more places of this part."""

    holder: ClassVar[str]  # the parameter that names a part made to hold them
    where: tuple[Position, ...] = declare.positions("At", "Its middle, on one of the bars.")
    others: tuple[str, ...] | None = declare.names(
        "Together with", "Branches of this part that are held there too.", required=False
    )
    part: str | None = declare.part(
        "Other part", "A bar that comes in and is held there, finished before.", required=False
    )
    part_mark: str | None = declare.name(
        "Mark on it", "Where it is held; its middle when left out.", required=False
    )
    side: str = declare.choice("The others lie", SIDES, default="left")
    bundle: Section | None = declare.section(
        "Bundle", "Its width and height over all; as the bars are when left out.", required=False
    )

    # -- where it is -----------------------------------------------------------------------------

    def points(self, piece: Piece) -> tuple[Point, ...]:
        """Return every place, on each member of a group."""
        return tuple(point for position in self.where for point in piece.points(position))

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self.covered(piece, one) for one in self.points(piece))

    def covered(self, piece: Piece, point: Point) -> Span:
        """Return the run of this part that is covered at a place."""
        long, reach = piece.branch(point.branch).length, self.reach(piece)
        return Span(point.branch, max(point.at - reach, 0.0), min(point.at + reach, long))

    def reach(self, piece: Piece) -> float:
        """Return how far from its middle it reaches along the bar [mm]."""
        return 0.0

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return ()

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return self.points(piece)

    def repeats(self, piece: Piece) -> int:
        return len(self.points(piece))

    def uses(self, piece: Piece) -> Mapping[str, int]:
        count = len(self.points(piece))
        keys = [key for key in (self.part, getattr(self, self.holder)) if key]
        return {key: count * keys.count(key) for key in keys}

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        key = getattr(self, self.holder)
        if key is None:
            return {}
        root = other_part(piece, key, self.holder).root
        return {key: (Span(root.name, 0.0, root.length),)}

    # -- the bundle ------------------------------------------------------------------------------

    def held(self, piece: Piece, point: Point) -> list[Point]:
        """Return the places of other branches of this part that are held there. Raises Unworkable."""
        names = [one for name in self.others or () for one in piece.members(name)]
        if not names:
            return []
        posed = pose(piece).by_name
        middle = posed[point.branch].axes_at(point.at).origin
        return [Point(name, nearest(posed[name], middle)) for name in names]

    def sections(self, piece: Piece, point: Point) -> list[Section]:
        """Return the sections of all the bars held at a place. Raises Unworkable."""
        found = [piece.branch(one.branch).section_at(one.at) for one in (point, *self.held(piece, point))]
        if self.part:
            other = other_part(piece, self.part)
            found.append(other.root.section_at(place_on(other, self.part_mark, "part_mark")))
        return found

    def bundled(self, piece: Piece, point: Point) -> Bundle:
        """Return the bundle at a place, as given or as the bars are. Raises Unworkable."""
        if self.bundle is not None:
            return Bundle(self.bundle.width, self.bundle.thickness, self.bundle.perimeter)
        return bundle_of(self.sections(piece, point), stacked=self.side in ("up", "down"))

    def hold(self, piece: Piece, point: Point) -> Attachment:
        """Return how the other part hangs at a place: along the bar, against its side. Raises Unworkable."""
        assert self.part is not None
        other = other_part(piece, self.part)
        by = place_on(other, self.part_mark, "part_mark")
        own, theirs = piece.branch(point.branch).section_at(point.at), other.root.section_at(by)
        sense = 1 if self.side in ("up", "left") else -1
        if self.side in ("up", "down"):
            up = sense * (own.thickness + theirs.thickness) / 2
            return Attachment(point.branch, point.at, up=up, by=by)
        return Attachment(point.branch, point.at, offset=sense * (own.width + theirs.width) / 2, by=by)

    def joined(
        self,
        piece: Piece,
        kind: Literal["collar", "wrap"],
        name: str,
        places: list[Point],
        names: tuple[str, ...],
    ) -> Piece:
        """Return the piece with a joint of these places, and of those that new branches hang by."""
        for one in names:
            attached = piece.branch(one).attached
            assert attached is not None  # it was hung just before
            places = [*places, Point(one, attached.by)]
        if len(places) == 1:
            return piece
        joint = Joint(kind, tuple(places), name, self.part or "")
        return replace(piece, joints=(*piece.joints, joint))

    def bars(self, piece: Piece) -> list[str]:
        """Return the names of the bars held together, as they are said."""
        own = [piece.branch(one.branch).said for one in self.points(piece)]
        return [*own, *(self.others or ()), *([f"the {self.part}"] if self.part else [])]

    # -- checks ----------------------------------------------------------------------------------

    def fits_round(self, piece: Piece) -> Iterator[Finding]:
        """Stop a bundle given smaller than the bars in it, and a branch held together with itself."""
        for point in self.points(piece):
            if any(one.branch == point.branch for one in self.held(piece, point)):
                yield stop(
                    f"{self.id}.own_branch",
                    "{branch} is held together with itself.",
                    hint="Name the other branches only.",
                    branch=piece.branch(point.branch).said,
                    field="others",
                    source="geometry",
                )
            metal = sum(one.area for one in self.sections(piece, point))
            if self.bundle is not None and self.bundle.area < metal * (1 - 1e-9):
                yield stop(
                    f"{self.id}.bundle_too_small",
                    "The bars are {metal:area} together; {bundle:section} is {area:area}.",
                    hint="Leave the bundle out, or measure it over all.",
                    metal=metal,
                    bundle=self.bundle,
                    area=self.bundle.area,
                    field="bundle",
                    source="geometry",
                )

    def touching(self, before: Piece) -> Iterator[Finding]:
        """Warn of bars that lie apart where they are to be held together."""
        posed = pose(before).by_name
        for point in self.points(before):
            middle = posed[point.branch].axes_at(point.at).origin
            own = _radius(before.branch(point.branch), point.at)
            for other in self.held(before, point):
                off = dist(posed[other.branch].axes_at(other.at).origin, middle)
                gap = off - own - _radius(before.branch(other.branch), other.at)
                if gap > _TOUCHING:
                    yield caution(
                        f"{self.id}.apart",
                        "{one} and {other} lie {gap:length} apart there.",
                        hint="Set them until they touch: it holds nothing together that does not.",
                        one=point.branch,
                        other=other.branch,
                        gap=gap,
                        field="others",
                        source="geometry",
                    )


def _radius(branch: Branch, at: float) -> float:
    """Return half the larger size of a bar at a place [mm]."""
    section = branch.section_at(at)
    return max(section.width, section.thickness) / 2
