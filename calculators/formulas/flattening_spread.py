"""How much wider and how much longer a bar gets when it is beaten thinner."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

from calculators.figure import Figure
from calculators.figures.bars import flattened
from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.wording import Sentence, say

_STEPS = 30  # Runge-Kutta steps over the whole reduction: width good to 1e-8
_WIDEST = 10 / 3  # bite over width at which the polynomial is largest; it stays there beyond
_UNSURE = 0.05  # one standard deviation of S
_TESTED = (0.3, 2.0)  # bite over width; the range was not read again (judgement)


@dataclass(frozen=True, slots=True)
class Flattened:
    """A bar after flattening: width [mm], thickness [mm], and how many times as long as before."""

    width: float
    thickness: float
    elongation: float


def spread_coefficient(bite: float, width: float) -> float:
    """Return S = ln(w₁/w₀)/ln(h₀/h₁) for a bite along the bar and a width, both [mm]."""
    ratio = min(bite / width, _WIDEST)
    return 0.14 + ratio * (0.36 - 0.054 * ratio)


def flatten_by_coefficient(thickness: float, width: float, target: float, spread: float) -> Flattened:
    """Return a bar flattened to a target thickness [mm] with one spread coefficient all the way."""
    reduction = thickness / target
    return Flattened(width * reduction**spread, target, reduction ** (1 - spread))


def flatten(thickness: float, width: float, target: float, bite: float, factor: float = 1.0) -> Flattened:
    """Return a bar flattened to a target thickness [mm] in many light passes with a bite [mm].

    S is followed as the bar widens: d ln w = factor · S(bite/w) · d ln(1/h), by Runge-Kutta. The factor
    calibrates S to a hammer.
    """
    strain = log(thickness / target)
    step = strain / _STEPS
    log_width = log(width)

    def rate(value: float) -> float:
        return factor * spread_coefficient(bite, exp(value))

    for _ in range(_STEPS):
        first = rate(log_width)
        second = rate(log_width + step * first / 2)
        third = rate(log_width + step * second / 2)
        fourth = rate(log_width + step * third)
        log_width += step * (first + 2 * second + 2 * third + fourth) / 6
    widened = exp(log_width)
    return Flattened(widened, target, width * thickness / (widened * target))


def coefficient_for_width(thickness: float, width: float, target: float, wanted: float) -> float:
    """Return the spread coefficient that gives a wanted width [mm]: what a tool would have to do."""
    return log(wanted / width) / log(thickness / target)


class FlatteningSpread(Formula):
    """Width and length of a bar flattened without working its edges.

        S = ln(w₁/w₀) / ln(h₀/h₁) = 0.14 + 0.36 (b/w) - 0.054 (b/w)²,  1 - S goes to length

    Args:
        thickness: thickness before [mm]
        width: width before [mm]
        target: thickness after [mm]
        bite: contact of hammer or die along the bar [mm], at most the length worked
        factor: calibration of S from a test bar

    Returns:
        Width after [mm], its low and high estimate, and how many times longer the bar gets.

    Valid for hot steel between flat tools, 0.3 ≤ b/w ≤ 2; beyond b/w = 10/3 S stays at 0.74. S is good to
    ±0.05, more for a rounded bar or a crowned hammer: calibrate the factor.

    Raises:
        ValueError: an input is zero or less, or the target is not thinner.

    >>> result = FlatteningSpread(thickness=20, width=25, target=7, bite=25).answer()
    >>> round(result.value, 1), round(result["elongation"].value, 2)
    (37.9, 1.89)
    """

    id = "flattening_spread"
    title = "Flattening: how wide and how long"
    source = Cite("TOMLINSON")
    group = "longer"
    words = ("spread", "flatten", "widen", "leaf", "peen")
    result = "Width after"
    operations = ("flatten", "spread")
    any_unit = True

    thickness: float = given("Thickness before", "mm", above=0, example=("20", "3/4"))
    width: float = given("Width before", "mm", above=0, example=("25", "1"))
    target: float = given("Thickness after", "mm", above=0, example=("7", "1/4"))
    bite: float = given("Bite along the bar", "mm", above=0, default=20.0)
    factor: float = given("Calibration", "", above=0, at_most=2, default=1.0)

    def answer(self) -> Answer:
        """Return the width [mm] after flattening, with the elongation beside it."""
        if self.target >= self.thickness:
            raise GivenError(
                f"Flattening makes thinner: {self.target:g} mm is not less than {self.thickness:g} mm.",
                "target",
            )
        result = flatten(self.thickness, self.width, self.target, self.bite, self.factor)
        unsure = (self.thickness / self.target) ** _UNSURE
        mean = coefficient_for_width(self.thickness, self.width, self.target, result.width)
        power = f"({self.thickness:g} / {self.target:g})"
        further = (
            Answer(result.width / unsure, "mm", "S less 0.05", "low"),
            Answer(result.width * unsure, "mm", "S and 0.05 more", "high"),
            Answer(result.elongation, "", f"{power}^{1 - mean:.3f}", "elongation"),
            Answer(mean, "", "S over the whole reduction", "spread"),
        )
        working = f"{self.width:g} × {power}^{mean:.3f}"
        return Answer(result.width, "mm", working, further=further, warnings=tuple(self._warnings()))

    def _warnings(self) -> list[Sentence]:
        ratio = self.bite / self.width
        found = []
        if not _TESTED[0] <= ratio <= _TESTED[1]:
            found.append(
                say(
                    "The bite is {ratio:number} of the width; the rule is for {low:number} to {high:number}.",
                    ratio=ratio,
                    low=_TESTED[0],
                    high=_TESTED[1],
                )
            )
        if self.bite < self.thickness / 3:
            found.append(
                say(
                    "A bite of {bite:length} is under a third of the thickness, {thickness:size}: laps form.",
                    bite=self.bite,
                    thickness=self.thickness,
                )
            )
        return found

    def figure(self) -> Figure:
        """Return the section before and after."""
        return flattened(self.thickness, self.width, self.target, self.answer().value)
