"""A shop in words: what it predicts with, each figure with what it rests on, and the bars that lie in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.number_texts import decimal
from calculators.sections import Section, SectionError
from calculators.units import factor
from calculators.wording import UnitSystem
from procedures.planning.figures import FIGURES, FIRE_CHOICES, HAMMERS, SKILLS
from procedures.planning.profile import ShopProfile, default

Told = tuple[str, str, str]  # label, value, what it rests on


@dataclass(frozen=True, slots=True)
class HeldBar:
    """A bar that lies in a shop, in words; "" for what is not known."""

    section: str
    lengths: str
    price: str


def shop_told(shop: ShopProfile, units: UnitSystem, *, whole: bool = False) -> list[Told]:
    """Return what a shop predicts with: what matters most, or the `whole` of it."""
    return list(_whole(shop, units) if whole else _short(shop, units))


def _short(shop: ShopProfile, units: UnitSystem) -> Iterator[Told]:
    yield "Who works", SKILLS[shop.skill], ""
    yield "Struck with", f"{HAMMERS[shop.hammer]}, {decimal(shop.used.energy, 0)} J", ""
    yield "Fire", FIRE_CHOICES[shop.fire], ""


def _whole(shop: ShopProfile, units: UnitSystem) -> Iterator[Told]:
    yield from _short(shop, units)
    yield "Striker", "yes" if shop.striker else "none", ""
    for name, figure in FIGURES.items():
        value = getattr(shop, name)
        basis = figure.basis if value == getattr(default(), name) else "put in by its smith"
        if value is None:
            usual = {"hot_length": shop.reach, "hand_energy": shop.blow, "useful": shop.shaping}.get(name)
            if usual is None:
                yield figure.label, "none", ""
                continue
            value, basis = usual, figure.basis
        yield figure.label, figure_said(name, value, units, shop.currency), basis
    if shop.fuel:
        yield "Fuel", shop.fuel, ""


def figure_said(name: str, value: float, units: UnitSystem, currency: str = "") -> str:
    """Return a figure of a profile with its unit, in the reader's units."""
    unit = FIGURES[name].unit
    if unit == "mm":
        return units.length(value)
    if unit == "°C":
        return units.temperature(value)
    if name in ("hourly_cost", "fuel_cost"):
        return money(value, currency)
    return f"{decimal(value, 2)} {unit}".strip()


def money(amount: float, currency: str) -> str:
    """Return an amount of money: two places, and the reader's own word for the money."""
    text = f"{amount:,.2f}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    return f"{currency}\N{NO-BREAK SPACE}{text}" if currency else text


def _many(text: str, count: int) -> str:
    return f"{count} × {text}" if count > 1 else text


def bars_told(bars: Sequence[Mapping[str, Any]], units: UnitSystem, currency: str) -> list[HeldBar]:
    """Return the bars of a shop; one that does not read any more is left out."""
    inches = units.length_unit == "in"
    found = []
    for one in bars:
        try:
            section = Section.from_json(one["section"])
        except SectionError:
            continue
        price = one.get("price")
        per = (price * factor("lb"), "lb") if inches and price is not None else (price, "kg")
        found.append(
            HeldBar(
                units.section(section),
                ", ".join(_many(units.length(mm), n) for mm, n in Counter(one.get("lengths", ())).items()),
                "" if per[0] is None else f"{money(per[0], currency)} a {per[1]}",
            )
        )
    return found


def sections_held(bars: Sequence[Mapping[str, Any]]) -> list[Section]:
    """Return the sections of the bars of a shop that read."""
    found = []
    for one in bars:
        try:
            found.append(Section.from_json(one["section"]))
        except SectionError:
            continue
    return found


def held_of(section: Section, bars: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Return the bars of a shop that are of a section."""
    return [one for one in bars if section in sections_held([one])]


def price_of(section: Section, bars: Sequence[Mapping[str, Any]]) -> float | None:
    """Return what a kilogram of a bar costs in a shop; None where it does not say."""
    return next((one["price"] for one in held_of(section, bars) if one.get("price") is not None), None)
