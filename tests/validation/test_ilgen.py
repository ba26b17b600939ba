"""W. L. Ilgen, Forge Work, American Book Co., New York, 1912.

Tables 6 and 7 and the items are of the chapter "Formulas and Tables" (pages 197 to 206), taken there from
Carnegie's Pocket Companion.
"""

from math import pi

import pytest

from calculators.formulas.bar_mass import BarMass
from calculators.formulas.bend_arc import arc_length
from calculators.formulas.collar_length import HALF_ROUND, CollarLength
from calculators.formulas.head_stock import rough_across_flats, rough_height
from calculators.formulas.ring_blank import blank_length, inside_diameter
from calculators.formulas.temper_colour import temper_name
from calculators.formulas.twist_strain import corner_radius
from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.shaping.rings import Ring
from tests.unit.engine.forging import forged

INCH = 25.4
POUND = 0.45359237
FOOT = 304.8
DENSITY = 3.4 * POUND / (INCH**2 * FOOT) * 1e9  # kg/m³: the tables hold 3.4 lb to the foot of one square inch
TABLE = 0.002  # lb/ft, the last figure printed and its rounding
TABLE_ABOVE_10_LB = 0.01
FLAT_TABLE = 0.01


def pounds_a_foot(section):
    return BarMass(area=section.area, length=FOOT, density=DENSITY).answer().value / POUND


SQUARES = [(0.25, 0.212), (0.375, 0.478), (0.5, 0.85), (0.625, 1.328), (1, 3.4), (2, 13.6)]


@pytest.mark.parametrize(("side", "printed"), SQUARES)
def test_weight_of_square_bar(side, printed):
    """Table 7."""
    tolerance = TABLE if printed < 10 else TABLE_ABOVE_10_LB
    assert pounds_a_foot(Section.square(side * INCH)) == pytest.approx(printed, abs=tolerance)


ROUNDS = [(0.25, 0.167), (0.5, 0.667), (0.625, 1.043), (0.75, 1.502), (1, 2.67), (1.5, 6.008), (2, 10.68)]


@pytest.mark.parametrize(("diameter", "printed"), ROUNDS)
def test_weight_of_round_bar(diameter, printed):
    """Table 7."""
    tolerance = TABLE if printed < 10 else TABLE_ABOVE_10_LB
    assert pounds_a_foot(Section.round(diameter * INCH)) == pytest.approx(printed, abs=tolerance)


FLATS = [
    (1, 0.25, 0.85),
    (2, 0.25, 1.7),
    (1.5, 0.375, 1.92),
    (1, 0.5, 1.7),
    (3, 0.5, 5.1),
    (2, 0.75, 5.1),
]


@pytest.mark.parametrize(("width", "thickness", "printed"), FLATS)
def test_weight_of_flat_bar(width, thickness, printed):
    """Table 6."""
    section = Section.flat(width * INCH, thickness * INCH)
    assert pounds_a_foot(section) == pytest.approx(printed, abs=FLAT_TABLE)


def test_length_of_an_arc():
    """Item 2: degrees × diameter × 0.008727."""
    assert arc_length(90, 1, 0) == pytest.approx(90 * 2 * 0.008727, abs=0.0005)


def test_square_with_the_perimeter_of_a_round():
    """Item 2: 0.7854 of the diameter."""
    assert Section.round(1).perimeter / 4 == pytest.approx(0.7854, abs=0.0001)


def test_square_inside_a_round():
    """Item 2: 0.7071 of the diameter."""
    assert 2 * corner_radius(Section.square(0.7071)) == pytest.approx(1, abs=0.0002)


def test_area_of_a_round():
    """Items 3 and 8: 0.7854 d² and 0.07958 C²."""
    section = Section.round(3)
    assert section.area == pytest.approx(0.7854 * 3**2, abs=0.0001)
    assert section.area == pytest.approx(0.07958 * section.perimeter**2, abs=0.001)


def test_ring_on_the_centre_line():
    """Article 111, figure 100: 5 in bore of 2 in stock, "practically 22 in"."""
    assert blank_length(5 * INCH, 2 * INCH) == pytest.approx(pi * 7 * INCH, abs=0.005 * INCH)
    assert blank_length(5 * INCH, 2 * INCH) == pytest.approx(22 * INCH, abs=0.01 * INCH)


def test_ring_of_ten_inches():
    """Article 111's second ring, reckoned with 22/7; the page prints 34-1/7, a slip for 34-4/7."""
    assert blank_length(10 * INCH, 1 * INCH) == pytest.approx(11 * 22 / 7 * INCH, abs=0.02 * INCH)


def test_chain_link():
    """Article 80: 3/8 in round, 2 by 3/4 in inside, cut from 6 in; two half rings and two straights."""
    stock = blank_length(0.75 * INCH, 0.375 * INCH) + 2 * (2 - 0.75) * INCH
    assert stock == pytest.approx(6 * INCH, abs=0.1 * INCH)


def test_chain_link_closed_by_its_weld():
    """Article 80: 6 in of 3/8 in round makes a link 3/4 in wide and 2 in long inside."""
    piece = forged(
        bar(Section.round(0.375 * INCH), 6 * INCH),
        "weld_ring",
        on="bar",
        form="link",
        width=0.75 * INCH,
        zone=0.75 * INCH,
    )
    inside = Ring("easy", 1, 0.75 * INCH).inside(piece.root.length, Section.round(0.375 * INCH))
    assert inside == pytest.approx(2 * INCH, abs=0.05 * INCH)


def test_wrapped_collar():
    """Article 149: the perimeter of the bundle and 1/8 in, for 3/8 in half-oval round 1/2 by 1/4 in.

    That is less than closes round it: the ends are drawn to meet.
    """
    printed = Section.flat(0.5, 0.25).perimeter + 1 / 8
    assert printed == pytest.approx(1.625)
    closing = CollarLength(width=0.5, height=0.25, thickness=0.125, middle=HALF_ROUND).answer().value
    assert printed < closing < printed + 2 * 0.125


def test_head_of_a_half_inch_bolt():
    """Item 4: 7/8 in across flats, half of that thick."""
    across = rough_across_flats(0.5 * INCH)
    assert (across / INCH, rough_height(across) / INCH) == pytest.approx((0.875, 0.4375))


def test_eye_of_a_draw_spike():
    """Article 69: 3-1/4 in of 1/4 in round for an eye of 3/4 in; by its length it is 0.784."""
    inside = inside_diameter(3.25 * INCH, 0.25 * INCH)
    assert inside / INCH == pytest.approx(0.75, abs=0.05)
    piece = forged(bar(Section.round(0.25 * INCH), 8 * INCH), "loop", on="bar", inside_diameter=inside)
    assert piece.worked[0].length / INCH == pytest.approx(3.25)


def test_bow_of_a_staple():
    """Article 68: 1/4 in round, 3/4 in inside, 3 in of middle; 0.715 in stays straight a side (derived)."""
    bow = arc_length(180, 0.375 * INCH, 0.25 * INCH)
    assert (3 * INCH - bow) / 2 / INCH == pytest.approx(0.715, abs=0.001)


TEMPER_COLOURS = [  # °F, chapter 4
    (430, "very pale yellow"),
    (460, "straw yellow"),
    (480, "dark straw"),
    (500, "bronze"),
    (530, "dark purple"),
    (540, "dark purple"),
    (550, "dark blue"),
    (570, "very dark blue"),
]


@pytest.mark.parametrize(("fahrenheit", "colour"), TEMPER_COLOURS)
def test_temper_colour(fahrenheit, colour):
    """Printed on the scale of the shop thermometer."""
    assert temper_name((fahrenheit - 32) / 1.8) == colour


def test_temper_colours_beyond_the_blues():
    """A stockholder's chart in steps of 10 °C: light blue 310, grey blue 320, grey green 330."""
    assert [temper_name(at) for at in (200, 310, 320, 330, 400)] == [
        "no colour yet",
        "light blue",
        "grey blue",
        "grey green",
        "grey",
    ]
