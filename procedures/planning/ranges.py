"""Predictions as ranges: low, typical and high, and what a person's own readings narrow them by."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import ceil, exp, log

UNSURE = 1.7  # times and divided by: blows and heats of nobody in particular, one standard deviation
FIRE_UNSURE = 1.5  # heating times
ANVIL_UNSURE = 1.4  # how long a heat lasts at the anvil
_FITS = 0.05  # of a heat: nobody goes back to the fire for less


@dataclass(frozen=True, slots=True)
class Range:
    """A low, a typical and a high estimate of one quantity."""

    low: float
    typical: float
    high: float

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)

    def times(self, factor: float) -> Range:
        """Return the range of so many such."""
        return Range(self.low * factor, self.typical * factor, self.high * factor)

    @property
    def is_one(self) -> bool:
        """Whether all three are the same."""
        return self.low == self.high


NOTHING = Range(0.0, 0.0, 0.0)


def exactly(value: float) -> Range:
    """Return a range of one value."""
    return Range(value, value, value)


def within(value: float, factor: float) -> Range:
    """Return a value, divided and multiplied by a factor."""
    return Range(value / factor, value, value * factor)


def added(ranges: list[Range]) -> Range:
    """Return the sum: all low together and all high together, since one person's errors go one way."""
    total = NOTHING
    for one in ranges:
        total += one
    return total


@dataclass(frozen=True, slots=True)
class Correction:
    """What ln(actual / predicted) is taken to be: mean, standard deviation, and from how many readings.

    Without readings it is nobody's own: no correction, and a factor of 1.7 either way.
    """

    mean: float = 0.0
    sd: float = log(UNSURE)
    readings: int = 0

    def of(self, value: float) -> Range:
        """Return the range of a predicted value."""
        typical = value * exp(self.mean)
        return Range(typical * exp(-self.sd), typical, typical * exp(self.sd))


@dataclass(frozen=True, slots=True)
class Calibration:
    """A person's corrections for blows, for seconds of hammering and for heats."""

    blows: Correction = field(default_factory=Correction)
    seconds: Correction = field(default_factory=Correction)
    heats: Correction = field(default_factory=Correction)

    @property
    def readings(self) -> int:
        """How many readings narrow it, of whichever has most."""
        return max(self.blows.readings, self.seconds.readings, self.heats.readings)


NOBODY = Calibration()


def whole_heats(heats: float) -> int:
    """Return how many heats are taken: up to the next whole one, but for a moment's work."""
    return max(ceil(heats - _FITS), 0)
