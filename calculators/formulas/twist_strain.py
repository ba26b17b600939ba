"""How far a twist stretches the outside of a bar."""

from __future__ import annotations

from math import atan, degrees, hypot, pi

from calculators.figure import Figure
from calculators.figures.coils import twist
from calculators.formula import SHARE, Answer, Cite, Formula, given
from calculators.sections import Section
from calculators.wording import Sentence, say

MILD_LIMIT = 1.0  # corner ratio, 45°, above which mild steel tears at the corners (from memory)
WROUGHT_LIMIT = 0.7  # the same for wrought iron (from memory)
_LIMITS = {"mild_steel": ("mild steel", MILD_LIMIT), "wrought_iron": ("wrought iron", WROUGHT_LIMIT)}


def corner_radius(section: Section) -> float:
    """Return the distance [mm] from the centroid to the farthest corner of a section."""
    return max(hypot(y, z) for y, z in section.outline(64))


def corner_ratio(radius: float, length: float, turns: float) -> float:
    """Return how far a corner at a radius [mm] goes round per length [mm] along: 1 is 45°."""
    return 2 * pi * radius * turns / length


def outer_fibre(radius: float, length: float, turns: float) -> float:
    """Return the length [mm] of an edge line at a radius [mm] after so many turns in a length [mm]."""
    return hypot(length, 2 * pi * radius * turns)


def greatest_shortening(section: Section, length: float, turns: float) -> float:
    """Return the most [mm] a twist could shorten a length [mm]: if fibres, not volume, stayed the same."""
    return length / 2 * (2 * pi * turns / length) ** 2 * polar_radius_squared(section)


def polar_radius_squared(section: Section) -> float:
    """Return the polar moment of area over the area [mm²]: d²/8 for a round, a²/6 for a square."""
    if section.shape == "round":
        return section.width**2 / 8
    corners = section.outline(256)
    twelfths = doubled = 0.0
    y0, z0 = corners[-1]
    for y1, z1 in corners:
        cross = y0 * z1 - y1 * z0
        doubled += cross
        twelfths += cross * (y0 * y0 + y0 * y1 + y1 * y1 + z0 * z0 + z0 * z1 + z1 * z1)
        y0, z0 = y1, z1
    return twelfths / (6 * doubled)


class TwistStrain(Formula):
    """Stretch of the corners of a twisted bar. The length is taken as unchanged, and the volume is.

        q = 2π · r · turns / L,  corner angle = arctan q,  stretch = √(1 + q²) - 1

    Args:
        radius: distance of the corner from the axis [mm]; half the diagonal of a square
        length: length twisted [mm]
        turns: whole turns
        limit: corner ratio above which it tears; 1.0 for mild steel, 0.7 for wrought iron

    Returns:
        Corner ratio q, the corner's angle [deg], its stretch, the edge line's length [mm], and the pitch
        [mm].

    Valid for even hot twists: each section turns about the axis, so length and volume stay (a book on shop
    practice also allows nothing). The limits are from memory.

    Raises:
        ValueError: an input is zero or less.

    >>> result = TwistStrain(radius=12 / 2**0.5, length=120, turns=2).answer()
    >>> round(result["angle"].value, 1), round(result["stretch"].value, 3)
    (41.6, 0.338)
    """

    id = "twist_strain"
    title = "Twist: how far the corners stretch"
    source = Cite("SHOP-PRACTICE", note="no allowance for length; the rest derived here")
    group = "wound"
    words = ("twist", "twisting", "corner of a twist")
    result = "How far a corner winds, to its length"
    operations = ("twist",)
    any_unit = True

    radius: float = given("Corner from the axis", "mm", above=0, example=("8.5", "5/16"))
    length: float = given("Length twisted", "mm", above=0, example=("120", "5"))
    turns: float = given("Turns", "", above=0, at_most=1000, example=("2", "2"))
    limit: float = given("Material", "", above=0, default=MILD_LIMIT, choices=_LIMITS)

    def answer(self) -> Answer:
        """Return the corner ratio q."""
        q = corner_ratio(self.radius, self.length, self.turns)
        edge = outer_fibre(self.radius, self.length, self.turns)
        further = (
            Answer(degrees(atan(q)), "°", f"arctan {q:.4g}", "angle"),
            Answer(edge / self.length - 1, SHARE, f"√(1 + {q:.4g}²) - 1", "stretch"),
            Answer(
                edge, "mm", f"√({self.length:g}² + (2π × {self.radius:g} × {self.turns:g})²)", "edge line"
            ),
            Answer(self.length / self.turns, "mm", f"{self.length:g} / {self.turns:g}", "pitch"),
        )
        warnings: tuple[Sentence, ...] = ()
        if q > self.limit:
            warnings = (
                say(
                    "The corners go over to {angle:angle}; beyond {limit:angle} they are likely to tear.",
                    angle=degrees(atan(q)),
                    limit=degrees(atan(self.limit)),
                ),
            )
        working = f"2π × {self.radius:g} × {self.turns:g} / {self.length:g}"
        return Answer(q, "", working, further=further, warnings=warnings)

    def figure(self) -> Figure:
        """Return the twisted run."""
        return twist(self.radius, self.length, self.turns)
