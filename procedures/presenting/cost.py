"""A cost sheet in words: its lines with where each comes from, sums, and the same as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from calculators.number_texts import decimal
from calculators.wording import UnitSystem
from procedures.planning.costs import Costs, Line
from procedures.planning.ranges import Range

from .shops import money

WORDS = "An estimate, not an offer until you make it one."
_TITLES = {"metal": "Metal", "fuel": "Fuel", "time": "Time", "finish": "Finish", "other": "Other"}


@dataclass(frozen=True, slots=True)
class ShownLine:
    """One line: what, from what, and its low, typical and high money, without the word for it."""

    title: str
    told: str
    low: str
    typical: str
    high: str
    is_sum: bool = False


class CostSheet:
    """The whole sheet as pages, paper and CSV show it."""

    def __init__(self, costs: Costs, units: UnitSystem, currency: str) -> None:
        self.costs, self.units, self.currency = costs, units, currency

    @cached_property
    def lines(self) -> list[ShownLine]:
        """Every line, then the sums."""
        return [*self._lines(), *self._sums()]

    @property
    def headline(self) -> str:
        """The typical price of a piece, with its range."""
        return self._span(self.costs.a_piece)

    @property
    def batch(self) -> str:
        """The typical price of the batch, with its range."""
        return self._span(self.costs.total)

    @property
    def is_free(self) -> bool:
        """Whether no price was put in."""
        return self.costs.total.high == 0

    def _span(self, amount: Range) -> str:
        said = money(amount.typical, self.currency)
        return said if amount.is_one else f"{said} ({money(amount.low, '')} to {money(amount.high, '')})"

    def _lines(self) -> Iterator[ShownLine]:
        for one in self.costs.lines:
            yield self._shown(_TITLES[one.key], self._told(one), one.cost)

    def _sums(self) -> Iterator[ShownLine]:
        costs, prices = self.costs, self.costs.prices
        yield self._shown("Cost", "", costs.before_margin, is_sum=True)
        yield self._shown("Margin", f"{decimal(prices.margin * 100, 2)} %", costs.margin)
        yield self._shown("In all", _pieces(prices.pieces), costs.total, is_sum=True)
        if prices.pieces > 1:
            yield self._shown("Each", "", costs.a_piece, is_sum=True)

    def _shown(self, title: str, told: str, cost: Range, *, is_sum: bool = False) -> ShownLine:
        low, typical, high = (money(one, "") for one in (cost.low, cost.typical, cost.high))
        return ShownLine(title, told, low, typical, high, is_sum)

    def _told(self, line: Line) -> str:
        prices = self.costs.prices
        if line.key == "metal":
            more = decimal(prices.waste * 100, 1)
            return f"{self.units.mass(line.mass)} bought: what the pieces take and {more} % more"
        if line.key == "fuel":
            return f"{_hours(line.minutes)} of fire at {money(prices.fire_hour, self.currency)} an hour"
        if line.key == "time":
            return f"{_hours(line.minutes)} of work at {money(prices.hour, self.currency)} an hour"
        if line.key == "finish":
            return f"{money(prices.finish, self.currency)} each"
        return "for the batch"

    def csv(self) -> str:
        """Return a row a line, money as plain numbers."""
        file = io.StringIO()
        rows = csv.writer(file)
        rows.writerow(("line", "from", "low", "typical", "high", "currency"))
        amounts = [one.cost for one in self.costs.lines]
        amounts += [self.costs.before_margin, self.costs.margin, self.costs.total, self.costs.a_piece]
        for line, amount in zip(self.lines, amounts, strict=False):
            told = line.told.replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\N{NO-BREAK SPACE}", " ")
            values = (f"{one:.2f}" for one in (amount.low, amount.typical, amount.high))
            rows.writerow((line.title, _plain(told), *values, _plain(self.currency)))
        rows.writerow((WORDS, "", "", "", "", ""))
        return file.getvalue()


def _plain(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in "=+-@\t" and text else text


def _pieces(count: int) -> str:
    return f"{count} piece{'s' * (count != 1)}"


def _hours(minutes: Range) -> str:
    low, typical, high = (decimal(one / 60, 1) for one in (minutes.low, minutes.typical, minutes.high))
    return f"{typical} h" if low == high else f"{typical} h ({low} to {high})"
