"""Length of a taper made from a length of bar, and the other way round."""

from __future__ import annotations

from math import sqrt

from calculators.figure import Figure
from calculators.figures.tapers import taper
from calculators.formula import SHARE, Answer, Cite, Formula, given
from calculators.sections import Section, taper_volume
from calculators.sections import taper_length as length_of_volume


def length_from_stock(stock: Section, used: float, start: Section, end: Section, loss: float = 0.0) -> float:
    """Return the length [mm] of a taper made of a used length [mm] of stock, less a share lost."""
    return length_of_volume(start, end, stock.area * used * (1 - loss))


def stock_from_length(
    stock: Section, length: float, start: Section, end: Section, loss: float = 0.0
) -> float:
    """Return the length [mm] of stock that a taper of a length [mm] takes, with a share lost on the way."""
    return taper_volume(start, end, length) / (stock.area * (1 - loss))


def even_scale(stock: Section, used: float, shape: Section, length: float, loss: float = 0.0) -> float:
    """Return the factor on a shape's sizes by which a used length [mm] of stock gets a length [mm]."""
    return sqrt(stock.area * used * (1 - loss) / (length * shape.area))


def end_scale(
    stock: Section, used: float, start: Section, end: Section, length: float, loss: float = 0.0
) -> float:
    """Return the factor on the end section's sizes by which a taper from `start` gets a length [mm].

    Raises ValueError when even a true point would hold less metal: the taper must be longer.
    """
    volume = stock.area * used * (1 - loss)
    square, linear, rest = end.area, start.mixed_area(end), start.area - 3 * volume / length
    if rest > 0:
        shortest = 3 * volume / start.area
        raise ValueError(
            f"A taper of {length:g} mm is too long for its metal: a true point is only {shortest:g} mm."
        )
    if square == 0:
        return -rest / linear
    return (sqrt(linear * linear - 4 * square * rest) - linear) / (2 * square)


class TaperLength(Formula):
    """Length of a taper made of a length of bar: the solid is the convex hull of its two end sections.

        L = 3 · A_bar · L_bar · (1 - loss) / (A₀ + M + A₁)

    Args:
        stock: the bar
        used: length of bar that becomes the taper [mm]
        start: section at the thick end
        end: section at the thin end; Section.point() for a true point
        loss: share of the metal lost to scale, 0 to 1

    Returns:
        Length of the taper [mm].

    Valid for any two sections: exact. A true point of the bar's own section is 3 times the bar used, a chisel
    edge twice.

    Raises:
        ValueError: a length is zero or less, or the loss is not below 1.

    >>> bar = Section.square(12)
    >>> round(TaperLength(stock=bar, used=40, start=bar, end=Section.square(2)).answer().value, 1)
    100.5
    """

    id = "taper_length"
    title = "Taper: how long it gets"
    source = Cite("DERIVED")
    group = "longer"
    words = ("point", "taper", "drawn to a point")
    result = "Length of the taper"
    operations = ("taper", "point")
    any_unit = True

    stock: Section = given("Bar", "section", example=("12 sq", "1/2 sq"))
    used: float = given("Length of bar used", "mm", above=0, example=("40", "1 1/2"))
    start: Section = given("Thick end", "section", example=("12 sq", "1/2 sq"))
    end: Section = given("Thin end", "section", example=("2 sq", "1/16 sq"))
    loss: float = given("Lost to scale", SHARE, at_least=0, below=1, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of the taper."""
        length = length_from_stock(self.stock, self.used, self.start, self.end, self.loss)
        mixed = self.start.mixed_area(self.end)
        working = (
            f"3 × {self.stock.area:.6g} × {self.used:g}"
            + (f" × {1 - self.loss:g}" if self.loss else "")
            + f" / ({self.start.area:.6g} + {mixed:.6g} + {self.end.area:.6g})"
        )
        return Answer(length, "mm", working)

    def figure(self) -> Figure:
        """Return the bar used and the taper."""
        return taper(self.stock, self.used, self.start, self.end, self.answer().value)
