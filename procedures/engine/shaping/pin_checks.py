"""Checks of pins in holes that rivets and other joints share."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from calculators.formulas.rivet_head import LONG, SHORT
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.segment import TOUCH

from .riveting import Heading

_COLD = 6.0  # mm of mild steel that heads cold: from memory
_LOOSE_COLD, _LOOSE_HOT = 0.5, 1.0  # mm between hole and pin: from memory
_GRIP_COLD = 4.5  # diameters of grip, beyond which a cold pin does not swell in the middle: from memory
_EDGE, _PITCH = 1.5, 3.0  # diameters to an end, and between rivets: common practice


def fits(heading: Heading, field: str) -> Iterator[Finding]:
    """Stop a pin that does not go into its hole."""
    if heading.clearance < -TOUCH:
        yield stop(
            "joint.hole_too_small",
            "A pin of {pin:section} does not go into a hole of {hole:section}.",
            hint="Make the hole {by:size} larger, or the pin thinner.",
            pin=heading.pin,
            hole=heading.hole,
            by=-heading.clearance,
            field=field,
            source="geometry",
        )


def long_enough(heading: Heading, field: str) -> Iterator[Finding]:
    """Stop a pin of which nothing is left for a head."""
    if heading.standing <= TOUCH or heading.head <= 0:
        yield stop(
            "rivet.too_short",
            "The pin stands out {standing:length}: nothing is left for a head once the hole is filled.",
            hint="Make it {more:length} longer: a full head takes {wanted:length} standing out.",
            standing=max(heading.standing, 0.0),
            wanted=heading.wanted,
            more=heading.wanted - heading.standing,
            field=field,
            source="geometry; heads after BS 275, BS 425 and BS 4620",
        )


def amount_of_head(heading: Heading) -> Iterator[Finding]:
    """Warn of too little or too much metal standing out for the head."""
    share = heading.head / heading.full
    if share < SHORT:
        yield caution(
            "rivet.short",
            "What stands out makes {share:percent} of a full head.",
            hint="A full one takes {wanted:length} standing out.",
            share=share,
            wanted=heading.wanted,
            field="part",
            source="60 % from memory; heads after BS 275, BS 425 and BS 4620",
        )
    elif share > LONG:
        yield caution(
            "rivet.long",
            "What stands out makes {share:percent} of a full head: it bends over instead of heading.",
            hint="Cut it back to {wanted:length} standing out.",
            share=share,
            wanted=heading.wanted,
            field="part",
            source="135 % from memory; heads after BS 275, BS 425 and BS 4620",
        )


def play(heading: Heading, *, hot: bool) -> Iterator[Finding]:
    """Warn of a hole too wide for its pin, or too tight once the pin is hot."""
    most = _LOOSE_HOT if hot else _LOOSE_COLD
    if heading.clearance > most + TOUCH:
        yield caution(
            "rivet.loose_fit",
            "The hole is {gap:size} wider than the pin: it bends in there instead of filling it.",
            hint="Keep it to {most:size}.",
            gap=heading.clearance,
            most=most,
            field="where",
            source="from memory",
        )
    tight = -heading.clearance_hot
    if hot and tight > 0:
        yield caution(
            "rivet.tight_when_hot",
            "Hot, the pin is {tight:size} wider than its hole of {hole:section}.",
            hint="Leave {least:size} between them cold, or set it cold.",
            tight=tight,
            hole=heading.hole,
            least=heading.clearance + tight,
            field="where",
            source="EN 1993-1-2, clause 3.4.1.1: expansion at 1000 °C",
        )


def set_cold(heading: Heading) -> Iterator[Finding]:
    """Warn of a pin too thick, or gripping too much, to be headed cold."""
    if heading.diameter > _COLD:
        yield caution(
            "rivet.cold_too_thick",
            "A pin of {pin:section} does not head cold.",
            hint="Head it hot; {most:size} of mild steel heads cold.",
            pin=heading.pin,
            most=_COLD,
            field="hot",
            mend={"hot": True},
            source="6 mm from memory",
        )
    if heading.grip > _GRIP_COLD * heading.diameter:
        yield caution(
            "rivet.long_grip_cold",
            "A grip of {grip:length} is over {times:number} diameters: cold, the pin does not fill the hole.",
            hint="Head it hot.",
            grip=heading.grip,
            times=_GRIP_COLD,
            field="hot",
            mend={"hot": True},
            source="4 to 5 diameters from memory",
        )


def near_ends_and_others(piece: Piece, points: tuple[Point, ...], diameter: float) -> Iterator[Finding]:
    """Warn of rivets near the end of a bar, where they tear out, and near each other."""
    for point in points:
        branch = piece.branch(point.branch)
        near = min(point.at, branch.length - point.at)
        if near < _EDGE * diameter and not piece.is_closed(branch.name):
            yield caution(
                "rivet.near_the_end",
                "The rivet is {near:length} from the end of {branch}: it tears out.",
                hint="Keep {least:length}.",
                near=near,
                branch=branch.said,
                least=_EDGE * diameter,
                field="where",
                source="1.5 diameters: common practice, no source",
            )
            break
    ordered = sorted(points, key=lambda one: (one.branch, one.at))
    gaps = [two.at - one.at for one, two in pairwise(ordered) if one.branch == two.branch]
    if min(gaps, default=_PITCH * diameter) < _PITCH * diameter:
        yield caution(
            "rivet.close_together",
            "Two rivets are only {gap:length} apart.",
            hint="Keep {least:length} between them.",
            gap=min(gaps),
            least=_PITCH * diameter,
            field="where",
            source="3 diameters: common practice, no source",
        )
