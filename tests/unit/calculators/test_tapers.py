"""Taper volumes: exact, rising, and turned round again."""

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.spatial import ConvexHull

from calculators.sections import (
    Section,
    taper_fraction_of_volume,
    taper_length,
    taper_volume,
    taper_volume_to,
)
from tests.unit.calculators.sizes import ends, fractions, named

BAR = Section.square(12)
POINT = Section.point()


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        (BAR, BAR, 100 * 144),
        (BAR, POINT, 100 * 144 / 3),
        (BAR, Section.edge(12), 100 * 144 / 2),
        (BAR, Section.square(6), 100 * (144 + 72 + 36) / 3),
        (Section.flat(30, 8), Section.flat(20, 4), 100 * (240 + (30 * 4 + 20 * 8) / 2 + 80) / 3),
        (Section.square(20), Section.round(14), 100 * (400 + 20 * 14 + 3.141592653589793 * 49) / 3),
    ],
    ids=str,
)
def test_volume_in_closed_form(start, end, expected):
    assert taper_volume(start, end, 100) == pytest.approx(expected, rel=1e-14)


@given(ends, ends, st.floats(0.01, 1))
def test_volume_to_a_fraction_is_the_integral_of_the_area(start, end, x):
    by_quadrature, _ = quad(lambda u: start.blend(end, u).area, 0, x)
    assert taper_volume_to(start, end, 100, x) == pytest.approx(100 * by_quadrature, rel=1e-8, abs=1e-6)


@settings(max_examples=40)
@given(named, named)
def test_volume_is_that_of_the_hull_of_the_two_ends(start, end):
    assume(start.bore == end.bore == 0)
    corners = [(0, *corner) for corner in start.outline(32)] + [(100, *corner) for corner in end.outline(32)]
    assert taper_volume(start, end, 100) == pytest.approx(ConvexHull(corners).volume, rel=2e-3)


@given(ends, ends)
def test_whole_of_the_taper_is_the_taper(start, end):
    assert taper_volume_to(start, end, 50, 1) == pytest.approx(taper_volume(start, end, 50))
    assert taper_volume_to(start, end, 50, 0) == 0


@given(ends, ends, fractions, fractions)
def test_volume_never_falls_along_the_length(start, end, x, y):
    low, high = sorted((x, y))
    slack = 1e-12 * taper_volume(start, end, 100)
    assert taper_volume_to(start, end, 100, low) <= taper_volume_to(start, end, 100, high) + slack


@given(ends, ends, fractions)
@example(BAR, POINT, 1 - 1e-12)
@example(POINT, BAR, 1e-300)
@example(Section.edge(30), POINT, 0.5)
def test_fraction_of_volume_gives_that_share(start, end, share):
    x = taper_fraction_of_volume(start, end, share)
    assert 0 <= x <= 1
    total = taper_volume(start, end, 1)
    assume(total > 0)
    assert taper_volume_to(start, end, 1, x) == pytest.approx(share * total, rel=1e-12, abs=1e-12 * total)


@given(named, named, st.floats(0.001, 0.999))
def test_fraction_of_volume_turns_the_volume_round(start, end, x):
    share = taper_volume_to(start, end, 1, x) / taper_volume(start, end, 1)
    assume(0 <= share <= 1)
    # A thin end holds little: there the share itself is what limits the figures.
    slope = start.blend(end, x).area / taper_volume(start, end, 1)
    assert taper_fraction_of_volume(start, end, share) == pytest.approx(x, abs=1e-12 + 1e-14 / slope)


@given(ends, ends, fractions, fractions)
def test_fraction_of_volume_never_falls(start, end, share, other):
    low, high = sorted((share, other))
    assert taper_fraction_of_volume(start, end, low) <= taper_fraction_of_volume(start, end, high) + 1e-15


@pytest.mark.parametrize("share", [0.001, 0.25, 0.5, 0.75, 0.999, 1 - 1e-9])
def test_fraction_of_a_point_in_closed_form(share):
    assert taper_fraction_of_volume(BAR, POINT, share) == pytest.approx(1 - (1 - share) ** (1 / 3), abs=1e-13)
    assert taper_fraction_of_volume(POINT, BAR, share) == pytest.approx(share ** (1 / 3), abs=1e-13)


def test_fraction_of_even_bar_is_the_share_itself():
    assert taper_fraction_of_volume(BAR, BAR, 0.3) == 0.3


def test_mark_at_the_middle_of_the_metal_is_not_half_way():
    """□12 to □4 over 83.1 mm: the middle of its metal is 24.5 mm from the thick end."""
    length = taper_length(BAR, Section.square(4), 40 * 144)
    x = taper_fraction_of_volume(BAR, Section.square(4), 0.5)
    assert (length, x * length) == (pytest.approx(83.1, abs=0.05), pytest.approx(24.5, abs=0.05))


@pytest.mark.parametrize("share", [-0.001, 1.001, float("nan")])
def test_share_outside_the_whole_is_refused(share):
    with pytest.raises(ValueError, match="between 0 and 1"):
        taper_fraction_of_volume(BAR, POINT, share)


def test_taper_between_two_points_has_no_length():
    with pytest.raises(ValueError, match="both its ends have none"):
        taper_length(POINT, POINT, 100)


@given(ends, ends, st.floats(1, 1e6))
def test_length_holds_its_volume(start, end, volume):
    assume(start.area + end.area + start.mixed_area(end) > 0)
    assert taper_volume(start, end, taper_length(start, end, volume)) == pytest.approx(volume)
