"""What was measured on a piece, as a reading of a quantity. What cannot be is refused in words."""

from __future__ import annotations

from math import hypot, isfinite, log

from .belief import BeliefError, Reading
from .quantities import QUANTITIES

# ±0.2 mm of a calliper on each of two faces of a 16 mm square: 0.2/16 × 2 of the volume. A reckoning.
CV_SECTION = 0.025
_LEAST_LOSS_SD = 1e-4  # no scale and no calliper is better than this


def loss_reading(
    area_before: float,
    length_before: float,
    area_after: float,
    length_after: float,
    heats: int,
    volume_share: float = CV_SECTION,
) -> Reading:
    """Return the loss of a heat from the sizes of a piece before and after `heats` heats.

        1 - (A1 L1 / (A0 L0))^(1/heats)

    Areas in mm², lengths in mm, both of the same metal. `volume_share` is what the measured volume is good
    to. The more heats lie between, the better the reading: sd = volume_share / heats.
    Raises BeliefError.
    """
    for name, value in (
        ("section before", area_before),
        ("length before", length_before),
        ("section after", area_after),
        ("length after", length_after),
    ):
        _above_zero(f"The {name}", value)
    return _loss(area_after * length_after / (area_before * length_before), heats, volume_share)


def loss_by_weight(before: float, after: float, heats: int, good_to: float = 1.0) -> Reading:
    """Return the loss of a heat from the weights of a piece [g], each good to `good_to` g.

    Scales to a gram tell more than callipers. Raises BeliefError.
    """
    _above_zero("The weight before", before)
    _above_zero("The weight after", after)
    _above_zero("What the scales are good to", good_to)
    return _loss(after / before, heats, hypot(good_to / before, good_to / after))


def _loss(kept: float, heats: int, volume_share: float) -> Reading:
    if isinstance(heats, bool) or heats != int(heats) or heats < 1:
        raise BeliefError(f"The loss of a heat needs at least one heat between, not {heats}.")
    _above_zero("What the volume is good to", volume_share)
    return Reading(1 - kept ** (1 / heats), max(volume_share / heats, _LEAST_LOSS_SD))


def spread_reading(width_before: float, width_after: float, predicted_width: float) -> Reading:
    """Return the multiple of the predicted spread from three widths [mm].

    y = ln(w1/w0) is k x, with x the same of the default prediction; one piece says k = y/x, good to s/x: so
    pooling readings is least squares through the origin, weighted. Raises BeliefError, also where no spread
    was predicted.
    """
    for name, value in (
        ("width before", width_before),
        ("width after", width_after),
        ("predicted width", predicted_width),
    ):
        _above_zero(f"The {name}", value)
    predicted = log(predicted_width / width_before)
    if predicted <= 0:
        raise BeliefError("No spread was predicted here, so the piece says nothing about it.")
    spread = log(width_after / width_before)
    return Reading(spread / predicted, QUANTITIES["spread"].reading_sd / predicted)


def ratio_reading(quantity: str, actual: float, predicted: float, sd: float | None = None) -> Reading:
    """Return ln(actual/predicted) of blows, seconds or heats, or of the time in a heat.

    `sd` is what it is good to, in the logarithm; None is the quantity's usual. Raises BeliefError.
    """
    about = QUANTITIES.get(quantity)
    if about is None or not about.is_log:
        raise BeliefError(f"{quantity!r} is not measured against its prediction.")
    _above_zero("What was measured", actual)
    _above_zero("What was predicted", predicted)
    return Reading(log(actual / predicted), about.reading_sd if sd is None else sd)


def cooling_reading(actual_seconds: float, predicted_seconds: float) -> Reading:
    """Return ln(actual/predicted) of how long a heat lasted [s]. Raises BeliefError."""
    return ratio_reading("cooling", actual_seconds, predicted_seconds)


def _above_zero(what: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise BeliefError(f"{what} is more than 0; {value:g} was given.")
