"""Length of bar that a taper of a length takes."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.tapers import taper
from calculators.formula import SHARE, Answer, Cite, Formula, check_bar, given
from calculators.formulas.taper_length import stock_from_length
from calculators.sections import Section


class TaperStock(Formula):
    """Length of bar to leave for a taper, by what the taper is to measure.

        L_bar = L · (A₀ + M + A₁) / (3 · A_bar · (1 - loss))

    Args:
        stock: the bar
        length: of the taper [mm]
        start: section at the thick end
        end: section at the thin end; 0.1 mm square is as good as a point
        loss: share of the metal lost to scale

    Returns:
        Length of bar [mm], and how many times longer the taper is.

    Valid for any two sections: exact; the taper is the convex hull of its ends. A true point of the bar's own
    section takes a third of its length, a chisel edge half.

    Raises:
        ValueError: the length is zero or less, or the loss is not below 1.

    >>> bar = Section.square(12.7)
    >>> round(TaperStock(stock=bar, length=76.2, start=bar, end=Section.square(0.01)).answer().value, 1)
    25.4
    """

    id = "taper_stock"
    title = "Taper: the bar it takes"
    source = Cite("DERIVED")
    group = "longer"
    words = ("point", "taper stock", "bar for a point", "drawn to a point")
    result = "Length of bar"
    operations = ("taper", "point")
    any_unit = True

    stock: Section = given("Bar", "section", example=("12 sq", "1/2 sq"))
    length: float = given("Length of the taper", "mm", above=0, example=("100", "4"))
    start: Section = given("Thick end", "section", example=("12 sq", "1/2 sq"))
    end: Section = given("Thin end", "section", example=("2 sq", "1/16 sq"))
    loss: float = given("Lost to scale", SHARE, at_least=0, below=1, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        check_bar("stock", self.stock)
        used = stock_from_length(self.stock, self.length, self.start, self.end, self.loss)
        mixed = self.start.mixed_area(self.end)
        working = (
            f"{self.length:g} × ({self.start.area:.6g} + {mixed:.6g} + {self.end.area:.6g})"
            f" / (3 × {self.stock.area:.6g}" + (f" × {1 - self.loss:g})" if self.loss else ")")
        )
        times = Answer(self.length / used, "", f"{self.length:g} / {used:.4g}", "times as long")
        return Answer(used, "mm", working, further=(times,))

    def figure(self) -> Figure:
        """Return the bar it takes, and the taper."""
        return taper(self.stock, self.answer().value, self.start, self.end, self.length)
