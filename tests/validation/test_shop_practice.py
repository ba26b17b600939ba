"""Shop Practice, volumes 1 and 2, part Forging: a school's text of about 1906, author not verified."""

from math import pi

import pytest

from calculators.formulas.bar_mass import BarMass
from calculators.formulas.head_stock import HeadStock, rough_across_flats, rough_height
from calculators.formulas.ring_blank import blank_length
from calculators.formulas.taper_length import stock_from_length
from calculators.materials import MATERIALS
from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from tests.unit.engine.forging import forged

INCH = 25.4
POUND = 0.45359237
FOOT = 304.8
CUBIC_INCH = INCH**3
WROUGHT = 480 * POUND / FOOT**3 * 1e9  # kg/m³, from 480 lb/ft³


def test_weight_of_a_cubic_inch_of_steel():
    """Volume 2, Weight of forging: 0.2835 lb, 490 lb to the cubic foot."""
    assert MATERIALS["mild_steel"].mass(CUBIC_INCH) / POUND == pytest.approx(0.2835, abs=0.0002)


def test_weight_of_a_cubic_inch_of_wrought_iron():
    """Volume 2: 0.2779 lb, which is 480/1728 rounded up; ours is 7700 kg/m³, a rounder number."""
    assert MATERIALS["wrought_iron"].mass(CUBIC_INCH) / POUND == pytest.approx(480 / 1728, rel=0.002)


@pytest.mark.parametrize(("width", "printed"), [(2, 13.33), (4, 26.66)])
def test_weight_of_flat_wrought_iron(width, printed):
    """Volume 2, table for flat bar 2 in thick: 480/144 × area."""
    area = Section.flat(width * INCH, 2 * INCH).area
    pounds = BarMass(area=area, length=FOOT, density=WROUGHT).answer().value / POUND
    assert pounds == pytest.approx(printed, abs=0.02)


def test_gate_hook_eye():
    """Volume 2, figure 62: 1/4 in round, 1/2 in bore (inferred), 2-3/8 in."""
    assert blank_length(0.5 * INCH, 0.25 * INCH) == pytest.approx(2.375 * INCH, abs=0.03 * INCH)


def test_square_bolt_head():
    """Volume 1, bolts: 3/4 in bolt, head 1-1/4 in square, 5/8 in deep; 2.22 in of stock, its area as 0.44."""
    head = Section.square(1.25 * INCH)
    stock = stock_from_length(Section.round(0.75 * INCH), 0.625 * INCH, head, head)
    assert stock / INCH == pytest.approx(1.25**2 * 0.625 / (pi / 4 * 0.75**2))
    assert stock / INCH == pytest.approx(2.22, abs=0.03)


def test_square_bolt_head_by_its_proportions():
    """Volume 1: 1½ diameters and 1/8 in across, half of that deep, 0.9766 in³; laid off as 2-1/4 in."""
    across = rough_across_flats(0.75 * INCH)
    height = rough_height(across)
    assert (across / INCH, height / INCH) == pytest.approx((1.25, 0.625))
    stock = HeadStock(head=Section.square(across), height=height, shank=Section.round(0.75 * INCH)).answer()
    assert across**2 * height / CUBIC_INCH == pytest.approx(0.9766, abs=0.0001)
    assert stock.value / INCH == pytest.approx(2.22, abs=0.03)
    assert stock.value / INCH < 2.25


def test_forged_bolt_head():
    """The same head forged: a 6 in bolt takes 6 in and 2.21 in of bar."""
    piece = forged(bar(Section.round(0.75 * INCH), 8.2105 * INCH), "head", on="bar")
    assert piece.root.mark("shoulder").at / INCH == pytest.approx(6, abs=0.001)
    assert piece.root.length / INCH == pytest.approx(6.625, abs=0.001)


def test_head_of_a_two_inch_bolt():
    """Volume 2, Bolts: 3-1/8 in across (printed 3-1/3); its thickness there is that of the shank."""
    assert rough_across_flats(2 * INCH) / INCH == pytest.approx(3.125)


def test_eye_bent_square_first():
    """Volume 2, Ring and eye bending, figures 58 and 59: mean diameter 2 in, 2 × 3-1/7 = 6-2/7 in.

    It is bent to a right angle so far from the end; "practically 6-3/8" is laid off.
    """
    piece = forged(
        bar(Section.round(0.5 * INCH), 20 * INCH),
        "loop",
        on="bar",
        inside_diameter=1.5 * INCH,
        style="centred",
    )
    neck = piece.root.segments[1]
    assert neck.path.kind == "corner"
    assert (piece.root.segments[-1].length) / INCH == pytest.approx(44 / 7, abs=0.005)
