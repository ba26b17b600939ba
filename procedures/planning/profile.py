"""A shop profile: the fire, hammers, habits and prices that predictions are made with.

Frozen, pure, and stored as JSON of its own fields. What is left out has the default of a usual shop. Every
number has its limits and its basis in `FIGURES`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from math import isfinite
from typing import Any

from .figures import FIGURES, FIRE_CHOICES, HAMMERS, SKILLS

WORDS = 60  # characters of a name, a fuel and a currency
_HOT_LENGTHS = {"gas": 250.0, "gas_lean": 250.0}  # mm; 150 mm in any other fire: from memory
_HOT_LENGTH = 150.0
_HAND = {"practised": 25.35, "student": 12.5}  # J: ½ m v², 1.2 kg at 6.5 m/s and 1 kg at 5 m/s (judgement)
_USEFUL = {"practised": 0.75, "student": 0.6}  # share of the blows that shape (judgement)
SOFT = 0.75  # of a hand or sledge blow's energy that goes into soft metal (judgement)
SOFT_POWER = 0.70  # of a power hammer's
_WARMER = 20.0  # °C that a fire must be above the heat it gives


class ProfileError(ValueError):
    """A profile that cannot be: `field` names what is wrong, the message says why."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        self.message = message
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Hammer:
    """What strikes: energy of a blow [J], blows a second, and the share of the energy the metal takes."""

    title: str
    energy: float
    rate: float
    efficiency: float


@dataclass(frozen=True, slots=True)
class ShopProfile:
    """A fire, its hammers and who swings them. Units and limits are in `FIGURES`.

    None is "as is usual": `hot_length` for that fire, `hand_energy` and `useful` for that skill. A
    `power_energy` of None is a shop without a power hammer. `hammer` is the one that work is planned with.
    Raises ProfileError on making one that cannot be.
    """

    name: str = "A usual shop"
    fire: str = "coke"
    fire_heat: float = 1250.0
    slower: float = 1.0
    hot_length: float | None = None
    start: float = 1180.0
    stop: float = 850.0
    transfer: float = 2.0
    contact: float = 60.0
    skill: str = "practised"
    hammer: str = "hand"
    hand_energy: float | None = None
    hand_rate: float = 1.7
    useful: float | None = None
    striker: bool = False
    sledge_energy: float = 98.0
    sledge_rate: float = 0.8
    power_energy: float | None = None
    power_rate: float = 4.0
    hourly_cost: float = 0.0
    fuel: str = ""
    fuel_cost: float = 0.0
    currency: str = ""

    def __post_init__(self) -> None:
        for name in ("name", "fuel", "currency"):
            _check_words(name, getattr(self, name))
        for name, known in (("fire", FIRE_CHOICES), ("skill", SKILLS), ("hammer", HAMMERS)):
            _check_choice(name, getattr(self, name), known)
        if not isinstance(self.striker, bool):
            raise ProfileError("striker", "Say yes or no: is there a striker?")
        for name in FIGURES:
            _check_number(name, getattr(self, name))
        self._check_heats()
        self._check_hammer()

    def _check_heats(self) -> None:
        if self.stop >= self.start:
            raise ProfileError(
                "stop",
                f"Work goes back to the fire colder than it came out: {self.stop:g} °C is not below "
                f"{self.start:g} °C.",
            )
        if self.fire_heat < self.start + _WARMER:
            raise ProfileError(
                "fire_heat",
                f"A fire of {self.fire_heat:g} °C does not heat a bar to {self.start:g} °C: it needs "
                f"{self.start + _WARMER:g} °C at least.",
            )

    def _check_hammer(self) -> None:
        if self.hammer == "power" and self.power_energy is None:
            raise ProfileError(
                "power_energy",
                "Work is planned at a power hammer, and no energy is given for one. As used, an air hammer "
                "of 25 kg gives some 160 J, one of 40 kg 320 J, one of 75 kg 600 J.",
            )
        if self.hammer == "striker" and not self.striker:
            raise ProfileError("striker", "Work is planned with a striker, and the shop has none.")

    # -- what follows ----------------------------------------------------------------------------

    @property
    def reach(self) -> float:
        """How much bar the fire makes hot at once [mm]."""
        return self.hot_length if self.hot_length is not None else _HOT_LENGTHS.get(self.fire, _HOT_LENGTH)

    @property
    def blow(self) -> float:
        """The energy of a hand blow [J]."""
        return self.hand_energy if self.hand_energy is not None else _HAND[self.skill]

    @property
    def shaping(self) -> float:
        """The share of the blows that shape."""
        return self.useful if self.useful is not None else _USEFUL[self.skill]

    def hammer_called(self, kind: str) -> Hammer | None:
        """Return a hammer of the shop by its kind, or None where it has none such."""
        if kind == "power":
            if self.power_energy is None:
                return None
            return Hammer(HAMMERS[kind], self.power_energy, self.power_rate, SOFT_POWER)
        if kind == "striker":
            return Hammer(HAMMERS[kind], self.sledge_energy, self.sledge_rate, SOFT) if self.striker else None
        return Hammer(HAMMERS["hand"], self.blow, self.hand_rate, SOFT)

    @property
    def used(self) -> Hammer:
        """The hammer that work is planned with."""
        found = self.hammer_called(self.hammer)
        assert found is not None  # a profile without it is refused
        return found

    def using(self, kind: str) -> ShopProfile | None:
        """Return the same shop with another of its hammers in use, or None where it has none such."""
        return None if self.hammer_called(kind) is None else replace(self, hammer=kind)

    # -- stored ----------------------------------------------------------------------------------

    def write(self) -> dict[str, Any]:
        """Return the stored form: plain JSON, what has its default left out."""
        usual = default()
        return {
            one.name: getattr(self, one.name)
            for one in fields(self)
            if getattr(self, one.name) != getattr(usual, one.name)
        }


def default() -> ShopProfile:
    """Return the profile of a visitor: a practised smith at a coke fire with a hand hammer."""
    return _USUAL


def read(stored: Any) -> ShopProfile:
    """Return the profile of a stored form (what `json.load` gives). Raises ProfileError."""
    if not isinstance(stored, Mapping):
        raise ProfileError("", "A shop profile is an object of named figures.")
    known = {one.name for one in fields(ShopProfile)}
    strange = sorted(str(key) for key in stored if key not in known)
    if strange:
        raise ProfileError(strange[0][:WORDS], f"A shop profile has no figure called {strange[0][:WORDS]!r}.")
    return ShopProfile(**stored)


# -- checks ------------------------------------------------------------------------------------------

_OPTIONAL = ("hot_length", "hand_energy", "useful", "power_energy")
_LABELS = {"name": "The name", "fuel": "The fuel", "currency": "The currency"}
_CHOSEN = {"fire": "fire", "skill": "skill", "hammer": "hammer"}


def _check_words(name: str, value: Any) -> None:
    if not isinstance(value, str):
        raise ProfileError(name, f"{_LABELS[name]} is words.")
    if len(value) > WORDS:
        raise ProfileError(
            name, f"{_LABELS[name]} is {len(value)} characters long; at most {WORDS} are kept."
        )
    if not value.isprintable():
        raise ProfileError(name, f"{_LABELS[name]} holds control characters, which are not kept.")


def _check_choice(name: str, value: Any, known: Mapping[str, str]) -> None:
    if not isinstance(value, str) or value not in known:
        raise ProfileError(name, f"{str(value)[:WORDS]!r} is no {_CHOSEN[name]}: one of {', '.join(known)}.")


def _check_number(name: str, value: Any) -> None:
    if value is None and name in _OPTIONAL:
        return
    figure = FIGURES[name]
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ProfileError(name, f"{figure.label}: a number is needed, not {str(value)[:WORDS]!r}.")
    if isinstance(value, float) and not isfinite(value):
        raise ProfileError(name, f"{figure.label}: {value} is not a number that can be reckoned with.")
    unit = f" {figure.unit}" if figure.unit else ""
    if value <= 0 and figure.zero:
        raise ProfileError(name, figure.zero.format(given=f"{value:g}"))
    if value < figure.least:
        raise ProfileError(
            name, f"{figure.label}: {_said(value)}{unit} is less than the least, {figure.least:g}{unit}."
        )
    if value > figure.most:
        raise ProfileError(
            name, f"{figure.label}: {_said(value)}{unit} is more than the most, {figure.most:g}{unit}."
        )


def _said(value: float) -> str:
    return f"{value:g}" if abs(value) < 1e300 else "so large a number"


_USUAL = ShopProfile()

__all__ = ["FIGURES", "Hammer", "ProfileError", "ShopProfile", "default", "read"]
