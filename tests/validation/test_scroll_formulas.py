"""Lengths of coils and scrolls: the standard coil formula, and the arc of Archimedes' spiral by calculus."""

from math import pi

import pytest

from calculators.formulas.archimedes_spiral import spiral_length
from calculators.formulas.ring_blank import blank_length

TENTH = 0.1  # mm


def test_close_coil():
    """Rolled strip 0.1 mm thick from 40 to 200 mm: N = (D - d)/(2t), L = πN(D + d)/2."""
    turns = (200 - 40) / (2 * 0.1)
    assert spiral_length(20, 100, turns) == pytest.approx(pi * turns * (200 + 40) / 2, rel=0.001)


@pytest.mark.parametrize(
    ("inner", "outer", "turns", "expected"), [(10, 60, 2, 443.351), (5, 40, 1.5, 215.807)]
)
def test_open_scroll(inner, outer, turns, expected):
    """The mean circumference gives only 439.823 and 212.058."""
    assert spiral_length(inner, outer, turns) == pytest.approx(expected, abs=TENTH)
    assert spiral_length(inner, outer, turns) > pi * turns * (inner + outer)


def test_hoop_of_a_mean_diameter():
    assert blank_length(90, 10) == pytest.approx(pi * 100, abs=0.01)
