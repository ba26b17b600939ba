"""Scrolls, rings, folds, slits, twists and cooling against quadrature and polygons: scipy, shapely.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

from math import pi

import pytest

from calculators.formulas import (
    archimedes_spiral,
    fold_arc,
    logarithmic_spiral,
    punch_slug,
    ring_blank,
    slit_length,
    twist_strain,
    working_time,
)
from calculators.sections import Section

SPIRALS = [  # law, inner, outer, turns, expected, relative tolerance
    (archimedes_spiral, 20, 30, 1, 157.40194240684195, 1e-08),  # quad of sqrt(r2+r'2)
    (archimedes_spiral, 5, 50, 3, 521.0793949114902, 1e-08),  # quad of sqrt(r2+r'2)
    (archimedes_spiral, 5, 50, 3, 521.0793917607926, 1e-06),  # shapely polyline of 50,000 points
    (logarithmic_spiral, 3, 90, 3, 489.9433033262042, 1e-08),  # quad of the arc length
    (logarithmic_spiral, 4, 60, 2, 265.8265648149862, 1e-08),  # quad of the arc length
    (logarithmic_spiral, 8, 50, 1.5, 220.04709866795065, 1e-08),  # quad of the arc length
]


@pytest.mark.parametrize(("law", "inner", "outer", "turns", "expected", "tolerance"), SPIRALS)
def test_length_of_a_scroll(law, inner, outer, turns, expected, tolerance):
    assert law.spiral_length(inner, outer, turns) == pytest.approx(expected, rel=tolerance)
    assert law.turns_for_length(inner, outer, expected) == pytest.approx(turns, rel=10 * tolerance)


def test_fold_with_no_gap():
    """Route: half a disc of the thickness for radius, divided by the thickness."""
    assert fold_arc.arc_length(8) == pytest.approx(12.56637029137707, rel=1e-6)


@pytest.mark.parametrize(("allowance", "expected"), [(0, 351.85837720205683), (12, 363.85837720205683)])
def test_ring(allowance, expected):
    """Route: the annulus's area over the thickness; the scarf's allowance by hand."""
    assert ring_blank.blank_length(100, 12, allowance) == pytest.approx(expected, rel=1e-9)


SLITS = [  # perimeter of the hole, expected, relative tolerance
    (16 * pi, 23.876104013865042, 1e-6),  # half the shapely perimeter less 5 %
    (4 * 16, 30.4, 1e-12),  # half the shapely perimeter less 5 %
    (20 * pi, 30.0, 0.01),  # trade rule: three times the radius
    (4 * 20, 38.0, 1e-9),  # trade rule: two sides less 5 %
]


@pytest.mark.parametrize(("perimeter", "expected", "tolerance"), SLITS)
def test_slit_by_the_trade_rule(perimeter, expected, tolerance):
    assert slit_length.slit_for(perimeter, slit_length.SNUG) == pytest.approx(expected, rel=tolerance)


def test_slug():
    """Route: by hand."""
    assert punch_slug.slug_volume(pi * 10**2 / 4, 12) == pytest.approx(282.7433388230814, rel=1e-12)


def test_edge_line_of_a_twist():
    """Route: scipy's quad along the helix of a 12 mm square's corner."""
    edge = twist_strain.outer_fibre(12 / 2**0.5, 100, 2)
    assert edge == pytest.approx(146.18407666382458, rel=1e-9)


TWISTS = [  # section, length, turns, expected
    (Section.square(12), 100, 2, 18.949640450091568),
    (Section.flat(30, 6), 100, 1, 15.396582865699402),
]


@pytest.mark.parametrize(("section", "length", "turns", "expected"), TWISTS, ids=str)
def test_greatest_shortening_of_a_twist(section, length, turns, expected):
    """Route: scipy's dblquad of r² over the section."""
    assert twist_strain.greatest_shortening(section, length, turns) == pytest.approx(expected, rel=1e-8)


COOLING = [  # from °C, to °C, expected seconds for 1 mm of area over perimeter
    (1150, 850, 12.295374725334199),
    (1250, 850, 14.546370810525403),
]


@pytest.mark.parametrize(("start", "stop", "expected"), COOLING)
def test_cooling_in_still_air(start, stop, expected):
    """Route: LSODA of the lumped body with radiation, convection and the steel's heat as it changes."""
    assert working_time.air_seconds(1, start, stop) == pytest.approx(expected, rel=0.01)
