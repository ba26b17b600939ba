"""Checks of grooves and necks: too thin, too sharp a tool, too narrow a ridge between two."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.formulas.fuller_groove import LEAST_LEFT, LEAST_OF_THICKNESS, LEAST_RADIUS
from calculators.sections import Section
from procedures.engine.finding import Finding, caution
from procedures.engine.pieces.place import Span

from .grooving import Groove, Neck


def thin_neck(plan: Groove | Neck, section: Section, field: str) -> Iterator[Finding]:
    """Warn where too little of the bar is left."""
    left, through = plan.left(section), plan.through(section)
    if left < LEAST_LEFT * through:
        yield caution(
            "fuller.thin_neck",
            "Only {left:size} of {through:size} is left: it breaks or burns there.",
            hint="Leave {least:size} at least until the rest is done.",
            left=left,
            through=through,
            least=LEAST_LEFT * through,
            field=field,
            source="40 % from memory",
        )


def sharp_tool(radius: float, through: float) -> Iterator[Finding]:
    """Warn of a fuller too sharp [mm] for the bar it goes into [mm]."""
    least = max(LEAST_RADIUS, LEAST_OF_THICKNESS * through)
    if radius < least:
        yield caution(
            "fuller.too_sharp",
            "A fuller of {radius:length} radius in {through:size} starts a cold shut or a crack.",
            hint="Take one of {least:length} at least.",
            radius=radius,
            through=through,
            least=least,
            field="radius",
            mend={"radius": least},
            source="3 mm and a quarter of the thickness from memory",
        )


def narrow_ridges(radius: float, spans: Sequence[Span]) -> Iterator[Finding]:
    """Warn of a ridge between two grooves narrower than the fuller is thick."""
    for span in spans:
        beyond = [one for one in spans if one.branch == span.branch and one.low >= span.high]
        gap = min((one.low - span.high for one in beyond), default=2 * radius)
        if gap < 2 * radius:
            yield caution(
                "fuller.ridge_folds",
                "The ridge between two grooves is only {gap:length} wide: it folds over.",
                hint="Keep {least:length} between them.",
                gap=gap,
                least=2 * radius,
                field="where",
                source="twice the radius from memory",
            )
            return
