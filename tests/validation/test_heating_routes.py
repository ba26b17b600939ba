"""Heating in a furnace by another route: the differential equation stepped by LSODA; the standard's heats."""

import pytest
from scipy.integrate import quad

from calculators.formulas.heating_time import HeatingTime
from calculators.hot_steel import enthalpy, furnace_seconds_per_mm, specific_heat
from calculators.sections import Section

NEAR = 2e-4  # relative

# section, furnace, from, to [°C], seconds by LSODA over the same fluxes
STEPPED = [
    (Section.square(20), 1250, 20, 1150, 220.31648422393224),
    (Section.round(12), 1250, 20, 1150, 132.18988853177868),
    (Section.flat(40, 8), 1300, 20, 1100, 110.67068172200396),
    (Section.square(20), 1250, 850, 1150, 87.31677798924026),
]


@pytest.mark.parametrize(("section", "furnace", "start", "stop", "seconds"), STEPPED)
def test_heating_takes_as_long_as_stepped(section, furnace, start, stop, seconds):
    answer = HeatingTime(modulus=section.modulus, furnace=furnace, start=start, stop=stop).answer()
    assert answer.value == pytest.approx(seconds, rel=NEAR)


def test_half_the_skin_in_the_fire_takes_twice_as_long():
    # Stepped with half the skin seeing the furnace: 440.63 s
    assert HeatingTime(modulus=5, lying=2.0).answer().value == pytest.approx(440.63296113371865, rel=NEAR)


def test_minutes_for_each_millimetre_are_those_of_the_rule():
    # 0.94 and 0.73 min for each mm of area over perimeter to 1150 °C, at 1200 and 1250
    assert furnace_seconds_per_mm(1200, 20, 1150) / 60 == pytest.approx(0.94, abs=0.006)
    assert furnace_seconds_per_mm(1250, 20, 1150) / 60 == pytest.approx(0.73, abs=0.006)


# EN 1993-1-2:2005 with AC:2009, clause 3.4.1.2, as quoted
@pytest.mark.parametrize(
    ("at", "heat"),
    [
        (100, 487.62),
        (200, 529.76),
        (300, 564.74),
        (400, 605.88),
        (600, 666 + 13002 / 138),
        (700, 666 + 13002 / 38),
        (735, 545 + 17820 / 4),
        (800, 545 + 17820 / 69),
        (900, 650.0),
        (1100, 650.0),
    ],
)
def test_specific_heat_is_the_standards(at, heat):
    assert specific_heat(at) == pytest.approx(heat, rel=1e-4)


@pytest.mark.parametrize(("at", "kilojoules"), [(1000, 697.06), (1200, 827.06)])
def test_heat_in_a_kilogram_is_the_integral(at, kilojoules):
    assert enthalpy(20, at) / 1000 == pytest.approx(kilojoules, rel=0.001)
    by_quadrature = quad(specific_heat, 20, at, points=[600, 735, 900], limit=200)[0]
    assert enthalpy(20, at) == pytest.approx(by_quadrature, rel=NEAR)
