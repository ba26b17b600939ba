"""Published stock for eyes, links, points, tyres and other bars; the work stands at each case.

Ilgen, Forge Work, 1912. Shop Practice, volume 2, part Forging. Freeman, a smiths' mailing list, 28 March
2002. Close, Controlled Hand Forging. Hasluck (ed.), Cassell's Cyclopaedia of Mechanics.
"""

from math import pi

import pytest

from calculators.formulas.chain_link import ChainLink
from calculators.formulas.eye_blank import EyeBlank
from calculators.formulas.helix_length import HelixLength
from calculators.formulas.hoop_blank import HoopBlank
from calculators.formulas.substitute_stock import SubstituteStock
from calculators.formulas.taper_stock import TaperStock
from calculators.formulas.weld_allowance import WeldAllowance
from calculators.sections import Section

INCH = 25.4
SHOP = 0.03 * INCH  # what a rule in sixty-fourths is rounded to


def test_chain_link_of_ilgen():
    # Article 80: 6 in of 3/8 in round for a link 2 in by 3/4 in inside; to 0.1 in
    link = ChainLink(length=2 * INCH, width=0.75 * INCH, thickness=0.375 * INCH)
    assert link.answer().value == pytest.approx(6 * INCH, abs=0.1 * INCH)


def test_gate_hook_eye_of_shop_practice():
    # 1/4 in round, 1/2 in inside: 2 3/8 in
    eye = EyeBlank(inside_diameter=0.5 * INCH, thickness=0.25 * INCH)
    assert eye.answer().value == pytest.approx(2.375 * INCH, abs=SHOP)


def test_draw_spike_eye_of_ilgen():
    # Article 69: 3 1/4 in of 1/4 in round for an eye of 3/4 in; to 0.05 in of the eye
    eye = EyeBlank(inside_diameter=0.75 * INCH, thickness=0.25 * INCH)
    assert eye.answer().value == pytest.approx(3.25 * INCH, abs=pi * 0.05 * INCH)


def test_welded_eye_of_ilgen_adds_a_diameter_and_one_between_bends_lacks_one():
    # Article 109, forms A and B
    plain = EyeBlank(inside_diameter=40, thickness=12).answer()
    welded = EyeBlank(inside_diameter=40, thickness=12, closed=1.0).answer()
    assert welded.value - plain.value == pytest.approx(12)
    assert plain["mark between two bends"].value == pytest.approx(pi * 52 - 12)


def test_point_of_controlled_hand_forging_takes_a_third():
    # A 3 in square point on 1/2 in bar takes 1 in
    bar = Section.square(0.5 * INCH)
    point = TaperStock(stock=bar, length=3 * INCH, start=bar, end=Section.point())
    assert point.answer().value == pytest.approx(1 * INCH)


def test_chisel_edge_of_freeman_takes_half():
    # 6 in of 1 in square becomes a wedge 12 in long
    bar = Section.square(INCH)
    wedge = TaperStock(stock=bar, length=12 * INCH, start=bar, end=Section.edge(INCH))
    assert wedge.answer().value == pytest.approx(6 * INCH)


def test_half_inch_round_for_three_eighths_square():
    # A smith's example: 10 in becomes 7 1/8 in, rounded to an eighth
    square, bar = Section.square(0.375 * INCH), Section.round(0.5 * INCH)
    other = SubstituteStock(section=square, length=10 * INCH, instead=bar)
    assert other.answer().value == pytest.approx(7.125 * INCH, abs=0.05 * INCH)


def test_square_to_round_of_the_same_size_of_freeman():
    # 12 in of 1/2 in square is 15 in of 1/2 in round; 4/π rounded to 1 1/4
    square, bar = Section.square(12.7), Section.round(12.7)
    other = SubstituteStock(section=square, length=12 * INCH, instead=bar)
    assert other.answer().value == pytest.approx(15 * INCH, rel=0.02)


def test_tyre_goes_by_its_middle_line():
    # A carriage maker's tyre: the way round and 3 1/2 thicknesses, 3.75 with heavy upsetting; geometry takes
    # π, and Hasluck has 5/8 in go in upsetting and welding.
    around, thick = 1000.0, 0.5 * INCH
    tyre = HoopBlank(around=around, thickness=thick, smaller=0.0, allowance=0.625 * INCH).answer()
    over = (tyre.value - pi * around) / thick
    assert 3.5 < over < 4.5


def test_helix_by_quadrature():
    # 5 turns at a pitch of 12 round a middle line of 40 mm, integrated along the curve: 631.1768 mm
    coil = HelixLength(inside_diameter=32, thickness=8, turns=5, pitch=12)
    assert coil.answer().value == pytest.approx(631.1768183667507, rel=1e-9)


def test_taught_weld_allowances_stand_beside_the_scale():
    # Googerty, 1911, page 69: about 3/8 in for 1 in stock, a rule of thumb good to a half
    answer = WeldAllowance(section=Section.square(INCH), length=4 * INCH).answer()
    assert answer["by Googerty's 3/8 of the thickness"].value == pytest.approx(0.375 * INCH)
    assert answer["high"].value == pytest.approx(0.375 * INCH, rel=0.5)
