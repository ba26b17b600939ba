"""J. B. Stokes, Intermediate Blacksmithing, FAO Agricultural Services Bulletin 88/2, Rome, 1992."""

import pytest

from calculators.formulas.corner_stock import CornerStock

OUTSIDE, THICKNESS, MARKED = 120, 12, 126  # mm: a square U in 25 × 12, and the length between its marks


def between_the_corners():
    """The middle line between two square corners, by halves: each leg ends in the middle of the U."""
    legs = 2 * CornerStock(first_leg=OUTSIDE / 2, second_leg=40, thickness=THICKNESS).answer().value
    return legs - 2 * (40 - THICKNESS / 2)


def test_square_u_by_its_volume():
    """Its middle line is its outside less a thickness: 120 - 12 = 108."""
    assert between_the_corners() == pytest.approx(OUTSIDE - THICKNESS)


def test_square_u_as_marked_for_upsetting():
    """Printed: outside and a quarter of the thickness for each bend, 126, upset first to 1½ thicknesses.

    That is 18 mm more than stays there. It goes into upsets of half a thickness more over about 18 mm at each
    corner, as hot as the text has it (15 mm each side), and the hammer draws it out into the legs again.
    """
    assert pytest.approx(OUTSIDE + 2 * THICKNESS / 4) == MARKED
    upset_in = (MARKED - between_the_corners()) / 2
    assert upset_in == pytest.approx(0.75 * THICKNESS)
    long = upset_in * 1 / (1.5 - 1)  # of metal half as thick again
    assert long < 2 * 15


def test_a_quarter_of_the_thickness_is_what_a_corner_gathers():
    """The printed quarter over a plain bend's length: geometry has 0.215 of the thickness."""
    gathered = CornerStock(first_leg=OUTSIDE, second_leg=100, thickness=THICKNESS).answer()["gathered"].value
    assert gathered / THICKNESS == pytest.approx(1 / 4, abs=0.04)
