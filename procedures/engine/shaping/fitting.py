"""What goes through what when parts are put together, and whether it fits, cold and hot."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.formulas.thermal_expansion import elongation
from calculators.sections import Section
from calculators.wording import say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import End
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point, Position
from procedures.engine.pieces.segment import TOUCH

from .pinning import Pinning
from .riveting import Pin, clearance, depth, outline

KINDS = {
    "pin": "a pin through both",
    "bolt": "a bolt through both",
    "tenon": "its tenon in a hole, not fastened",
    "wedge": "its tenon in a hole, wedged or keyed",
    "hook": "hung, hooked or laid on",
}
_LEAST, _MOST = 0.3, 0.8  # mm of play that a pin of 8 to 20 mm turns in: from memory


class Fitting(Pinning):
    """An operation that puts a pin, a bolt or a tenon through a hole, or hangs one part on another."""

    to: Position | None = declare.position(
        "Other place", "On this part already: it is only joined, nothing comes in.", required=False
    )
    kind: str = declare.choice("Joined by", KINDS, default="pin")
    part_end: End = declare.choice(
        "End with the tenon", {"start": "its start", "end": "its end"}, default="start"
    )
    diameter: float | None = declare.length("Pin", "Diameter of the pin or bolt.", required=False)
    moves: bool = declare.flag("Must stay free to move", default=False)
    heat_of_hole: float | None = declare.number(
        "Heat of the part with the hole",
        "Where it is put on hot, to shrink tight.",
        required=False,
        least=20,
        most=1200,
        unit="°C",
    )

    # -- what goes through what ------------------------------------------------------------------

    @property
    def has_tenon(self) -> bool:
        """Whether the other part has a tenon that goes into a hole of this one."""
        return self.kind in ("tenon", "wedge")

    @property
    def has_pin(self) -> bool:
        """Whether something goes through holes of both."""
        return self.kind in ("pin", "bolt")

    def tenon(self, piece: Piece) -> Pin:
        """Return the tenon of the other part. Raises Unworkable where it has none."""
        return self.tenon_of(piece, self.part_end)

    def fitted(self, piece: Piece, point: Point) -> list[tuple[Section, Section, str]]:
        """Return what goes through what there: (pin, hole, the parameter of the hole). Raises Unworkable."""
        if self.has_tenon and self.part:
            return [(self.tenon(piece).section, outline(self.hole(piece, point)), "where")]
        if not self.has_pin:
            return []
        holes = [(outline(self.hole(piece, point)), "where")]
        if self.part:
            holes.append((outline(self.mate(piece, self.part, "part", self.part_hole)[1]), "part_hole"))
        else:
            holes.append((outline(self.hole(piece, self.other_point(piece))), "to"))
        smallest = min((one for one, _ in holes), key=lambda one: min(one.width, one.thickness))
        pin = smallest if self.diameter is None else Section.round(self.diameter)
        return [(pin, one, field) for one, field in holes]

    def other_point(self, piece: Piece) -> Point:
        """Return the other place of this part. Raises Unworkable for several."""
        assert self.to is not None
        points = piece.points(self.to)
        if len(points) + len(self.points(piece)) != 2:
            raise Unworkable(
                stop(
                    f"{self.id}.two_places",
                    "One place is joined to one other in a step.",
                    hint="Name one branch and one place for each.",
                    field="to",
                    source="geometry",
                )
            )
        return points[0]

    # -- whether it fits -------------------------------------------------------------------------

    def goes_in(self, pin: Section, found: Section, field: str) -> Iterator[Finding]:
        """Stop what does not go into its hole, with the hole as hot as it is put on."""
        room = clearance(found.scaled(1 + self._growth()), pin)
        if room < -TOUCH:
            hot = say(" at {heat:temperature}", heat=self.heat_of_hole) if self.heat_of_hole else say("")
            yield stop(
                f"{self.id}.hole_too_small",
                "{pin:section} does not go into a hole of {hole:section}{hot}.",
                hint="Make the hole {by:size} larger, or what goes in thinner.",
                pin=pin,
                hole=found,
                hot=hot,
                by=-room,
                field=field,
                source="geometry; expansion after EN 1993-1-2",
            )

    def _growth(self) -> float:
        return elongation(self.heat_of_hole) if self.heat_of_hole else 0.0

    def turns(self, rooms: list[float]) -> Iterator[Finding]:
        """Say what must stay free to move, and warn of more or less play than a hinge turns well in."""
        yield note(
            f"{self.id}.stays_free",
            "{what} must stay free to move: keep scale, wax and paint out of the joint.",
            what=f"The {self.new_name or 'joint'}",
            field="moves",
            source="common practice, no source",
        )
        room = min(rooms, default=_LEAST)
        if not _LEAST - TOUCH <= room <= _MOST + TOUCH:
            yield caution(
                f"{self.id}.play",
                "There is {room:size} of play; a hinge pin turns well in {least:size} to {most:size}.",
                hint="Drift the hole, or fit another pin.",
                room=max(room, 0.0),
                least=_LEAST,
                most=_MOST,
                field="where",
                source="pins of 8 to 20 mm, from memory",
            )

    def grips(self, fit: tuple[Section, Section, str], room: float) -> Iterator[Finding]:
        """Say how much a hole put on hot grips as it cools, and warn where it does not."""
        _, found, _ = fit
        shrink = found.width * self._growth()
        if room >= 0:
            yield caution(
                f"{self.id}.does_not_grip",
                "The hole shrinks {shrink:size} as it cools and is still {room:size} wider than the pin.",
                hint="Make the hole smaller than the pin by about half of what it shrinks.",
                shrink=shrink,
                room=room,
                field="heat_of_hole",
                source="expansion after EN 1993-1-2",
            )
        else:
            yield note(
                f"{self.id}.shrinks_tight",
                "Cooling from {heat:temperature} the hole shrinks {shrink:size}; {tight:size} of that grips.",
                heat=self.heat_of_hole,
                shrink=shrink,
                tight=-room,
                source="expansion after EN 1993-1-2",
            )

    def wedged(self, before: Piece) -> Iterator[Finding]:
        """Warn of a tenon that leaves a wedge nothing to draw on."""
        point = self.points(before)[0]
        out = self.tenon(before).length - depth(before.branch(point.branch), self.hole(before, point))
        if out <= 0:
            yield caution(
                f"{self.id}.no_room_for_the_wedge",
                "The tenon does not come out of its hole: a wedge finds nothing to draw on.",
                hint="Make the tenon longer.",
                field="part",
                source="geometry",
            )

    def held_fast(self) -> Iterator[Finding]:
        """Point out a tenon that nothing holds in."""
        if self.kind == "tenon":
            yield note(
                f"{self.id}.not_held",
                "A tenon that is not headed, wedged or pinned comes out again.",
                hint="Rivet or wedge it if it is to stay.",
                field="kind",
                source="geometry",
            )
