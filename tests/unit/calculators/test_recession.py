"""What scale leaves of a section."""

from math import inf, nan, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon

from calculators.sections import Section, SectionError
from tests.unit.calculators.sizes import blends, named


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (Section.round(12), Section.round(11.8)),
        (Section.square(12), Section.square(11.8)),
        (Section.flat(30, 8), Section.flat(29.8, 7.8)),
        (Section.hexagon(20), Section.hexagon(19.8)),
        (Section.octagon(20), Section.octagon(19.8)),
        (Section.rounded_flat(30, 8, 2), Section.rounded_flat(29.8, 7.8, 1.9)),
        (Section.rounded_flat(30, 8, 0.05), Section.flat(29.8, 7.8)),
        (Section.chamfered_flat(30, 8, 1), Section.chamfered_flat(29.8, 7.8, 1 - (2 - sqrt(2)) * 0.1)),
        (Section.chamfered_flat(30, 8, 0.05), Section.flat(29.8, 7.8)),
        (Section.triangle(20), Section.triangle(20 - 0.2 * sqrt(3))),
        (Section.tube(30, 3), Section.tube(29.8, 2.9)),
        (Section.point(), Section.point()),
    ],
    ids=str,
)
def test_a_tenth_off_all_round(before, after):
    assert before.receded(0.1).is_close(after)


@given(named, st.floats(0.001, 0.05))
def test_loss_of_area_is_depth_times_perimeter(section, depth):
    assume(depth < 0.02 * section.thickness - section.bore)
    lost = section.area - section.receded(depth).area
    assert lost == pytest.approx(depth * section.perimeter, rel=0.15)


@pytest.mark.parametrize(
    "section",
    [
        Section.flat(30, 8),
        Section.hexagon(20),
        Section.octagon(18),
        Section.triangle(20),
        Section.chamfered_flat(30, 10, 2),
        Section.square(20).blend(Section.octagon(20), 0.3),
    ],
    ids=str,
)
def test_straight_sided_section_is_the_polygon_offset_inward(section):
    offset = Polygon(section.outline()).buffer(-0.3, join_style="mitre")
    assert section.receded(0.3).area == pytest.approx(offset.area, rel=1e-9)


@given(blends, st.floats(0, 500))
def test_nothing_is_left_below_nothing(section, depth):
    left = section.receded(depth)
    assert min(left.g) >= 0
    assert 0 <= left.area <= section.area * (1 + 1e-12)


@given(named)
def test_deep_scale_leaves_no_metal(section):
    assert section.receded(section.width + section.thickness).area == 0


def test_flat_scaled_through_is_an_edge():
    assert Section.flat(30, 8).receded(4).shape == "edge"


def test_tube_scaled_to_its_bore_is_gone():
    assert Section.tube(30, 3).receded(3) == Section.point()


def test_no_depth_changes_nothing():
    section = Section.hexagon(20)
    assert section.receded(0) is section


@pytest.mark.parametrize("depth", [-0.1, nan, inf])
def test_depth_that_cannot_be_is_refused(depth):
    with pytest.raises(SectionError, match="0 mm or more"):
        Section.round(12).receded(depth)
