"""Rules and worked sizes from the trade.

C. Knight, The Mechanician (Construction Tools), plunger joints. B. Freeman, theforge mailing list, 28 March
2002,
"Guesstimating". The Blacksmith's Solution, 19 June 2012. ABANA, Controlled Hand Forging (The Hammer's Blow),
lessons 1, 3 and 11. W. L. Ilgen, Forge Work, 1912, article 76. Forging Industry Association, upset forging
design rules. L. Sims, The Backyard Blacksmith, page 101; Rural Industries Bureau, The Blacksmith's Craft;
F. Whitaker, The Blacksmith's Cookbook: collars, each as a smith quotes it. JLRivet, "Snap head rivet length
formula". B. Rackers, theforge mailing list, August 2003, carriage tyres.
"""

from math import pi

import pytest

from calculators.formulas.collar_length import CollarLength
from calculators.formulas.draw_out_length import DrawOutLength
from calculators.formulas.punch_slug import slug_volume
from calculators.formulas.ring_blank import blank_length
from calculators.formulas.rivet_head import RivetHead
from calculators.formulas.slit_length import slit_for
from calculators.formulas.taper_length import length_from_stock, stock_from_length
from calculators.formulas.upset_length import UpsetLength
from calculators.materials import MATERIALS
from calculators.sections import Section, taper_volume

INCH = 25.4
EIGHTH = 0.05  # in: the source rounds to 1/8 in
POINT = Section.point()


def drawn(length, before, after):
    return DrawOutLength(length=length, area_before=before.area, area_after=after.area).answer().value


def test_reduced_middle():
    """Knight: 11.2 in of 12.5 in² for 20 in of 7 in²; the page also prints 11-3/16."""
    result = DrawOutLength(length=11.2 * INCH, area_before=12.5, area_after=7).answer()
    assert result.value == pytest.approx(20 * INCH)


def test_wedge_doubles():
    """Freeman: 6 in of 1 in square to a chisel edge, × 2."""
    bar = Section.square(1 * INCH)
    assert length_from_stock(bar, 6 * INCH, bar, Section.edge(1 * INCH)) == pytest.approx(12 * INCH)


def test_round_to_half_its_diameter():
    """Freeman: 1 ft of 1 in round to 1/2 in, (d₀/d₁)² = 4 ft."""
    assert drawn(12, Section.round(INCH), Section.round(INCH / 2)) == pytest.approx(12 * (1 / 0.5) ** 2)


def test_square_bar_in_place_of_round():
    """The Blacksmith's Solution: 10 in of 3/8 in square is 7-1/8 in of 1/2 in round."""
    square, rod = Section.square(0.375 * INCH), Section.round(0.5 * INCH)
    assert stock_from_length(rod, 10, square, square) == pytest.approx(7.125, abs=EIGHTH)
    assert stock_from_length(rod, 10, square, square) == pytest.approx(0.375**2 * 10 / (pi / 4 * 0.5**2))


def test_square_point():
    """Controlled Hand Forging, lesson 1: a 3 in point on 1/2 in square takes 1 in."""
    bar = Section.square(0.5 * INCH)
    assert stock_from_length(bar, 3 * INCH, bar, POINT) == pytest.approx(3 / 3 * INCH)


def test_square_taper_forged_round():
    """Lesson 3: it gets "about 20 %" longer; a full cone of the same thickness is the limit, 4/π."""
    square, cone = Section.square(12.7), Section.round(12.7)
    used = stock_from_length(square, 100, square, POINT)
    growth = length_from_stock(square, used, cone, POINT) / 100
    assert growth == pytest.approx(4 / pi)
    assert 1.20 < growth < 1.28


def test_square_to_flat():
    """Lesson 11: 1/2 in square to 1/4 by 5/8 in is 1.6 in to the inch."""
    assert drawn(1, Section.square(0.5), Section.flat(0.625, 0.25)) == pytest.approx(0.25 / (0.25 * 0.625))


def test_fagot_volume():
    """Ilgen, article 76: 11/16 in square, 3-1/2 in long."""
    section = Section.square(0.6875)
    assert taper_volume(section, section, 3.5) == pytest.approx(0.6875**2 * 3.5)


@pytest.mark.parametrize("thickness", [12, 16, 20])
def test_free_length_for_upsetting(thickness):
    """Forging Industry Association: three diameters, 36, 48 and 60 mm."""
    area = Section.square(thickness).area
    just, over = (
        UpsetLength(length=3 * thickness + more, area_before=area, area_after=2 * area, thickness=thickness)
        for more in (0, 0.1)
    )
    assert just.answer().warnings == ()
    assert "three times its thickness" in str(over.answer().warnings[0])


def test_slit_without_stretch():
    """Geometry: a 20 mm round hole from half its perimeter, 31.42 mm."""
    assert slit_for(pi * 20, stretch=0) == pytest.approx(31.42, abs=0.005)


def test_whole_slug():
    """Geometry: 10 mm through 10 mm of steel is 6.165 g."""
    volume = slug_volume(Section.round(10).area, 10, share=1)
    assert MATERIALS["mild_steel"].mass(volume) * 1000 == pytest.approx(
        7.850 * pi / 4 * 10**2 * 10 / 1000, abs=5e-4
    )


def collar(width, height, thickness, laps=0):
    return CollarLength(width=width, height=height, thickness=thickness, laps=laps).answer()


def test_collar_of_two_half_inch_squares():
    """Sims: (1/2 × 4) + (1/2 × 2) + (1/8 × 2) = 3-1/4 in."""
    answer = collar(1, 0.5, 0.125)
    assert answer["by the trade's rule"].value == pytest.approx(3.25)
    assert answer["by the trade's rule"].value < answer.value < 1.05 * 3.25


def test_butted_collar_is_the_perimeter_and_two_thicknesses():
    """The Blacksmith's Craft; closing on sharp corners takes π thicknesses, so it is hammered shut."""
    answer = collar(24, 12, 4)
    assert answer["by the trade's rule"].value == pytest.approx(72 + 2 * 4)
    assert answer.value - answer["by the trade's rule"].value == pytest.approx((pi - 2) * 4)


def test_lapped_collar_is_the_perimeter_and_two_and_a_half_thicknesses():
    """Whitaker, with both ends drawn thin; ends left thick need 1½ thicknesses more than a butt."""
    assert collar(50, 6, 5, laps=1.5)["by the trade's rule"].value == pytest.approx(112 + 2.5 * 5)


def test_rivet_of_one_and_a_half_diameters():
    """JLRivet: 1/4 in of parts and a 3/8 in rivet, 0.8125 in; that fills a hole 12 % larger besides."""
    answer = RivetHead(diameter=0.375, hole=0.375, grip=0.25).answer()
    assert 0.25 + answer["by the rule of 1½ diameters"].value == pytest.approx(0.8125)
    roomy = RivetHead(diameter=0.375, hole=1.12 * 0.375, grip=0.25).answer()
    assert answer["whole shank"].value < roomy["whole shank"].value < 0.8125


@pytest.mark.parametrize(("rule", "upset"), [(3.5, 0.36), (3.75, 0.61)])
def test_tyre_over_the_wheels_circumference(rule, upset):
    """Rackers: circumference and 3-1/2 thicknesses, 3-3/4 for a heavy upset; π of them are geometry."""
    wheel, thickness = 1000.0, 12.0
    stock = pi * wheel + rule * thickness
    assert stock - blank_length(wheel, thickness) == pytest.approx(upset * thickness, abs=0.01 * thickness)
