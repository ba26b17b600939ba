"""Length of bar in an offset, and how much it draws the bar in."""

from __future__ import annotations

from math import acos, cos, degrees, floor, radians, sin

from calculators.figure import Figure
from calculators.figures.bends import offset
from calculators.formula import Answer, Cite, Formula, GivenError, given


def ramp_length(height: float, angle: float, radii: float) -> float:
    """Return the length [mm] of the straight between two bends of an angle [deg]; below 0 where none fits.

    `radii` is the sum of both bends' radii [mm] on the centre line, `height` [mm] that of the step.
    """
    turn = radians(angle)
    return (height - radii * (1 - cos(turn))) / sin(turn)


def plan_length(ramp: float, angle: float, radii: float) -> float:
    """Return how far [mm] an offset reaches along the bar, from where it begins to where it ends."""
    turn = radians(angle)
    return radii * sin(turn) + ramp * cos(turn)


def largest_angle(height: float, radii: float) -> float:
    """Return the angle [deg] at which two bends alone make a step of a height [mm], with no straight left."""
    return degrees(acos(max(1 - height / radii, -1.0)))


def to_say(angle: float) -> float:
    """Return a largest angle [deg] as it is said: rounded down, so that it fits."""
    return floor(10 * angle) / 10


class OffsetLength(Formula):
    """Length of bar in an offset: two bends alike, one each way, with a straight ramp between them.

        developed = 2 R α + ramp,  ramp = (h - 2 R (1 - cos α)) / sin α,  R = R_i + t / 2

    Args:
        height: how far the bar is moved sideways [mm]
        angle: of the ramp to the bar [deg]
        inside_radius: of both bends [mm]
        thickness: thickness in the plane of the offset [mm]

    Returns:
        Developed length [mm], the ramp between the bends, the length on plan, and how much the bar draws in.

    Valid for even bar on its centre line; exact.

    Raises:
        ValueError: a size is zero or less, the angle is over 90°, or the step is too low for its bends.

    >>> result = OffsetLength(height=20, angle=45, inside_radius=6, thickness=8).answer()
    >>> [round(one.value, 1) for one in (result, *result.further)]
    [35.7, 20.0, 28.3, 7.4]
    """

    id = "offset_length"
    title = "Offset: the bar it takes"
    source = Cite("DERIVED")
    group = "curved"
    words = ("offset", "joggle", "step", "set")
    result = "Bar in the offset"
    operations = ("offset",)
    any_unit = True

    height: float = given("Step", "mm", above=0, example=("20", "3/4"))
    angle: float = given("Ramp angle", "°", above=0, at_most=90, example=("45", "45"))
    inside_radius: float = given("Inside radius", "mm", at_least=0, example=("6", "1/4"))
    thickness: float = given("Thickness", "mm", above=0, example=("8", "5/16"))

    def answer(self) -> Answer:
        """Return the length [mm] of bar in the offset."""
        radius = self.inside_radius + self.thickness / 2
        ramp = ramp_length(self.height, self.angle, 2 * radius)
        if ramp < 0:
            most = to_say(largest_angle(self.height, 2 * radius))
            raise GivenError(
                f"A step of {self.height:g} mm is too low for bends of {self.angle:g}°:"
                f" at most {most:g}° fits.",
                "angle",
            )
        developed = 2 * radius * radians(self.angle) + ramp
        plan = plan_length(ramp, self.angle, 2 * radius)
        cosine = f"cos {self.angle:g}°"
        further = (
            Answer(
                ramp,
                "mm",
                f"({self.height:g} - 2 × {radius:g} × (1 - {cosine})) / sin {self.angle:g}°",
                "ramp",
            ),
            Answer(plan, "mm", f"2 × {radius:g} × sin {self.angle:g}° + {ramp:.4g} × {cosine}", "on plan"),
            Answer(developed - plan, "mm", f"{developed:.4g} - {plan:.4g}", "draws in by"),
        )
        return Answer(
            developed, "mm", f"2 × {radius:g} × π × {self.angle:g} / 180 + {ramp:.4g}", further=further
        )

    def figure(self) -> Figure:
        """Return the step."""
        return offset(
            self.height, self.angle, self.inside_radius, self.thickness, self.answer()["on plan"].value
        )
