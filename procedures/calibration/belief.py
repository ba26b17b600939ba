"""A belief about one number, and how readings change it: the normal update.

With a belief N(m, t²) and readings y_i, each good to s_i:

    mean = (m/t² + Σ y_i/s_i²) / (1/t² + Σ 1/s_i²),   sd² = 1 / (1/t² + Σ 1/s_i²)

Textbook Bayes for a normal mean of known spread (Gelman and others, Bayesian Data Analysis, section 2.5; from
memory). The tests hold it to the same sum done on a fine grid.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, isfinite, sqrt
from statistics import NormalDist


class BeliefError(ValueError):
    """A belief or a reading that cannot be."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured value and its standard deviation, in the quantity's own unit."""

    value: float
    sd: float

    def __post_init__(self) -> None:
        _check("A reading", self.value, self.sd)


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of a number: its mean, its standard deviation, and how many readings it rests on."""

    mean: float
    sd: float
    n: int = 0

    def __post_init__(self) -> None:
        _check("A belief", self.mean, self.sd)

    def __repr__(self) -> str:
        return f"Belief(mean={self.mean:.3g}, sd={self.sd:.3g}, n={self.n})"

    def interval(self, share: float = 0.8) -> tuple[float, float]:
        """Return the middle range that holds the number with the probability `share`."""
        if not 0 < share < 1:
            raise BeliefError(f"A share is more than 0 and less than 1, not {share:g}.")
        reach = NormalDist().inv_cdf((1 + share) / 2) * self.sd
        return self.mean - reach, self.mean + reach

    def predictive_sd(self, reading_sd: float) -> float:
        """Return how far the next reading, itself good to `reading_sd`, is likely to lie from the mean."""
        return sqrt(self.sd**2 + reading_sd**2)

    def strangeness(self, reading: Reading) -> float:
        """Return how many predictive standard deviations a reading lies from what was to be expected."""
        return abs(reading.value - self.mean) / self.predictive_sd(reading.sd)


def update(belief: Belief, readings: Iterable[Reading]) -> Belief:
    """Return the belief after readings; their order makes no difference."""
    weight = 1 / belief.sd**2
    weighted = belief.mean * weight
    count = 0
    for reading in readings:
        one = 1 / reading.sd**2
        weight += one
        weighted += reading.value * one
        count += 1
    return Belief(weighted / weight, sqrt(1 / weight), belief.n + count) if count else belief


def readings_to_beat_default(bias: float, reading_sd: float, prior_sd: float) -> int:
    """Return how many readings make the updated value better, on average, than the default.

    Better is a smaller mean-square error, where the truth lies `bias` from the default:

        n > s² (1/bias² - 2/t²)

    The first reading does where the truth is more than 0.71 t away. Derived here. Raises BeliefError where
    the default is right: nothing beats it then.
    """
    _check("A reading", bias, reading_sd)
    _check("A belief", bias, prior_sd)
    if bias == 0:
        raise BeliefError("No readings beat a default that is right.")
    needed = reading_sd**2 * (1 / bias**2 - 2 / prior_sd**2)
    return max(floor(needed) + 1, 1)


def _check(what: str, value: float, sd: float) -> None:
    if not isfinite(value):
        raise BeliefError(f"{what} is a number; {value} is none that can be reckoned with.")
    if not (isfinite(sd) and sd > 0):
        raise BeliefError(f"{what} is good to something above 0, not to {sd:g}.")
