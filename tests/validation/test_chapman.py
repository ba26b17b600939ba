"""W. A. J. Chapman, Workshop Technology, part 1, 5th edition, 1972: heat colours, as quoted elsewhere."""

import pytest

from calculators.formulas.heat_colour import chapman_name, stirling_name

BANDS = [
    ("black red", 426, 592),
    ("very dark red", 594, 703),
    ("dark red", 705, 814),
    ("cherry red", 815, 870),
    ("light cherry", 871, 980),
    ("orange", 982, 1092),
    ("yellow", 1093, 1258),
    ("yellow white", 1259, 1314),
    ("white", 1315, 1600),
]


@pytest.mark.parametrize(("name", "first", "last"), BANDS)
def test_band(name, first, last):
    assert {chapman_name(first), chapman_name((first + last) / 2), chapman_name(last)} == {name}


SAMPLES = [
    (650, "very dark red"),
    (760, "dark red"),
    (840, "cherry red"),
    (1040, "orange"),
    (1150, "yellow"),
    (1280, "yellow white"),
    (1330, "white"),
]


@pytest.mark.parametrize(("temperature", "name"), SAMPLES)
def test_sample(temperature, name):
    assert chapman_name(temperature) == name


def test_stirling_calls_the_same_heat_otherwise():
    """Stirling Co., A Book of Steam for Engineers, 1905: 1200 °C is clear orange."""
    assert (stirling_name(1200), chapman_name(1200)) == ("clear orange", "yellow")
