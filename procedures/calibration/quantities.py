"""The numbers that a shop can learn, and what is believed of each before anything is measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .belief import Belief


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number that predictions rest on.

    `prior` is believed of it at first, `reading_sd` is what one usual reading of it is good to. One that
    `is_log` is the natural logarithm of a factor on the prediction: 0 is "as predicted". `by_steel` says
    whether another steel has another value of it; `basis` is what the prior rests on.
    """

    id: str
    title: str
    prior: Belief
    reading_sd: float
    is_log: bool
    by_steel: bool
    basis: str


_JUDGED = "judgement; no source"

QUANTITIES: Mapping[str, Quantity] = {
    one.id: one
    for one in (
        Quantity(
            "loss",
            "Loss of a heat, as a share of the metal in it",
            Belief(0.02, 0.01),
            0.012,
            is_log=False,
            by_steel=True,
            basis=f"two in a hundred, give or take one: {_JUDGED}",
        ),
        Quantity(
            "spread",
            "Spread, as a multiple of the prediction",
            Belief(1.0, 0.15),
            0.03,
            is_log=False,
            by_steel=False,
            basis=f"the spread formula as it stands, good to 15 in a hundred: {_JUDGED}",
        ),
        Quantity(
            "blows",
            "Blows, against the prediction",
            Belief(0.0, 0.5),
            0.3,
            is_log=True,
            by_steel=True,
            basis=f"as predicted, to a factor of 1.65: {_JUDGED}",
        ),
        Quantity(
            "seconds",
            "Seconds of work, against the prediction",
            Belief(0.0, 0.5),
            0.3,
            is_log=True,
            by_steel=True,
            basis=f"as the blows, which most of it are: {_JUDGED}",
        ),
        Quantity(
            "heats",
            "Heats, against the prediction",
            Belief(0.0, 0.5),
            0.3,
            is_log=True,
            by_steel=True,
            basis=f"as the blows: {_JUDGED}",
        ),
        Quantity(
            "cooling",
            "Time in the heat, against the prediction",
            Belief(0.0, 0.3),
            0.3,
            is_log=True,
            by_steel=False,
            basis=f"the contact with the anvil is unknown to a factor of 1.35: {_JUDGED}",
        ),
    )
}
