"""W. H. Dooley, Applied Science for Metal Workers, 1919: temper colours, as quoted elsewhere."""

import pytest

from calculators.formulas.temper_colour import COLOURS, temper_name

APART = 3  # °C by which Dooley and the colour shown may differ and still be one


@pytest.mark.parametrize(("temperature", "name"), [(221, "very pale yellow"), (249, "dark straw")])
def test_colour(temperature, name):
    assert temper_name(temperature) == name
    assert next(at for at, colour in COLOURS if colour == name) == pytest.approx(temperature, abs=APART)


def test_where_the_tables_part():
    """Dooley has dark blue at 299 °C, where Ilgen's very dark blue is; light purple 277 is Ilgen's purple."""
    assert temper_name(299) == "very dark blue"
    assert temper_name(277) == "dark purple"
