"""Tables of hot-rolled steel bar, density 7.85 g/cm³.

Round and square: the Chinese standard sizes of the GB/T 702 series, as a dealer's table has them (the
standard's number is not on the page). Hexagon and octagon: GB/T 705-1989, table 1.
"""

import pytest

from calculators.formulas.bar_mass import BarMass
from calculators.materials import MATERIALS
from calculators.sections import Section

STEEL = MATERIALS["mild_steel"].density
CUT_SHORT = 0.004  # the octagon table reckons with 0.828 and cuts figures off


def kilograms_a_metre(section):
    return BarMass(area=section.area, length=1000, density=STEEL).answer().value


def one_in_the_last_figure(printed):
    return 10.0 ** -len(str(printed).partition(".")[2])


ROUNDS = [(6, 0.222), (8, 0.395), (16, 1.58), (25, 3.85), (30, 5.55), (50, 15.4)]


@pytest.mark.parametrize(("diameter", "printed"), ROUNDS)
def test_round_bar(diameter, printed):
    half = one_in_the_last_figure(printed) / 2
    assert kilograms_a_metre(Section.round(diameter)) == pytest.approx(printed, abs=1.05 * half)


SQUARES = [(6, 0.283), (8, 0.502), (10, 0.785), (20, 3.14), (30, 7.06), (40, 12.6), (50, 19.6)]


@pytest.mark.parametrize(("side", "printed"), SQUARES)
def test_square_bar(side, printed):
    """The table cuts figures off in places, so one in the last figure."""
    assert kilograms_a_metre(Section.square(side)) == pytest.approx(
        printed, abs=one_in_the_last_figure(printed)
    )


HEXAGONS = [
    (10, 0.866, 0.68),
    (16, 2.217, 1.74),
    (20, 3.464, 2.72),
    (25, 5.413, 4.25),
    (40, 13.86, 10.88),
    (50, 21.65, 17.0),
]


@pytest.mark.parametrize(("across_flats", "square_centimetres", "printed"), HEXAGONS)
def test_hexagon_bar(across_flats, square_centimetres, printed):
    section = Section.hexagon(across_flats)
    area_half = one_in_the_last_figure(square_centimetres) / 2
    mass_half = one_in_the_last_figure(printed) / 2
    assert section.area / 100 == pytest.approx(square_centimetres, abs=1.05 * area_half)
    assert kilograms_a_metre(section) == pytest.approx(printed, abs=1.05 * mass_half)


OCTAGONS = [(16, 2.12, 1.66), (20, 3.312, 2.6), (25, 5.175, 4.06), (30, 7.452, 5.85), (40, 13.25, 10.4)]


@pytest.mark.parametrize(("across_flats", "square_centimetres", "printed"), OCTAGONS)
def test_octagon_bar(across_flats, square_centimetres, printed):
    section = Section.octagon(across_flats)
    assert section.area / 100 == pytest.approx(square_centimetres, rel=CUT_SHORT)
    assert kilograms_a_metre(section) == pytest.approx(printed, rel=CUT_SHORT)


def test_density_behind_european_section_masses():
    """Tata Steel and SCI, Eurocode 3 Blue Book, general note 2.1."""
    assert STEEL == 7850
