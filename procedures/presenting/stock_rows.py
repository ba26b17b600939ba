"""The answer of the stock page as rows of texts, in the reader's units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal
from urllib.parse import urlencode

from calculators import units as unit_factors
from procedures.engine.replan import Size
from procedures.stock.choosing import Choice
from procedures.stock.rebasing import Change, size_stays

from .stock import StockAnswer


@dataclass(frozen=True, slots=True)
class Line:
    """A line that tells of a step: its number, its title and what is said."""

    number: int
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class BarRow:
    """A bar to choose: what it takes, or why it does not do. `typed` is how it is typed in the form.

    `heats` and `blows` are those reckoned for the whole part, with what is more or less than as planned.
    """

    section: str
    typed: str
    standard: str
    keep: str
    length: str
    gives: str
    mass: str
    waste: str
    work: str
    why: str
    cost: str = ""
    heats: str = ""
    blows: str = ""


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A step that another bar changes: (label, as planned, now) of its sizes, and what is newly said."""

    number: int
    title: str
    sizes: tuple[tuple[str, str, str], ...]
    findings: tuple[str, ...]
    is_stopped: bool


class StockRows:
    """An answer in texts."""

    def __init__(self, answer: StockAnswer) -> None:
        self.of = answer
        self.units = answer.units

    def _amount(self, value: float | None) -> str:
        if value is None:
            return "does not come about"
        return self.of.target.amount(value).text(self.units)

    @property
    def asked(self) -> str:
        """What is asked for."""
        return " and ".join(one.said(self.of.planned).text(self.units) for one in self.of.wish.targets)

    @property
    def unknown(self) -> str:
        """What was solved for."""
        text = self.of.wish.unknown.said(self.of.planned.part).text(self.units)
        return text[:1].upper() + text[1:]

    @property
    def planned(self) -> str:
        """What comes out as planned."""
        return self._amount(self.of.target.measured(self.of.planned))

    @property
    def typical(self) -> str:
        """The value found."""
        answer = self.of.answer
        return self.of.said(answer.typical.value) if answer else ""

    @property
    def estimates(self) -> list[tuple[str, str]]:
        """What it takes where the fire takes little, as usual and much."""
        answer = self.of.answer
        if answer is None or self.of.nominal:
            return []
        found = (("little scale", answer.low), ("usual", answer.typical), ("much scale", answer.high))
        return [(words, self.of.said(one.value) if one else "no such stock") for words, one in found]

    @property
    def others(self) -> list[str]:
        """Further values that give the same."""
        answer = self.of.answer
        return [self.of.said(one) for one in answer.typical.others] if answer else []

    @property
    def fed_forward(self) -> str:
        """What the replay gives with what was found."""
        answer = self.of.answer
        return self._amount(answer.typical.trial.measured) if answer else ""

    @property
    def mass(self) -> str:
        """Mass of the bar found."""
        part = self.of.part_replayed
        return self.units.mass(part.start.mass) if part else ""

    @property
    def cutting_query(self) -> str:
        """The query of a cutting list with the bar found, exact to what is typed."""
        part = self.of.part
        if part is None:
            return ""
        given = {f"length-{part.key}": f"{part.length:.2f} mm"}
        if part.section != self.of.planned.part.section and part.section.shape in TYPED:
            given[f"bar-{part.key}"] = typed_section(part.section.shape, part.section.dimensions)
        return urlencode(given)

    @property
    def fight(self) -> str:
        """Why two targets do not go together."""
        return self.of.fight.text(self.units) if self.of.fight else ""

    @property
    def hindrances(self) -> list[tuple[str, str, str]]:
        """(what was asked, why there is no such stock, a way on)."""
        return [
            (target.said(self.of.planned).text(self.units), *self._told(one.said, one.hint))
            for target, one in self.of.hindrances
        ]

    def _told(self, said: object, hint: object) -> tuple[str, str]:
        return tuple(one.text(self.units) if one else "" for one in (said, hint))  # type: ignore[attr-defined, return-value]

    @property
    def instead(self) -> list[tuple[str, str]]:
        """(key, words) of what to solve for instead."""
        return [(key, words.text(self.units)) for key, words in self.of.instead]

    @property
    def kept(self) -> list[Line]:
        """What stays."""
        return [Line(one.number, one.title, one.said.text(self.units)) for one in self.of.kept]

    @property
    def bars(self) -> Iterator[BarRow]:
        """The bars to choose from."""
        for one in self.of.choices:
            section = one.bar.section
            none = one.length is None
            yield BarRow(
                section=self.units.section(section),
                typed=typed_section(section.shape, section.dimensions),
                standard=one.bar.standard,
                keep="metal" if one.same_metal else "lengths",
                length="" if none else self.units.length(one.length or 0.0),
                gives=self._amount(one.gives),
                mass="" if none else self.units.mass(one.mass),
                waste="" if none else self.units.mass(one.waste),
                work=one.work.text(self.units),
                why=one.why.text(self.units) if one.why else "",
                cost="" if none else self._cost(one.mass),
                heats=self._effort(one, "predicted"),
                blows=self._effort(one, "blows"),
            )

    def _cost(self, mass: float) -> str:
        """Return what a mass [kg] of bar costs; "" where no price is asked with."""
        price = self.of.wish.price
        if price is None:
            return ""
        inches = self.units.length_unit == "in"
        return f"{price * (unit_factors.from_house(mass, 'lb') if inches else mass):.2f}"

    def _effort(self, one: Choice, what: Literal["predicted", "blows"]) -> str:
        """Return how many heats or blows a bar takes, and how many more than the plan's."""
        plan, planned = self.of.effort(one), self.of.effort_planned
        if plan is None:
            return ""
        now, before = (round(getattr(each, what).typical) for each in (plan, planned))
        if now == before:
            return str(now)
        return f"{now}, {abs(now - before)} {'more' if now > before else 'fewer'}"

    @property
    def changes(self) -> list[ChangeRow]:
        """The steps that change."""
        return [self._change(one) for one in self.of.changes]

    def _change(self, one: Change) -> ChangeRow:
        sizes = tuple(self._size(size) for size in one.sizes if not size_stays(size))
        findings = tuple(finding.message.text(self.units) for finding in one.findings)
        return ChangeRow(one.frame.number, one.frame.title, sizes, findings, one.is_stopped)

    def _size(self, size: Size) -> tuple[str, str, str]:
        label = {"run": "worked", "whole": f"{size.name}, whole", "mark": f"mark {size.name}"}[size.kind]
        now = "gone" if size.now is None else self.units.length(size.now)
        planned = self.units.length(size.planned)
        if size.planned_section is not None:
            planned += f", {self.units.section(size.planned_section)}"
        if size.section is not None:
            now += f", {self.units.section(size.section)}"
        return label, planned, now

    @property
    def effects(self) -> list[tuple[str, str]]:
        """(what is given, what half a millimetre more on it makes)."""
        return [(one.said.text(self.units), self._signed(one.change)) for one in self.of.effects]

    def _signed(self, change: float) -> str:
        sign = "+" if change > 0 else "\N{MINUS SIGN}"
        return sign + self._amount(abs(change))

    @property
    def spread(self) -> list[tuple[str, str]]:
        """(the thinnest and thickest bar that may be sold as this, what comes of it)."""
        found = self.of.spread
        if found is None:
            return []
        pairs = ((found.least, found.thin), (found.most, found.thick))
        return [(self.units.section(one), self._amount(value)) for one, value in pairs]


TYPED = ("flat", "square", "round", "hexagon")


def typed_section(shape: str, sizes: dict[str, float]) -> str:
    """Return a section as it is typed, in mm."""
    said = [f"{one:.10g}" for one in sizes.values()]
    if shape == "flat":
        return f"{said[0]} x {said[1]} mm"
    return {"square": "{} mm sq", "round": "ø{} mm", "hexagon": "{} mm hex"}[shape].format(said[0])
