"""F. E. Harris, 1943: total case depth in inches = 31.6 √h / 10^(6700/T), T in °F + 460.

The formula as heat treaters quote it; the paper itself was not seen. The figures are worked by hand from it.
"""

import pytest

from calculators.formulas.case_depth import CaseDepth, case_depth, hours_for

PRINTED = 0.005  # mm, the last figure given

FIGURES = [
    (925, 1, 0.63),  # 1697 °F, 2157 °R
    (925, 4, 1.26),
    (900, 4, 1.08),  # 1652 °F, 2112 °R
    (1700 / 1.8 - 32 / 1.8, 8, 25.4 * 31.6 * 8**0.5 / 10 ** (6700 / 2160)),
]


@pytest.mark.parametrize(("temperature", "hours", "depth"), FIGURES)
def test_case(temperature, hours, depth):
    assert case_depth(temperature, hours) == pytest.approx(depth, abs=PRINTED)
    assert CaseDepth(temperature=temperature, hours=hours).answer().value == pytest.approx(depth, abs=PRINTED)


def test_twice_the_case_takes_four_times_as_long():
    assert hours_for(900, 2) == pytest.approx(4 * hours_for(900, 1))
    assert case_depth(900, hours_for(900, 0.8)) == pytest.approx(0.8)
