"""Grooves and dishes against polygons and quadrature: shapely, scipy.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

import pytest

from calculators.formulas.dished_blank import DishedBlank
from calculators.formulas.fuller_groove import FullerGroove, groove_area, groove_width
from calculators.sections import Section
from procedures.engine.shaping.grooving import Groove

AREAS = [  # radius, depth, area, width
    (6, 3, 22.110653954845844, 10.392304693465357),
    (4, 4, 25.13274081530132, 8.0),
    (5, 8, 69.2699075239084, 10.0),
    (10, 1.5, 10.7045739357644, 10.535653719080187),
]


@pytest.mark.parametrize(("radius", "depth", "area", "width"), AREAS)
def test_outline_of_a_groove(radius, depth, area, width):
    """Route: shapely, a tool of 20,000 corners laid over the edge of the bar."""
    assert groove_area(radius, depth) == pytest.approx(area, rel=1e-6)
    assert groove_width(radius, depth) == pytest.approx(width, rel=1e-6)


VOLUMES = [  # section, radius, depth, sides, expected, relative tolerance
    (Section.flat(25, 12), 6, 3, "two", 1105.5327287478813, 1e-6),
    (Section.flat(25, 12), 4, 5, "all", 1877.4275877620778, 1e-6),
    (Section.square(20), 6, 3, "all", 1551.262126925838, 1e-6),
    (Section.octagon(16), 5, 2, "one", 92.34934890545065, 1e-6),
    (Section.octagon(16), 5, 2, "all", 369.39739562180273, 1e-6),
    (Section.round(16), 6, 3, "all", 940.5077455205765, 1e-6),  # a solid of revolution
    (Section.round(16), 6, 3, "one", 174.106377961023, 5e-4),
    (Section.half_round(24), 6, 3, "one", 216.9955854361557, 5e-4),
]


@pytest.mark.parametrize(("section", "radius", "depth", "sides", "expected", "tolerance"), VOLUMES, ids=str)
def test_metal_driven_out_of_a_groove(section, radius, depth, sides, expected, tolerance):
    """Route: scipy's quad over shapely sections of the bar."""
    assert Groove(radius, depth, sides, "top").volume(section) == pytest.approx(expected, rel=tolerance)


def test_lengthening_by_hand():
    """Hand calculation: R 6, c 3 from both sides of 12 mm; a quarter going sideways leaves three quarters."""
    grooved = FullerGroove(radius=6, depth=3, thickness=12).answer()
    assert grooved.value == pytest.approx(2 * 22.110654 / 12)
    assert grooved["left"].value == 12 - 2 * 3
    part = FullerGroove(radius=6, depth=3, thickness=12, spread=0.25).answer()
    assert part.value == pytest.approx(0.75 * grooved.value)


def test_grooves_that_meet_are_refused():
    with pytest.raises(ValueError, match="leave nothing"):
        FullerGroove(radius=6, depth=6, thickness=12).answer()


def test_a_sharp_fuller_and_a_thin_neck_are_warned_of():
    said = [str(one) for one in FullerGroove(radius=2, depth=5, thickness=15).answer().warnings]
    assert len(said) == 2
    assert FullerGroove(radius=6, depth=3, thickness=12).answer().warnings == ()


DISHES = [  # blank, depth, thinning, rim, radius
    (90, 12, 0, 86.74099376880615, 84.3750000000007),
    (90, 9, 0, 88.18163074019442, 112.50000000000003),
    (120, 30, 0.1, 111.35528725660042, 66.66666666666666),
]


@pytest.mark.parametrize(("blank", "depth", "thinning", "rim", "radius"), DISHES)
def test_rim_of_a_dish(blank, depth, thinning, rim, radius):
    """Route: scipy's brentq on the area of a cap, itself by quad over rings."""
    answer = DishedBlank(blank=blank, depth=depth, thinning=thinning).answer()
    assert answer.value == pytest.approx(rim, rel=1e-9)
    assert answer["radius of the hollow"].value == pytest.approx(radius, rel=1e-9)


def test_a_dish_deeper_than_half_its_blank_is_refused():
    with pytest.raises(ValueError, match="more than 90 mm"):
        DishedBlank(blank=90, depth=45).answer()


def test_a_deep_dish_is_to_be_raised():
    assert "raise it" in str(DishedBlank(blank=90, depth=25).answer().warnings[0])
