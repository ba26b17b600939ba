"""Cooling in air against the lumped body, reckoned step by step with what the short formula leaves out.

Route: scipy's solver; specific heat of EN 1993-1-2 with its peak at 735 °C, radiation to a shop at 20 °C, and
air's own carrying off 1.32 (ΔT/size)^¼ W/(m² K) of any heat transfer text (from memory).
"""

import pytest
from scipy.integrate import quad

from calculators.formulas.cooling_time import CoolingTime, still_air_seconds

LEFT_OUT = 0.06  # of the time, as the formula says


def specific_heat(at):
    if at < 600:
        return 425 + 0.773 * at - 1.69e-3 * at**2 + 2.22e-6 * at**3
    if at < 735:
        return 666 + 13002 / (738 - at)
    return 545 + 17820 / (at - 731) if at < 900 else 650


def seconds(side, start, stop):
    def per_degree(at):
        radiated = 0.8 * 5.670374419e-8 * ((at + 273.15) ** 4 - 293.15**4)
        carried = 1.32 * ((at - 20) / (side / 1000)) ** 0.25 * (at - 20)
        return 7850 * specific_heat(at) * side / 4000 / (radiated + carried)

    return quad(per_degree, stop, start, points=(600, 735), limit=200)[0]


@pytest.mark.parametrize("start", [800, 850, 900])
@pytest.mark.parametrize("side", [15, 20, 30])
def test_bar_in_still_air(side, start):
    assert still_air_seconds(side / 4, start) == pytest.approx(seconds(side, start, 500), rel=LEFT_OUT)


def test_twenty_square_from_900_to_500():
    """The catalogue's figure is 290 s."""
    assert CoolingTime(modulus=5, start=900, stop=500).answer().value == pytest.approx(290, abs=1)
