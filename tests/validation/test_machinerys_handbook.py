"""Machinery's Handbook, 31st edition, Industrial Press, page 1421: straight stock for cold bends.

Its factors are the length for 90° of bend in thicknesses, so K = factor / (π/2).
"""

from math import pi

import pytest

from calculators.formulas.bend_arc import BendArc, arc_length

INCH = 25.4
SOFT_STEEL, SOFT_BRASS, SPRING_STEEL = 0.64, 0.55, 0.71
ROUNDED_PI = 0.002  # in: the page takes 1.57 for π/2


def test_half_turn_in_soft_steel():
    """Equation 33, figure 13: 1/8 in thick, 3/8 in radius, 180°: 1.338 in."""
    k = SOFT_STEEL / (pi / 2)
    result = BendArc(angle=180, inside_radius=0.375 * INCH, thickness=0.125 * INCH, k=k).answer()
    assert result.value / INCH == pytest.approx((0.64 * 0.125 + 1.57 * 0.375) * 2, abs=ROUNDED_PI)
    assert result.value / INCH == pytest.approx(1.338, abs=ROUNDED_PI)


@pytest.mark.parametrize("factor", [SOFT_BRASS, SPRING_STEEL])
def test_other_metals(factor):
    """Equations 32 and 34, for T = 1 and R = 0: the factor itself."""
    assert arc_length(90, 0, 1, factor / (pi / 2)) == pytest.approx(factor)
