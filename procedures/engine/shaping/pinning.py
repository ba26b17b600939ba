"""What operations that fix another part at holes share: where, by which of its holes, and how it lies."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from procedures.engine.finding import Finding, Unworkable, stop
from procedures.engine.operation import Operation
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Attachment, Branch, End, Feature
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point, Position, Span

from .bringing import SIDES, other_part, seen_from
from .curving import eye_at
from .hanging import hung
from .riveting import Pin, depth, hole_at, only_hole, tenon_at_start

_THROUGH_AN_EYE = (
    "What goes through an eye is put together by “hung, hooked or laid on”; a pin across it needs a hole."
)
_ACROSS = {"up": "left", "down": "right", "left": "up", "right": "down"}


class Pinning(Operation):
    """An operation that fixes a copy of another part, or of none, at each of one or more places."""

    where: tuple[Position, ...] = declare.positions(
        "At", "One place or several, each with a part of its own."
    )
    part: str | None = declare.part(
        "Other part", "Finished before this step; one comes in at each place.", required=False
    )
    part_hole: str | None = declare.name(
        "Its hole", "Name of a hole or a mark of the other part; its only hole when left out.", required=False
    )
    side: str = declare.choice("The other part lies", SIDES, default="down")
    turned: float = declare.angle(
        "Turned",
        "About the pin: positive is anticlockwise, seen from above or from the left.",
        default=0.0,
        least=-180,
        most=180,
    )
    name: str | None = declare.name("Name of the branch", "That of the part when left out.", required=False)

    @property
    def new_name(self) -> str:
        """The name of the new branch, or the group of them."""
        return self.name or self.part or ""

    @property
    def is_upright(self) -> bool:
        """Whether the pin goes through the thickness of this part."""
        return self.side in ("up", "down")

    @property
    def sense(self) -> int:
        """+1 where the other part lies above or to the left, -1 where it lies below or to the right."""
        return 1 if self.side in ("up", "left") else -1

    # -- where it is -----------------------------------------------------------------------------

    def points(self, piece: Piece) -> tuple[Point, ...]:
        """Return every place, on each member of a group."""
        return tuple(point for position in self.where for point in piece.points(position))

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self.seat(piece, one) for one in self.points(piece))

    def seat(self, piece: Piece, point: Point) -> Span:
        """Return the run of this part that a place takes up."""
        branch = piece.branch(point.branch)
        reach = branch.section_at(point.at).thickness / 2
        return Span(branch.name, max(point.at - reach, 0.0), min(point.at + reach, branch.length))

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return ()

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return self.points(piece)

    def repeats(self, piece: Piece) -> int:
        return len(self.points(piece))

    def uses(self, piece: Piece) -> Mapping[str, int]:
        count = len(self.points(piece))
        return dict.fromkeys(super().uses(piece), count)

    # -- holes -----------------------------------------------------------------------------------

    def hole(self, piece: Piece, point: Point) -> Feature:
        """Return the hole at a place. Raises Unworkable where there is none."""
        found = hole_at(piece.branch(point.branch), point.at)
        if found is None:
            raise Unworkable(self._no_hole(piece.branch(point.branch), point.at))
        return found

    def _no_hole(self, branch: Branch, at: float) -> Finding:
        eye = eye_at(branch, at)
        message = "There is no hole at {at:length} from the start of {branch}."
        hint = "Punch or drill it first."
        if eye is not None:
            message = "{branch} is bent to an eye of {eye:size} there; no hole goes through the bar itself."
            hint = _THROUGH_AN_EYE
        return stop(
            f"{self.id}.no_hole",
            message,
            hint=hint,
            at=at,
            eye=eye,
            branch=branch.said,
            field="where",
            source="geometry",
        )

    def mate(
        self, piece: Piece, key: str, field: str = "part", name: str | None = None
    ) -> tuple[Branch, Feature]:
        """Return the root of another part and its hole. Raises Unworkable where it has none."""
        root = other_part(piece, key, field).root
        named = next((one for one in root.features if one.is_hole and one.name == name), None)
        found = named if name else only_hole(root)
        if found is None:
            hint = "Make one hole in it, or name the one of several."
            marked = root.mark(name) if name else None
            places = (marked.at,) if marked else (0.0, root.length)
            raise Unworkable(
                stop(
                    f"{self.id}.no_mate",
                    "The {part} has no hole that a pin could go through.",
                    hint=_THROUGH_AN_EYE if any(eye_at(root, one) for one in places) else hint,
                    part=key,
                    field="part_hole" if field == "part" else field,
                    source="geometry",
                )
            )
        return root, found

    def tenon_of(self, piece: Piece, end: End) -> Pin:
        """Return the tenon at an end of the other part. Raises Unworkable where it has none."""
        assert self.part is not None  # a tenon is asked for only of another part
        pin = tenon_at_start(seen_from(other_part(piece, self.part), end).root)
        if pin is None:
            raise Unworkable(
                stop(
                    f"{self.id}.no_tenon",
                    "The {end} of the {part} has no tenon: no shoulder stands out behind it.",
                    hint="Make the tenon first, or choose the other end.",
                    end=end,
                    part=self.part,
                    field="part_end",
                    source="geometry",
                )
            )
        return pin

    def along_its_hole(self, piece: Piece, point: Point) -> Iterator[Finding]:
        """Stop a part that would lie across the way its hole goes through this part."""
        face = self.hole(piece, point).face
        if (face == "flat") != self.is_upright:
            sides = ("above", "below") if face == "flat" else ("to the left", "to the right")
            yield stop(
                f"{self.id}.across_the_hole",
                "The hole goes through the {through} of {branch}: the other part lies {first} or {second}.",
                hint="Choose one of these sides, or make the hole the other way through.",
                through="thickness" if face == "flat" else "width",
                branch=piece.branch(point.branch).said,
                first=sides[0],
                second=sides[1],
                field="side",
                source="geometry",
                mend={"side": _ACROSS[self.side]},
            )

    def side_said(self, piece: Piece) -> str:
        """Return where the other part lies, in words; on a ring it lies inside or outside."""
        point = self.points(piece)[0]
        branch = piece.branch(point.branch)
        path = branch.segments[branch.locate(point.at)[0]].path
        if isinstance(path, Arc) and (path.plane == "easy") == self.is_upright:
            return "on the inside" if path.turn == self.sense else "on the outside"
        return SIDES[self.side]

    # -- hanging ---------------------------------------------------------------------------------

    def half(self, piece: Piece, point: Point) -> float:
        """Return half the thickness of this part towards the side [mm]."""
        section = piece.branch(point.branch).section_at(point.at)
        return (section.thickness if self.is_upright else section.width) / 2

    def hold(self, point: Point, off: float, by: float = 0.0) -> Attachment:
        """Return a hold of a place, `off` mm away from the bar's middle towards the side."""
        if self.is_upright:
            return Attachment(point.branch, point.at, up=off * self.sense, by=by)
        return Attachment(point.branch, point.at, offset=off * self.sense, by=by)

    def standing_off(self, hold: Attachment) -> Attachment:
        """Return the hold of a part that stands off the side by its start."""
        turn = 90.0 * self.sense
        hold = replace(hold, roll=self.turned)
        return replace(hold, elevation=turn) if self.is_upright else replace(hold, angle=turn)

    def lying_on(self, hold: Attachment, *, on_edge: bool = False) -> Attachment:
        """Return the hold of a part that lies on the side, flat or on edge, along the bar unless turned."""
        roll = 90.0 if on_edge else 0.0
        if self.is_upright:
            return replace(hold, angle=self.turned, roll=roll)
        return replace(hold, elevation=self.turned, roll=90.0 - roll)

    def laid_on(
        self,
        piece: Piece,
        key: str,
        name: str,
        points: tuple[Point, ...],
        hole: tuple[Branch, Feature],
        off: float,
    ) -> tuple[Piece, tuple[str, ...]]:
        """Return the piece with a copy of a part laid on every place by its hole, `off` mm off the side."""
        root, feature = hole
        off += depth(root, feature) / 2
        on_edge = feature.face == "edge"
        holds = [
            self.lying_on(self.hold(one, self.half(piece, one) + off, feature.at), on_edge=on_edge)
            for one in points
        ]
        return hung(piece, piece.bench[key], holds, name)
