"""Outlines of sections against polygons by shapely."""

import pytest
from hypothesis import given, settings
from shapely import MultiPoint, Polygon

from calculators.sections import Section
from tests.unit.calculators.sizes import blends, named

FINE = 2e-4  # of the area: what chords of 64 to the quarter turn leave out


@given(blends)
def test_outline_has_the_area_perimeter_and_size_of_the_section(section):
    polygon = Polygon(section.outline(64))
    solid = section.area + 3.141592653589793 * (section.bore / 2) ** 2
    assert polygon.area == pytest.approx(solid, rel=FINE)
    assert polygon.length == pytest.approx(section.perimeter, rel=FINE)
    left, bottom, right, top = polygon.bounds
    assert right - left == pytest.approx(section.width, rel=FINE)
    assert top - bottom == pytest.approx(section.thickness, rel=FINE)


@given(blends)
def test_outline_is_counter_clockwise_convex_and_about_its_centroid(section):
    polygon = Polygon(section.outline(8))
    assert polygon.exterior.is_ccw
    assert polygon.area == pytest.approx(polygon.convex_hull.area, rel=1e-9)
    assert (polygon.centroid.x, polygon.centroid.y) == pytest.approx((0, 0), abs=1e-6)


@settings(max_examples=30)
@given(named, named)
def test_blend_is_the_minkowski_sum_of_its_ends(start, end):
    corners = [(a + c, b + d) for a, b in start.outline(16) for c, d in end.outline(16)]
    half = start.blend(end, 0.5)
    assert MultiPoint(corners).convex_hull.area / 4 == pytest.approx(
        Polygon(half.outline(16)).area, rel=0.003
    )


def test_base_of_a_triangle_and_flat_of_a_half_round_are_down():
    for section in (Section.triangle(20), Section.half_round(20)):
        lowest = min(z for _, z in section.outline())
        assert sum(1 for _, z in section.outline() if z < lowest + 1e-9) == 2


def test_tube_has_a_bore_run_the_other_way():
    bore = Polygon(Section.tube(30, 3).bore_outline(64))
    assert not bore.exterior.is_ccw
    assert bore.area == pytest.approx(3.141592653589793 * 12**2, rel=FINE)
    assert Section.round(30).bore_outline() == []


def test_point_is_one_corner_and_an_edge_two():
    assert Section.point().outline() == [(0, 0)]
    assert Section.edge(30).outline() == [(-15, 0), (15, 0)]


def test_outline_without_chords_is_refused():
    with pytest.raises(ValueError, match="at least one chord"):
        Section.round(12).outline(0)
