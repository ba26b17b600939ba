"""Factors to house units, exact where they are exact by definition."""

import subprocess
import sys

import pytest

from calculators import units

EXACT = [
    ("mm", 1),
    ("cm", 10),
    ("m", 1000),
    ("in", 25.4),
    ("ft", 304.8),
    ("in²", 25.4**2),
    ("cm³", 1000),
    ("in³", 25.4**3),
    ("kg", 1),
    ("g", 0.001),
    ("lb", 0.45359237),
    ("oz", 0.45359237 / 16),
    ("min", 60),
    ("h", 3600),
    ("turn", 360),
    ("rad", 57.29577951308232),
]


@pytest.mark.parametrize(("unit", "expected"), EXACT)
def test_factor(unit, expected):
    assert units.factor(unit) == pytest.approx(expected, rel=1e-14)
    assert units.from_house(units.to_house(3.7, unit), unit) == pytest.approx(3.7, rel=1e-14)


def test_inch_and_pound_are_exact():
    assert units.factor("in") == 25.4
    assert units.factor("lb") == 0.45359237


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (1150, 2102), (-40, -40)])
def test_fahrenheit(celsius, fahrenheit):
    assert units.fahrenheit(celsius) == pytest.approx(fahrenheit)
    assert units.celsius(fahrenheit) == pytest.approx(celsius)


@pytest.mark.parametrize("unit", ["furlong", "9**9", "", "inch "])
def test_only_the_table_s_units_are_known(unit):
    with pytest.raises(KeyError):
        units.factor(unit)


def test_calculators_are_imported_without_pint():
    code = "import sys, calculators.typed, calculators.formulary; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
