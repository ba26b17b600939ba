"""EN 1993-1-2:2005 with AC:2009, clause 3.4.1: carbon steel in fire, expansion and heat."""

import pytest

from calculators.formulas.thermal_expansion import cold_length, elongation, hot_length
from calculators.formulas.working_time import radiation_seconds_per_mm

STANDARD = 2e-5  # of relative elongation
SURROUNDINGS = 0.02  # the closed form radiates to nothing, the integrals to 20 °C

ELONGATIONS = [
    (500, 1.2e-5 * 500 + 0.4e-8 * 500**2 - 2.416e-4),
    (750, 1.1e-2),
    (1000, 2e-5 * 1000 - 6.2e-3),
    (1200, 2e-5 * 1200 - 6.2e-3),
]


@pytest.mark.parametrize(("temperature", "expected"), ELONGATIONS)
def test_relative_elongation(temperature, expected):
    """Clause 3.4.1.1."""
    assert elongation(temperature) == pytest.approx(expected, abs=STANDARD)


def test_bar_measured_hot():
    """500 mm cold is 506.9 mm at 1000 °C."""
    assert hot_length(500, 1000) == pytest.approx(500 * (1 + 0.0138), abs=0.1)
    assert cold_length(506.9, 1000) == pytest.approx(500, abs=0.1)


COOLING = [  # side of a square bar [mm], from and to [°C], seconds by integration with surroundings at 20 °C
    (20, 1200, 900, 57.63),
    (12, 1100, 800, 47.75),
]


@pytest.mark.parametrize(("side", "start", "stop", "expected"), COOLING)
def test_cooling_by_radiation(side, start, stop, expected):
    """Clause 3.4.1.2's 650 J/(kg K), emissivity 0.8, Stefan and Boltzmann's law; ends of the bar left out."""
    assert side / 4 * radiation_seconds_per_mm(start, stop) == pytest.approx(expected, rel=SURROUNDINGS)


def test_cooling_by_radiation_in_closed_form():
    """ρ c a / (12 ε σ) · (1/T₂³ - 1/T₁³) for 20 mm from 1200 to 900 °C: 57.47 s."""
    by_hand = 7850 * 650 * 0.020 / (12 * 0.8 * 5.670374419e-8) * (1173.15**-3 - 1473.15**-3)
    assert 5 * radiation_seconds_per_mm(1200, 900) == pytest.approx(by_hand)
    assert by_hand == pytest.approx(57.47, abs=0.01)
