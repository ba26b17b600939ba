"""Leaves: the volume is the integral of the area, and a part of a leaf is one again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.leaves import bulge_for, leaf_fraction_of_volume, leaf_volume, leaf_volume_to, widest_at
from calculators.sections import Section, SectionError
from calculators.wording import METRIC

THIN = Section.upright(2.5)
widths, thicknesses, bulges = st.floats(0.1, 80), st.floats(0.5, 20), st.floats(0, 80)
shares = st.floats(0, 1)
flats = st.builds(Section.flat, widths, thicknesses)
shapes = st.one_of(
    flats,
    st.builds(Section.upright, thicknesses),
    st.builds(Section.octagon, widths),
    st.builds(Section.hexagon, widths),
    st.builds(Section.half_round, widths),
    st.builds(Section.round, widths),
)


def area(start, end, bulge, x):
    return start.blend(end, x).widened(4 * bulge * x * (1 - x)).area


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


@given(shapes, shapes, bulges, shares)
def test_volume_to_a_fraction_is_the_integral_of_the_area(start, end, bulge, x):
    by_quadrature, _ = quad(lambda u: area(start, end, bulge, u), 0, x)
    assert leaf_volume_to(start, end, 1.0, bulge, x) == pytest.approx(by_quadrature, rel=1e-9, abs=1e-9)


@given(shapes, shapes, bulges, shares)
def test_a_share_of_the_volume_is_found_again(start, end, bulge, share):
    if leaf_volume(start, end, 1.0, bulge) < 1e-3:
        return
    x = leaf_fraction_of_volume(start, end, bulge, share)
    whole = leaf_volume(start, end, 1.0, bulge)
    assert 0 <= x <= 1
    assert leaf_volume_to(start, end, 1.0, bulge, x) / whole == pytest.approx(share, abs=1e-12)


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
