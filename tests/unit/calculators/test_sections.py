"""Sections: what they measure, what they are called, and what they refuse."""

import pickle
from math import inf, nan, pi, sqrt

import pytest
from hypothesis import given

from calculators.sections import SHAPES, Section, SectionError
from tests.unit.calculators.sizes import blends, fractions, named, sizes

CLOSED_FORMS = [
    (Section.round(12), pi * 12**2 / 4, pi * 12),
    (Section.square(12), 12**2, 4 * 12),
    (Section.flat(30, 8), 30 * 8, 2 * (30 + 8)),
    (Section.hexagon(20), 2 * sqrt(3) * 10**2, 4 * sqrt(3) * 10),
    (Section.octagon(20), 8 * (sqrt(2) - 1) * 10**2, 16 * (sqrt(2) - 1) * 10),
    (Section.half_round(24), pi * 24**2 / 8, 24 * (1 + pi / 2)),
    (Section.triangle(20), sqrt(3) / 4 * 20**2, 3 * 20),
    (Section.rounded_flat(30, 8, 2), 30 * 8 - (4 - pi) * 2**2, 2 * (30 + 8) - (8 - 2 * pi) * 2),
    (Section.chamfered_flat(12, 12, 2), 12**2 - 2 * 2**2, 4 * (12 - 2 * 2) + 4 * 2 * sqrt(2)),
    (Section.tube(30, 3), pi * 3 * (30 - 3), pi * 30),
    (Section.edge(30), 0, 2 * 30),
    (Section.point(), 0, 0),
]


@pytest.mark.parametrize(("section", "area", "perimeter"), CLOSED_FORMS, ids=str)
def test_area_and_perimeter(section, area, perimeter):
    assert section.area == pytest.approx(area, rel=1e-14)
    assert section.perimeter == pytest.approx(perimeter, rel=1e-14)


@pytest.mark.parametrize(
    ("section", "width", "thickness"),
    [
        (Section.hexagon(20), 20 * 2 / sqrt(3), 20),
        (Section.octagon(20), 20, 20),
        (Section.half_round(20), 20, 10),
        (Section.triangle(20), 20, 10 * sqrt(3)),
        (Section.tube(30, 3), 30, 30),
    ],
    ids=str,
)
def test_width_and_thickness(section, width, thickness):
    assert (section.width, section.thickness) == (pytest.approx(width), pytest.approx(thickness))


def test_modulus_is_area_over_perimeter_and_a_point_has_none():
    assert Section.square(20).modulus == 5
    assert Section.round(20).modulus == pytest.approx(5)
    assert Section.point().modulus == 0


def test_bore_is_the_diameter_of_the_hole():
    assert Section.tube(30, 3).bore == 24
    assert Section.round(30).bore == 0


NAMES = [
    (Section.round(12), "round", {"diameter": 12}),
    (Section.square(12), "square", {"side": 12}),
    (Section.flat(12, 12), "square", {"side": 12}),
    (Section.flat(8, 30), "flat", {"width": 8, "thickness": 30}),
    (Section.hexagon(20), "hexagon", {"across_flats": 20}),
    (Section.octagon(14), "octagon", {"across_flats": 14}),
    (Section.half_round(20), "half_round", {"width": 20}),
    (Section.triangle(20), "triangle", {"side": 20}),
    (Section.rounded_flat(30.1, 8, 1.7), "rounded_flat", {"width": 30.1, "thickness": 8, "radius": 1.7}),
    (Section.rounded_flat(8, 8, 4), "round", {"diameter": 8}),
    (Section.chamfered_flat(30, 8, 1), "chamfered_flat", {"width": 30, "thickness": 8, "chamfer": 1}),
    (Section.tube(30, 3), "tube", {"diameter": 30, "wall": 3}),
    (Section.edge(30), "edge", {"width": 30}),
    (Section.point(), "point", {}),
    (Section.hexagon(20).blend(Section.flat(30, 8), 0.5), "blend", {}),
    (Section.square(12).blend(Section.octagon(12), 1 - 1e-12), "octagon", {"across_flats": 12}),
]


@pytest.mark.parametrize(("section", "shape", "dimensions"), NAMES)
def test_shape_and_dimensions(section, shape, dimensions):
    assert section.shape == shape
    assert section.dimensions == pytest.approx(dimensions)


def test_square_to_round_is_a_rounded_square_whose_radius_grows_evenly():
    half = Section.square(20).blend(Section.round(20), 0.5)
    assert half.shape == "rounded_flat"
    assert half.dimensions == {"width": 20, "thickness": 20, "radius": 5}


def test_square_to_octagon_is_a_chamfered_square():
    half = Section.square(20).blend(Section.octagon(20), 0.5)
    assert half.shape == "chamfered_flat"
    assert half.dimensions["chamfer"] == pytest.approx(20 * (2 - sqrt(2)) / 4)


REFUSED = [
    (Section.round, (0,), "The diameter of a round must be more than 0 mm; it is 0."),
    (Section.round, (-3,), "more than 0 mm; it is -3"),
    (Section.round, (nan,), "must be a finite number"),
    (Section.round, (inf,), "must be a finite number"),
    (Section.round, (1e6,), "100 m is the most"),
    (Section.round, (10**400,), "past all measure"),
    (Section.round, (-(10**400),), "must be more than 0 mm"),
    (Section.round, (1e-9,), "0.000001 mm is the least"),
    (Section.square, ("12",), "The side of a square must be a number of millimetres, not '12'"),
    (Section.square, (None,), "must be a number"),
    (Section.square, (True,), "must be a number"),
    (Section.flat, (30, 0), "The thickness of a flat"),
    (Section.rounded_flat, (30, 8, 4.1), "The corner radius, 4.1 mm, is more than half of 8 mm."),
    (Section.chamfered_flat, (30, 8, 4), "The chamfer, 4 mm, must be less than half of 8 mm."),
    (Section.tube, (30, 15), "The wall, 15 mm, must be less than half the diameter, 30 mm."),
    (Section.hexagon, (-1,), "The size across flats of a hexagon"),
    (Section.edge, (0,), "The width of an edge"),
]


@pytest.mark.parametrize(("make", "values", "reason"), REFUSED)
def test_impossible_section_is_refused_with_the_reason(make, values, reason):
    with pytest.raises(SectionError) as refusal:
        make(*values)
    assert reason in str(refusal.value)


def test_section_is_equal_by_its_sizes_hashable_frozen_and_picklable():
    section = Section.flat(30, 8)
    assert section == Section.flat(30.0, 8.0)
    assert len({section, Section.flat(30, 8), Section.flat(8, 30)}) == 2
    assert pickle.loads(pickle.dumps(section)) == section  # noqa: S301
    with pytest.raises(AttributeError):
        section.g = ()


def test_area_kept_from_before_does_not_make_sections_differ():
    measured, fresh = Section.round(12), Section.round(12)
    assert measured.area > 0
    assert measured == fresh
    assert hash(measured) == hash(fresh)


@given(named, named, fractions)
def test_blend_lies_between_its_ends(start, end, x):
    section = start.blend(end, x)
    assert section.area >= 0
    for what in ("width", "thickness", "perimeter"):
        first, last = getattr(start, what), getattr(end, what)
        assert getattr(section, what) == pytest.approx((1 - x) * first + x * last)


@given(named, named, fractions)
def test_area_of_a_blend_is_quadratic_with_the_mixed_area(start, end, x):
    by_formula = (1 - x) ** 2 * start.area + 2 * x * (1 - x) * start.mixed_area(end) + x**2 * end.area
    assert start.blend(end, x).area == pytest.approx(by_formula, rel=1e-9, abs=1e-9)


@given(named, named)
def test_mixed_area_is_symmetrical_and_with_itself_the_area(start, end):
    assert start.mixed_area(end) == pytest.approx(end.mixed_area(start))
    assert start.mixed_area(start) == pytest.approx(start.area)


@given(named, named)
def test_blend_at_the_ends_is_the_ends_themselves(start, end):
    assert start.blend(end, 0) is start
    assert start.blend(end, 1) == end


@pytest.mark.parametrize("x", [-0.1, 1.1, nan])
def test_blend_outside_its_ends_is_refused(x):
    with pytest.raises(ValueError, match="not between 0 and 1"):
        Section.round(12).blend(Section.round(6), x)


@given(named, sizes)
def test_scaling_keeps_the_shape(section, factor):
    scaled = section.scaled(factor)
    assert scaled.area == pytest.approx(section.area * factor**2)
    assert scaled.shape == section.shape


@pytest.mark.parametrize("factor", [0, -1, nan, inf])
def test_scaling_by_nothing_is_refused(factor):
    with pytest.raises(SectionError, match="factor above 0"):
        Section.round(12).scaled(factor)


def test_resizing_stretches_the_edges_and_keeps_the_corners():
    assert Section.square(12).resized(thickness=6) == Section.flat(12, 6)
    assert Section.flat(30, 8).resized(40, 6) == Section.flat(40, 6)
    assert Section.rounded_flat(30, 8, 2).resized(width=40) == Section.rounded_flat(40, 8, 2)
    assert Section.chamfered_flat(30, 8, 1).resized(thickness=6) == Section.chamfered_flat(30, 6, 1)
    assert Section.flat(30, 8).resized() == Section.flat(30, 8)


@pytest.mark.parametrize(
    "section",
    [Section.round(12), Section.hexagon(12), Section.half_round(12), Section.triangle(12), Section.point()],
)
def test_resizing_what_has_no_edges_of_its_own_is_refused(section):
    with pytest.raises(SectionError, match="change one without the other"):
        section.resized(width=20)


@pytest.mark.parametrize(
    ("width", "reason"), [(3, "no room for the corners"), (0, "more than 0"), (nan, "more than 0")]
)
def test_resizing_to_what_cannot_be_is_refused(width, reason):
    with pytest.raises(SectionError, match=reason):
        Section.rounded_flat(30, 8, 2).resized(width=width)


def test_centroid_is_half_way_up_unless_the_section_is_lopsided():
    assert Section.octagon(12).centroid_share == 0.5
    assert Section.triangle(12).centroid_share == pytest.approx(1 / 3)
    lopsided = Section.half_round(20).blend(Section.flat(20, 10), 0.5)
    assert 0.42 < lopsided.centroid_share < 0.5


@given(blends)
def test_every_blend_has_a_shape_and_can_be_said(section):
    assert section.shape in SHAPES
    assert str(section)
