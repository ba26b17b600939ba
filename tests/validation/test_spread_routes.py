"""Spread in flattening against scipy, mpmath, sympy and an energy upper bound.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

import pytest

from calculators.formulas.flattening_spread import flatten, flatten_by_coefficient, spread_coefficient

COEFFICIENTS = [  # bite, width, expected
    (12.0, 20, 0.33656),
    (20.0, 20, 0.446),
    (48.0, 20, 0.69296),
]


@pytest.mark.parametrize(("bite", "width", "expected"), COEFFICIENTS)
def test_coefficient_of_spread(bite, width, expected):
    """Route: sympy, the polynomial in rationals."""
    assert spread_coefficient(bite, width) == pytest.approx(expected, rel=1e-12)


BOUNDS = [  # bite, width, expected, absolute tolerance
    (10.0, 20, 0.26831750423411527, 0.06),
    (20.0, 20, 0.4358125340001218, 0.04),
    (40.0, 20, 0.6376898485279967, 0.07),
]


@pytest.mark.parametrize(("bite", "width", "expected", "tolerance"), BOUNDS)
def test_coefficient_of_spread_is_near_the_energy_bound(bite, width, expected, tolerance):
    """Route: least energy of a kinematic field with cold ends held, sticking share 0.8, no fitted number."""
    assert spread_coefficient(bite, width) == pytest.approx(expected, abs=tolerance)


WIDTHS = [  # thickness, width, target, bite, expected width
    (10, 30, 5, 20, 37.83046176508273),
    (12, 12, 4, 12, 18.50296500480221),
    (20, 25, 7, 15, 34.59588988190762),
]


@pytest.mark.parametrize(("thickness", "width", "target", "bite", "expected"), WIDTHS)
def test_width_after_many_passes(thickness, width, target, bite, expected):
    """Route: scipy's solve_ivp in logarithmic strain."""
    assert flatten(thickness, width, target, bite).width == pytest.approx(expected, rel=1e-8)


ELONGATIONS = [  # thickness, width, target, bite, expected elongation
    (10, 30, 5, 20, 1.586023463641748),
    (12, 12, 4, 12, 1.9456341181301535),
    (20, 25, 7, 15, 2.064654838242494),
    (20, 25, 7, 25, 1.885118472937087),
    (20, 25, 7, 60, 1.5225594243656941),
    (20, 25, 7, 8, 2.226813355209166),
]


@pytest.mark.parametrize(("thickness", "width", "target", "bite", "expected"), ELONGATIONS)
def test_elongation_after_many_passes(thickness, width, target, bite, expected):
    """Route: scipy's quad and brentq on the implicit integral, then constant volume."""
    assert flatten(thickness, width, target, bite).elongation == pytest.approx(expected, rel=1e-7)


def test_width_after_a_single_pass():
    """Route: mpmath, the published law for one pass with a bite of 25."""
    once = flatten_by_coefficient(20, 25, 16, spread_coefficient(25, 25))
    assert once.width == pytest.approx(27.61606997498196, rel=1e-9)
