"""Templates of curves: inside, middle and outside where geometry has them, read off the lines themselves."""

import math
from itertools import pairwise

import pytest

from procedures.full_size.pattern import Arc, Line
from tests.unit.engine.documents import a_step

from .laying import arcs, bent, demo, laid_out, lines, words

HAIR = 0.006  # mm: how far a chord may miss its arc, and the rounding of a section's reach


def away(spots, centre) -> list[float]:
    return [math.dist(one, centre) for one in spots]


def test_bend_has_its_three_radii():
    """Square 12, 90° on 30 inside: the middle line, K 0.5, lies 6 further out, the outside 12."""
    pattern = laid_out(bent(radius=30), side=12).pattern("bend-1")
    middle = next(one for one in arcs(pattern, "centre"))
    assert (middle.radius, middle.end - middle.start) == pytest.approx((36, 90))
    assert middle.centre == pytest.approx((0, 36))
    outline = lines(pattern, "outline")[0]
    assert outline.closed
    inside = [one for one in outline.spots if abs(math.dist(one, middle.centre) - 30) < 0.02]
    outside = [one for one in outline.spots if abs(math.dist(one, middle.centre) - 42) < 0.02]
    assert len(inside) > 20
    assert len(outside) > 20
    assert away(inside, middle.centre) == pytest.approx([30] * len(inside), abs=HAIR)
    assert away(outside, middle.centre) == pytest.approx([42] * len(outside), abs=HAIR)
    assert any(one.startswith("Radius: inside 30 mm, middle 36 mm, outside 42 mm") for one in words(pattern))


def test_chords_of_a_large_bend_miss_it_by_no_more_than_a_hair():
    pattern = laid_out(bent(at=500, radius=400, angle=60), side=12, length=1000).pattern("bend-1")
    spots = lines(pattern, "outline")[0].spots
    halves = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(spots)]
    near = [one for one in away(halves, (0, 406)) if abs(one - 412) < 0.5]
    assert len(near) > 50
    assert min(near) > 412 - HAIR


@pytest.mark.parametrize(
    ("turn", "way"), [("up", "through the thickness"), ("left", "on edge"), ("right", "on edge")]
)
def test_bend_on_edge_has_the_width_between_its_curves(turn, way):
    flat = {"shape": "flat", "width": 30, "thickness": 8}
    pattern = laid_out(bent(radius=60, turn=turn), section=flat).pattern("bend-1")
    depth = 30 if way == "on edge" else 8
    centre = arcs(pattern, "centre")[0].centre
    radii = away(lines(pattern, "outline")[0].spots, centre)
    assert min(radii) == pytest.approx(60, abs=HAIR)
    assert any(abs(one - 60 - depth) < HAIR for one in radii)
    assert way in pattern.lead
    assert centre[1] > 0, "a template curves up, whichever way the bar does"


def test_bends_alike_share_one_template_whichever_way_they_turn():
    keys = [one.key for one in laid_out(bent(80, turn="up"), bent(220, turn="down"), side=10).patterns]
    assert keys.count("bend-1") == 1
    assert "bend-2" not in keys
    other = [one.key for one in laid_out(bent(80), bent(220, angle=45), side=10).patterns]
    assert {"bend-1", "bend-2"} <= set(other)


def test_scroll_is_drawn_along_its_own_spiral():
    """An even spiral r = 10 + 30 θ/(3π) about its centre: every spot of the middle line lies on it."""
    rolled = a_step("scroll", on="bar", end="end", inner=10, outer=40, turns=1.5)
    pattern = laid_out(rolled, side=6, length=400).pattern("scroll-1")
    middle = lines(pattern, "centre")[0].spots
    tip = middle[-1]
    horizontal, _ = [one for one in lines(pattern, "centre") if len(one.spots) == 2][:2]
    centre = ((horizontal.spots[0][0] + horizontal.spots[1][0]) / 2, horizontal.spots[0][1])
    assert math.dist(tip, centre) == pytest.approx(10, abs=0.01)
    assert math.dist((0, 0), centre) == pytest.approx(40, abs=0.01)
    coil = [one for one in middle if one[0] > 0 or one[1] > 1e-6]
    before = math.atan2(0 - centre[1], 0 - centre[0])
    turned = 0.0
    for one in coil:
        angle = math.atan2(one[1] - centre[1], one[0] - centre[0])
        turned += (angle - before) % (2 * math.pi)
        before = angle
        assert math.dist(one, centre) == pytest.approx(40 - 30 * turned / (3 * math.pi), abs=0.02)
    assert turned == pytest.approx(3 * math.pi, abs=0.01)


def test_ring_has_an_inside_circle_and_a_joint():
    pattern = demo("pot_stand", "hoop").pattern("ring-1")
    inner, outer = lines(pattern, "outline")
    centre = arcs(pattern, "centre")[0].centre
    radius = arcs(pattern, "centre")[0].radius
    assert max(away(inner.spots, centre)) == pytest.approx(radius - 4, abs=0.3)
    assert min(away(outer.spots, centre)) == pytest.approx(radius + 4, abs=0.3)
    assert "joint" in words(pattern)


def test_eye_shows_the_circle_it_must_take():
    pattern = demo("gate_strap", "strap").pattern("eye-1")
    inside = [one for one in arcs(pattern, "centre") if one.is_circle and one.dashed]
    assert len(inside) == 1
    assert "inside ø" in pattern.title


def test_piece_before_it_is_bent_has_no_template():
    assert laid_out(bent(), step=0).pattern("bend-1") is None
    assert laid_out(bent(), step=1).pattern("bend-1") is not None


def test_another_part_brought_in_is_left_to_its_own_templates():
    """The hinge's strap hangs on the pintle when it is put together, and is not printed with it again."""
    keys = {one.key for one in demo("door_hinge", "pintle").patterns}
    assert not {one for one in keys if one.startswith(("eye", "leaf"))}


def test_sharp_corner_is_a_point():
    made = a_step("corner", where={"on": "bar", "datum": "start", "offset": 150}, angle=90)
    found = laid_out(made, side=12)
    pattern = found.pattern("corner-1")
    assert "Sharp corner" in " ".join(words(pattern))
    assert not [one for one in pattern.items if isinstance(one, Arc)]
    assert isinstance(lines(pattern, "outline")[0], Line)
