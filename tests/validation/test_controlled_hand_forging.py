"""ABANA, Controlled Hand Forging (The Hammer's Blow): lesson 14, D. Nauman, a 90 degree corner."""

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose
from tests.unit.engine.forging import at, forged

INCH = 25.4


def test_legs_of_a_square_corner():
    """Lesson 14: 20 in of 1/2 in square marked at 4 in; each leg is half a thickness less, 3-3/4 and 15-3/4.

    Read as inside lengths: so they keep the length of the bar. Outside they are half a thickness more.
    """
    piece = forged(
        bar(Section.square(0.5 * INCH), 20 * INCH),
        "corner",
        where=at(datum="start", offset=4 * INCH),
        fillet=0,
    )
    turn = pose(piece).by_name["bar"].segments[1].stations[1].axes
    end = pose(piece).by_name["bar"].end
    assert turn.origin[0] / INCH - 0.25 == pytest.approx(3.75, abs=0.001)
    assert end.origin[2] / INCH - 0.25 == pytest.approx(15.75, abs=0.001)
