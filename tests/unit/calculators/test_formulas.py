"""What each formula does at its edges; the numbers themselves are held in tests/validation."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from calculators.formula import GivenError
from calculators.formulas import (
    archimedes_spiral,
    flattening_spread,
    logarithmic_spiral,
    scale_depth,
    taper_length,
    twist_strain,
    working_time,
)
from calculators.formulas.archimedes_spiral import ArchimedesSpiral
from calculators.formulas.bend_arc import BendArc
from calculators.formulas.corner_stock import CornerStock
from calculators.formulas.draw_out_length import DrawOutLength
from calculators.formulas.flattening_spread import FlatteningSpread, flatten
from calculators.formulas.head_stock import HeadStock, dome_top
from calculators.formulas.logarithmic_spiral import LogarithmicSpiral
from calculators.formulas.offset_length import OffsetLength, largest_angle, ramp_length
from calculators.formulas.punch_slug import PunchSlug
from calculators.formulas.rivet_head import HEADS, RivetHead, head_volume
from calculators.formulas.scale_depth import FIRES, ScaleDepth
from calculators.formulas.slit_length import SlitLength
from calculators.formulas.thermal_expansion import ThermalExpansion, cold_length, elongation, hot_length
from calculators.formulas.twist_strain import TwistStrain
from calculators.formulas.upset_length import UpsetLength, area_after_shortening
from calculators.formulas.working_time import WorkingTime
from calculators.formulas.wrap_length import WrapLength
from calculators.glow import chromaticity, glow_hex
from calculators.roots import rising_root
from calculators.sections import Section

POINT = Section.point()

IMPOSSIBLE = [
    (
        DrawOutLength,
        {"length": 60, "area_before": 144, "area_after": 400},
        "area_after",
        "To make it larger, upset",
    ),
    (UpsetLength, {"length": 60, "area_before": 400, "area_after": 144}, "area_after", "draw out"),
    (ArchimedesSpiral, {"inner": 30, "outer": 30, "turns": 2}, "outer", "must be more than the inner"),
    (LogarithmicSpiral, {"inner": 30, "outer": 20, "turns": 2}, "outer", "must be more than the inner"),
    (FlatteningSpread, {"thickness": 8, "width": 30, "target": 8}, "target", "is not less than 8 mm"),
    (SlitLength, {"hole_length": 20, "hole_width": 18, "bar_width": 25}, "hole_width", "as wide as long"),
    (
        PunchSlug,
        {"hole_area": 80, "hole_width": 25, "bar_width": 25, "thickness": 8},
        "hole_width",
        "leaves nothing",
    ),
    (WorkingTime, {"modulus": 5, "start": 900, "stop": 900}, "stop", "is not below 900 °C"),
    (RivetHead, {"diameter": 8, "hole": 7.9, "grip": 20}, "hole", "does not go into"),
    (OffsetLength, {"height": 5, "angle": 60, "inside_radius": 10, "thickness": 8}, "angle", "at most 34.7°"),
    (CornerStock, {"first_leg": 100, "second_leg": 12, "thickness": 12}, "second_leg", "lies wholly in"),
    (
        HeadStock,
        {"head": Section.round(12), "height": 8, "shank": Section.round(12)},
        "head",
        "no larger than its shank",
    ),
]


@pytest.mark.parametrize(("each", "values", "field", "reason"), IMPOSSIBLE)
def test_what_cannot_be_is_refused_by_the_field(each, values, field, reason):
    with pytest.raises(GivenError) as refusal:
        each(**values).answer()
    assert reason in str(refusal.value)
    assert refusal.value.field == field


WARNED = [
    (BendArc(angle=90, inside_radius=3, thickness=8), "less than the thickness"),
    (UpsetLength(length=45, area_before=100, area_after=196, thickness=10), "three times its thickness"),
    (FlatteningSpread(thickness=20, width=100, target=10, bite=20), "0.2 of the width"),
    (FlatteningSpread(thickness=60, width=30, target=50, bite=15), "laps form"),
    (ScaleDepth(modulus=0.5), "1 to 8 mm"),
    (ScaleDepth(modulus=5, temperature=1300), "known to 1250"),
    (ThermalExpansion(cold=100, temperature=1250), "given to 1200"),
    (TwistStrain(radius=8.5, length=100, turns=2), "likely to tear"),
    (WorkingTime(modulus=5, stop=800), "good between"),
    (WorkingTime(modulus=12), "hotter inside"),
    (HeadStock(head=Section.square(20), height=10, shank=Section.round(10)), "in two goes"),
]


@pytest.mark.parametrize(("each", "words"), WARNED)
def test_warning_is_given_outside_what_the_formula_is_good_for(each, words):
    assert words in " ".join(map(str, each.answer().warnings))


QUIET = [
    BendArc(angle=90, inside_radius=15, thickness=8),
    UpsetLength(length=30, area_before=100, area_after=196, thickness=10),
    FlatteningSpread(thickness=20, width=25, target=10, bite=20),
    ScaleDepth(modulus=5),
    ThermalExpansion(cold=100),
    TwistStrain(radius=8.5, length=120, turns=2),
    WorkingTime(modulus=5),
    HeadStock(head=Section.square(20), height=10, shank=Section.round(12)),
]


@pytest.mark.parametrize("each", QUIET, ids=lambda each: each.id)
def test_no_warning_within_it(each):
    assert each.answer().warnings == ()


def test_loss_shortens_what_is_drawn_out():
    whole, scaled = (
        DrawOutLength(length=60, area_before=400, area_after=144, loss=loss).answer().value
        for loss in (0, 0.02)
    )
    assert scaled == pytest.approx(0.98 * whole)


def test_shortening_makes_its_section():
    area = area_after_shortening(144, 30, 8)
    assert UpsetLength(length=30, area_before=144, area_after=area).answer()[
        "shorter by"
    ].value == pytest.approx(8)


@pytest.mark.parametrize("head", HEADS.values(), ids=HEADS.keys())
def test_head_of_less_metal_is_smaller_all_round(head):
    full = head_volume(7, head.shank)
    across, height = head.sizes(7, full)
    assert (across, height) == pytest.approx((head.across * 7, head.height * 7))
    assert head.sizes(7, full / 8) == pytest.approx((across / 2, height / 2))
    assert head.sizes(7, 0) == (0, 0)


def test_wrap_of_any_core_is_that_of_a_round_of_its_perimeter():
    square, round_ = Section.square(12), Section.round(4 * 12 / pi)
    wraps = (WrapLength(perimeter=one.perimeter, wire=4, turns=8, pitch=4) for one in (square, round_))
    lengths = {wrap.answer().value for wrap in wraps}
    assert len({round(one, 9) for one in lengths}) == 1


def test_tight_bend_has_a_low_estimate():
    answer = BendArc(angle=90, inside_radius=3, thickness=8).answer()
    assert answer["low"].value == pytest.approx(pi / 2 * (3 + 0.45 * 8))


@given(st.floats(0, 200), st.floats(1, 300), st.floats(0.05, 20))
def test_archimedes_scroll_is_the_integral_of_its_arc(inner, wider, turns):
    b = wider / (2 * pi * turns)
    by_quadrature, _ = quad(lambda r: (1 + (r / b) ** 2) ** 0.5, inner, inner + wider)
    assert archimedes_spiral.spiral_length(inner, inner + wider, turns) == pytest.approx(
        by_quadrature, rel=1e-8
    )


@pytest.mark.parametrize("law", [archimedes_spiral, logarithmic_spiral])
@given(inner=st.floats(1, 200), wider=st.floats(0.5, 300), turns=st.floats(0.05, 30))
def test_turns_for_a_length_turn_the_scroll_round(law, inner, wider, turns):
    length = law.spiral_length(inner, inner + wider, turns)
    back = law.turns_for_length(inner, inner + wider, length)
    assert law.spiral_length(inner, inner + wider, back) == pytest.approx(length, rel=1e-12)


@pytest.mark.parametrize("law", [archimedes_spiral, logarithmic_spiral])
def test_scroll_of_equal_radii_is_a_ring(law):
    assert law.spiral_length(30, 30, 1) == pytest.approx(2 * pi * 30)
    assert law.turns_for_length(30, 30, 2 * pi * 30) == pytest.approx(1)
    assert law.spiral_length(30, 30.0001, 1) == pytest.approx(2 * pi * 30.00005, rel=1e-6)


@pytest.mark.parametrize("law", [archimedes_spiral, logarithmic_spiral])
def test_scroll_may_be_named_from_either_end(law):
    assert law.spiral_length(32, 7, 1.75) == law.spiral_length(7, 32, 1.75)
    assert law.turns_for_length(32, 7, 200) == pytest.approx(law.turns_for_length(7, 32, 200))


@pytest.mark.parametrize("law", [archimedes_spiral, logarithmic_spiral])
@pytest.mark.parametrize("length", [25, 20, 0.1])
def test_bar_shorter_than_straight_across_cannot_be_scrolled(law, length):
    with pytest.raises(ValueError, match="straight across is already 25 mm"):
        law.turns_for_length(7, 32, length)


def test_end_of_a_taper_gives_the_wanted_length():
    bar = Section.square(12)
    factor = taper_length.end_scale(bar, 20, bar, bar, 40)
    assert taper_length.length_from_stock(bar, 20, bar, bar.scaled(factor)) == pytest.approx(40)
    wedge = Section.edge(12)
    factor = taper_length.end_scale(bar, 20, bar, wedge, 35)
    assert taper_length.length_from_stock(bar, 20, bar, wedge.scaled(factor)) == pytest.approx(35)


def test_taper_longer_than_its_point_is_refused_with_the_longest():
    bar = Section.square(12)
    with pytest.raises(ValueError, match="a true point is only 60 mm"):
        taper_length.end_scale(bar, 20, bar, bar, 61)


@given(st.floats(4, 60), st.floats(4, 120), st.floats(0.2, 0.99), st.floats(3, 120))
def test_flattening_keeps_the_volume_and_never_narrows(thickness, width, left, bite):
    after = flatten(thickness, width, left * thickness, bite)
    assert after.width * after.thickness * after.elongation == pytest.approx(width * thickness)
    assert after.width >= width
    assert after.elongation >= 1


def test_flattening_beyond_the_polynomial_s_peak_follows_the_same_law():
    """scipy's solve_ivp with the coefficient held at 0.74 above a bite of 10/3 widths."""
    solved = solve_ivp(
        lambda _, w: [
            w[0] * min(0.74, 0.14 + 0.36 * 100 / w[0] - 0.054 * (100 / w[0]) ** 2 if w[0] > 30 else 0.74)
        ],
        (0, 1.5),
        [20],
        rtol=1e-9,
        atol=1e-9,
        max_step=0.01,
    )
    assert flatten(20, 20, 20 / 2.718281828459045**1.5, 100).width == pytest.approx(solved.y[0][-1], rel=1e-5)


def test_wide_bite_makes_width_and_narrow_bite_length():
    wide, narrow = (flatten(20, 25, 7, bite) for bite in (60, 8))
    assert wide.width > narrow.width
    assert wide.elongation < narrow.elongation


def test_single_coefficient_as_read_from_a_wanted_width():
    spread = flattening_spread.coefficient_for_width(16, 16, 6, 26.3)
    assert flattening_spread.flatten_by_coefficient(16, 16, 6, spread).width == pytest.approx(26.3)


def test_single_coefficient_worked_by_hand():
    """□16, 50 mm of it to 6 with a bite of 20: S 0.506, 26.3 × 6, 81.2 long."""
    spread = flattening_spread.spread_coefficient(20, 16)
    after = flattening_spread.flatten_by_coefficient(16, 16, 6, spread)
    assert (round(spread, 3), round(after.width, 1), round(50 * after.elongation, 1)) == (0.506, 26.3, 81.2)


def test_calibration_widens():
    assert flatten(20, 25, 7, 25, factor=1.2).width > flatten(20, 25, 7, 25).width


# What smiths are taught for each fire, mm a heat for bar of 12 to 25 mm; from memory.
TAUGHT = {
    "coke": (0.02, 0.04),
    "coal": (0.03, 0.06),
    "gas": (0.03, 0.06),
    "gas_lean": (0.06, 0.15),
    "induction": (0.01, 0.03),
}


@pytest.mark.parametrize(("fire", "taught"), TAUGHT.items())
def test_fire_loses_what_is_taught_for_it(fire, taught):
    depths = FIRES[fire].depths(Section.square(16).modulus)
    assert taught[0] <= depths.typical <= taught[1]
    assert depths.low == pytest.approx(taught[0], abs=0.01)
    assert depths.high == pytest.approx(taught[1], abs=0.01)


@given(st.floats(0.5, 20), st.floats(700, 1400))
def test_every_fire_s_typical_loss_lies_between_low_and_high(modulus, temperature):
    for fire in FIRES.values():
        depths = fire.depths(modulus, temperature)
        assert 0 < depths.low <= depths.typical <= depths.high


def test_welding_heat_scales_by_the_root_of_the_rate():
    ratio = (scale_depth.rate_constant(1300) / scale_depth.rate_constant(1150)) ** 0.5
    assert scale_depth.depth_per_heat(4, temperature=1300) == pytest.approx(
        ratio * scale_depth.depth_per_heat(4)
    )
    assert scale_depth.heat_ratio(1150) == 1


def test_same_time_in_two_parts_scales_the_same():
    once = scale_depth.metal_depth(1100, 600)
    assert scale_depth.depth_of_history([(200, 1100), (400, 1100)]) == pytest.approx(once)
    assert scale_depth.metal_depth(1100, 0) == 0


@given(st.floats(20, 1300), st.floats(1, 5000))
def test_hot_length_comes_back_cold(temperature, cold):
    assert cold_length(hot_length(cold, temperature), temperature) == pytest.approx(cold)


@pytest.mark.parametrize("temperature", [750, 860])
def test_expansion_joins_at_the_change_of_the_steel(temperature):
    assert elongation(temperature - 1e-6) == pytest.approx(elongation(temperature + 1e-6), abs=3e-5)


def test_twist_of_a_section_that_is_not_square():
    assert twist_strain.corner_radius(Section.flat(40, 30)) == pytest.approx(25)
    assert twist_strain.corner_radius(Section.round(12)) == pytest.approx(6)
    assert twist_strain.polar_radius_squared(Section.round(12)) == pytest.approx(12**2 / 8)
    rounded = twist_strain.polar_radius_squared(Section.rounded_flat(12, 12, 5.9999))
    assert rounded == pytest.approx(12**2 / 8, rel=1e-3)


def test_thin_bar_cools_in_proportion():
    assert working_time.anvil_seconds(2.5) == pytest.approx(working_time.anvil_seconds(5) / 2)


def test_colour_is_held_at_the_ends_of_the_table():
    assert chromaticity(100) == chromaticity(475)
    assert chromaticity(2000) == chromaticity(1500)
    assert glow_hex(1500).startswith("#ff")


LOOKS = [(600, "#3f1618"), (800, "#912419"), (1000, "#dc6125"), (1150, "#f7a143"), (1300, "#fedc77")]


@pytest.mark.parametrize(("temperature", "look"), LOOKS)
def test_colour_of_a_heat(temperature, look):
    assert glow_hex(temperature) == look


def test_root_that_is_not_between_is_refused():
    with pytest.raises(ValueError, match="9 is not reached between 0 and 2"):
        rising_root(lambda x: x**2, 9, 0, 2)
    assert rising_root(lambda x: x**2, 2, 0, 2) == pytest.approx(2**0.5, rel=1e-15)


@given(st.floats(1, 200), st.floats(2, 80))
def test_at_its_largest_angle_an_offset_has_no_ramp(height, radii):
    angle = largest_angle(height, radii)
    if angle < 179:
        assert ramp_length(height, angle, radii) == pytest.approx(0, abs=1e-6)


@given(st.floats(5, 60), st.floats(0.05, 0.5))
def test_a_dome_holds_as_much_as_the_frustum_it_is_told_as(diameter, share):
    height = share * diameter
    foot, top = Section.round(diameter), Section.round(dome_top(diameter, height))
    cap = pi * height * (3 * (diameter / 2) ** 2 + height**2) / 6
    assert height * (foot.area + foot.mixed_area(top) + top.area) / 3 == pytest.approx(cap)


def test_a_corner_takes_as_much_more_than_a_plain_bend_as_it_gathers():
    for fillet in (0, 3, 8):
        answer = CornerStock(first_leg=100, second_leg=80, thickness=12, fillet=fillet).answer()
        bend = BendArc(angle=90, inside_radius=fillet, thickness=12).answer().value
        plain = 100 + 80 - 2 * (fillet + 12) + bend
        assert answer.value - plain == pytest.approx(answer["gathered"].value)
