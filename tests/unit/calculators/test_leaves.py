"""Leaves: the volume is the integral of the area, and a part of a leaf is one again."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.leaves import (
    bulge_for,
    leaf_fraction_of_volume,
    leaf_volume,
    leaf_volume_to,
    mean_widening,
    round_circle,
    widening,
    widest_at,
)
from calculators.sections import Section, SectionError
from calculators.wording import METRIC

THIN = Section.upright(2.5)
widths, thicknesses, bulges = st.floats(0.1, 80), st.floats(0.5, 20), st.floats(0, 80)
shares = st.one_of(st.just(0.0), st.floats(1e-9, 1))
circles = st.tuples(st.floats(0, 0.9), st.floats(0.05, 1)).map(
    lambda one: (one[0], max(one[0] + 0.05, one[1]))
)
outlines = st.one_of(st.none(), circles)
flats = st.builds(Section.flat, widths, thicknesses)
shapes = st.one_of(
    flats,
    st.builds(Section.upright, thicknesses),
    st.builds(Section.octagon, widths),
    st.builds(Section.hexagon, widths),
    st.builds(Section.half_round, widths),
    st.builds(Section.round, widths),
)


def area(start, end, bulge, x, circle=None):
    return start.blend(end, x).widened(widening(bulge, x, circle)).area


@pytest.mark.parametrize(
    ("start", "end", "bulge", "expected"),
    [
        (THIN, THIN, 22, 2 / 3 * 22 * 2.5 * 60),  # two parabolic arcs
        (Section.upright(4), Section.upright(2), 22, 2 / 3 * 22 * 3 * 60),  # its thickness falls evenly
        (Section.flat(6, 3), Section.flat(6, 3), 12, (6 + 2 / 3 * 12) * 3 * 60),
        (Section.flat(20, 4), Section.flat(10, 4), 0, 15 * 4 * 60),
    ],
    ids=str,
)
def test_volume_in_closed_form(start, end, bulge, expected):
    assert leaf_volume(start, end, 60, bulge) == pytest.approx(expected, rel=1e-14)


@given(shapes, shapes, bulges, shares, outlines)
def test_volume_to_a_fraction_is_the_integral_of_the_area(start, end, bulge, x, circle):
    by_quadrature, _ = quad(lambda u: area(start, end, bulge, u, circle), 0, x, limit=200)
    reckoned = leaf_volume_to(start, end, 1.0, bulge, x, circle)
    assert reckoned == pytest.approx(by_quadrature, rel=1e-6, abs=1e-6)


@given(shapes, shapes, bulges, shares, outlines)
def test_a_share_of_the_volume_is_found_again(start, end, bulge, share, circle):
    whole = leaf_volume(start, end, 1.0, bulge, circle)
    if whole < 1e-3:
        return
    x = leaf_fraction_of_volume(start, end, bulge, share, circle)
    assert 0 <= x <= 1
    assert leaf_volume_to(start, end, 1.0, bulge, x, circle) / whole == pytest.approx(share, abs=1e-9)


def test_a_whole_circle_holds_a_disc():
    assert leaf_volume(THIN, THIN, 40, 40, (0, 1)) == pytest.approx(pi / 4 * 40**2 * 2.5, rel=1e-14)
    assert mean_widening(40, (0, 1)) == pytest.approx(40 * pi / 4)
    assert mean_widening(30) == pytest.approx(20)


@given(shares)
def test_the_outline_of_a_whole_circle_is_round(x):
    assert widening(40, x, (0, 1)) == pytest.approx(2 * sqrt(20**2 - (40 * x - 20) ** 2), abs=1e-5)


def test_a_circle_is_gone_round_evenly():
    assert [round_circle((0, 1), share) for share in (0, 1 / 3, 1 / 2, 1)] == pytest.approx([0, 0.25, 0.5, 1])
    assert round_circle((0, 0.5), 2 / 3) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("circle", "expected"), [((0, 1), 0.5), ((0, 0.8), 0.625), ((0.6, 1), 0), ((0, 0.4), 1)]
)
def test_a_disc_is_widest_across_its_middle(circle, expected):
    assert widest_at(THIN, THIN, 40, circle) == pytest.approx(expected)


@pytest.mark.parametrize("share", [-0.01, 1.01])
def test_a_share_beyond_the_whole_is_refused(share):
    with pytest.raises(ValueError, match="between 0 and 1"):
        leaf_fraction_of_volume(THIN, THIN, 22, share)


@given(widths, widths, bulges)
def test_the_bulge_for_a_widest_place_makes_it_that_wide(first, last, more):
    widest = max(first, last) + more
    bulge = bulge_for(first, last, widest)
    start, end = Section.flat(first, 3), Section.flat(last, 3)
    x = widest_at(start, end, bulge)
    assert start.blend(end, x).widened(4 * bulge * x * (1 - x)).width == pytest.approx(widest)


def test_an_end_wider_than_the_widest_place_is_refused():
    with pytest.raises(ValueError, match="narrower than an end, 9 mm"):
        bulge_for(4, 9, 8)


def test_without_a_bulge_the_wider_end_is_the_widest_place():
    assert widest_at(Section.square(8), Section.square(4), 0) == 0
    assert widest_at(Section.square(4), Section.square(8), 0) == 1


def test_widening_adds_thickness_times_width():
    assert Section.round(20).widened(6).area == pytest.approx(Section.round(20).area + 6 * 20)
    assert Section.square(10).widened(0) == Section.square(10)
    with pytest.raises(SectionError, match="0 mm or more"):
        Section.square(10).widened(-1)


def test_an_upright_edge_has_thickness_and_no_width():
    tip = Section.upright(2.5)
    assert (tip.width, tip.thickness, tip.area) == (0, 2.5, 0)
    assert METRIC.section_short(tip).split() == ["edge", "2.5"]
    assert Section.from_json(tip.to_json()) == tip
    with pytest.raises(SectionError):
        Section.upright(0)
