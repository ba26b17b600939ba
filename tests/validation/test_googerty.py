"""T. F. Googerty, Hand-Forging and Wrought-Iron Ornamental Work, Popular Mechanics, 1911, page 69: rings.

The page reckons with 22/7 and prints 34-1/7 for 11 × 22/7, a slip for 34-4/7.
"""

from math import pi

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.shaping.rings import Ring
from tests.unit.engine.forging import forged, tried

INCH = 25.4
STOCK, INSIDE = Section.square(1 * INCH), 10 * INCH
WASTE = 3 / 8 * INCH  # "the amount required for waste in making the weld, in this case about 3/8 in"
PI = 0.02 * INCH  # of a ring of 34 in, 22/7 for π


def closed(length, **more):
    return tried(bar(STOCK, length), "weld_ring", on="bar", zone=1.5 * INCH, **more)


def inside(piece):
    return Ring("easy", 1).inside(piece.root.length, STOCK)


def test_ring_of_ten_inches_of_inch_stock():
    """Thickness and inside diameter together, by 3-1/7."""
    length = (10 + 1) * 22 / 7 * INCH
    assert inside(closed(length).after) == pytest.approx(INSIDE, abs=PI)


@pytest.mark.parametrize("heats", [1, 2, 3])
def test_waste_for_the_weld_is_what_its_heats_burn_and_a_little_more(heats):
    """About 3/8 in on 1 in stock: at 0.1 mm of scale a heat it lasts for several."""
    length = pi * (INSIDE + 1 * INCH) + WASTE
    after = closed(length, welds=heats, scale=0.1).after
    assert after.root.length < length
    assert INSIDE < inside(after) < INSIDE + WASTE / pi


def test_ring_by_its_waste_is_not_called_off_size():
    length = pi * (INSIDE + 1 * INCH) + WASTE
    codes = [one.code for one in closed(length, welds=2, scale=0.1, inside=INSIDE).findings]
    assert "weld_ring.off_size" not in codes


def test_ring_stays_a_circle_and_ends_where_it_began():
    piece = forged(bar(STOCK, 34.56 * INCH), "weld_ring", on="bar", zone=1.5 * INCH)
    (arc, *_) = piece.root.segments
    assert piece.is_closed("bar")
    assert 2 * pi * arc.path.radius == pytest.approx(piece.root.length)
