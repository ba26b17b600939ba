"""A taper, and the bar that becomes it."""

from __future__ import annotations

from calculators.figure import Figure, Size, Stroke
from calculators.sections import Section
from calculators.wording import say

from .arcs import box


def taper(stock: Section, used: float, start: Section, end: Section, length: float) -> Figure:
    """Return the run of bar, dashed, over the taper that it becomes; heights are drawn twice as large."""
    thick = 2 * max(stock.thickness, start.thickness, length / 14)
    scale = thick / max(stock.thickness, start.thickness)
    bar, root, tip = scale * stock.thickness, scale * start.thickness, scale * end.thickness
    low = -thick - 0.22 * max(length, used)
    middle = low + thick / 2
    return Figure(
        "The bar used, dashed, and under it the taper it becomes; heights are not to the scale of lengths.",
        (
            Stroke("dashed", box(0, 0, used, bar), True),
            Stroke(
                "metal",
                (
                    (0, middle - root / 2),
                    (length, middle - tip / 2),
                    (length, middle + tip / 2),
                    (0, middle + root / 2),
                ),
                True,
            ),
        ),
        (
            Size((0, 0), (used, 0), say("{length:length}", length=used), -0.07),
            Size((0, low), (length, low), say("{length:length}", length=length), -0.07),
        ),
    )
