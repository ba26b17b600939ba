"""Solids of which the size and form are known by hand. Lengths in mm."""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians

import numpy as np
import pytest

from calculators.sections import Section
from procedures.engine.pieces.branch import Attachment, Branch, Feature
from procedures.engine.pieces.path import Arc, Corner
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.solid.bodies import MOST_FACES, Body, bodies_of

FINE = 0.002  # share of a volume


def only(piece: Piece) -> Body:
    (body,) = bodies_of(piece)
    return body


def of(*segments: Segment, features: tuple[Feature, ...] = ()) -> Piece:
    plain = bar(segments[0].start, 100)
    return replace(plain, branches=(Branch("bar", segments, features=features),))


def size(body: Body) -> list[float]:
    return list(np.ptp(body.points, axis=0))


def test_square_bar_is_a_box_of_twelve_triangles():
    body = only(bar(Section.square(20), 50))
    assert len(body.faces) == 12
    assert size(body) == pytest.approx([50, 20, 20])
    assert body.volume == pytest.approx(20 * 20 * 50, rel=1e-12)


def test_round_bar_is_round_to_a_twentieth_of_a_millimetre():
    body = only(bar(Section.round(20), 50))
    radii = np.linalg.norm(body.points[:, 1:], axis=1)
    assert radii == pytest.approx(np.full(len(radii), 10), abs=0.05)
    assert body.volume == pytest.approx(pi * 100 * 50, rel=1e-9)


def test_taper_from_square_to_round_is_the_hull_of_its_ends():
    """Mixed area of a square of side a with a round of diameter d: a d."""
    body = only(of(Segment(Section.square(20), Section.round(10), 60)))
    assert body.volume == pytest.approx(60 * (400 + 200 + 25 * pi) / 3, rel=FINE)


def test_point_and_chisel_edge_close_by_themselves():
    pyramid = only(of(Segment(Section.square(20), Section.point(), 60)))
    assert pyramid.volume == pytest.approx(20 * 20 * 60 / 3)
    wedge = only(of(Segment(Section.square(20), Section.edge(20), 60)))
    assert wedge.volume == pytest.approx(20 * 20 * 60 / 2)
    assert len(pyramid.faces) == 6
    assert len(wedge.faces) == 8


def test_tube_is_hollow():
    body = only(bar(Section.tube(20, 2), 100))
    assert body.volume == pytest.approx(pi * (100 - 64) * 100, rel=1e-3)
    assert np.linalg.norm(body.points[:, 1:], axis=1).min() == pytest.approx(8, abs=0.05)


def test_bend_lies_on_its_arc_and_rises_by_its_turn():
    body = only(of(Segment(Section.square(10), Section.square(10), pi * 20, Arc(40.0, 90.0))))
    assert body.points[:, 2].max() == pytest.approx(40, abs=0.01)
    assert body.points[:, 0].max() == pytest.approx(45, abs=0.01)
    assert body.volume == pytest.approx(100 * pi * 20, rel=FINE)


@pytest.mark.parametrize("radius", [15.0, 60.0, 600.0])
def test_chords_of_a_bend_lie_within_a_fifth_of_a_millimetre(radius):
    section = Section.square(10)
    body = only(of(Segment(section, section, pi / 2 * radius, Arc(radius, 90.0))))
    ends = body.points[body.faces]
    middles = np.concatenate([(ends[:, one] + ends[:, one - 1]) / 2 for one in range(3)])
    off = np.hypot(middles[:, 0], middles[:, 2] - radius)  # from the axis of the bend
    assert off.max() <= radius + 5 + 1e-6
    outer = [np.hypot(one[:, 0], one[:, 2] - radius) for one in ends]
    along = np.array([[abs(one - (radius + 5)).max() < 1e-6] for one in outer])[:, 0]
    assert off.reshape(3, -1)[:, along].min() >= radius + 5 - 0.2


def test_sharp_corner_is_mitred():
    body = only(of(Segment(Section.square(10), Section.square(10), 100, Corner(50.0, 50.0, 90.0))))
    assert size(body) == pytest.approx([55, 10, 55])
    assert body.volume == pytest.approx(100 * 100)


def test_corner_holds_the_metal_of_its_fillet():
    body = only(of(Segment(Section.square(10), Section.square(10), 21, Corner(10.0, 10.0, 90.0))))
    assert body.volume == pytest.approx(21 * 100, rel=FINE)


def test_basket_has_its_rods_and_their_metal():
    """Six rods of ø6 in a cage: they touch 6 mm from the axis, so lie in a round of 18 at both ends."""
    rods = 6 * pi * 9 * 120  # 120 mm of each between the welds; half a sine 20 high on 111.62
    half = 111.62 / 2
    spindle = [
        Segment(Section.round(18), Section.round(58), half),
        Segment(Section.round(58), Section.round(18), half),
    ]
    hollow = rods - sum(one.volume for one in spindle)
    basket = Feature("basket", "basket", 10 + half, "round", 2 * half, 58, hollow)
    ends = uniform(Section.round(14), 10)
    bodies = bodies_of(of(ends, *spindle, ends, features=(basket,)))
    assert [one.name for one in bodies] == ["bar", "bar: basket"]
    assert bodies[1].volume == pytest.approx(rods, rel=FINE)
    far = np.linalg.norm(bodies[1].points[:, 1:], axis=1)
    assert far.max() == pytest.approx(29, abs=0.2)
    middle = bodies[1].points[abs(bodies[1].points[:, 0] - 10 - half) < 0.1]
    assert len(middle) == 6 * 12  # a ring of each rod


def test_twist_keeps_the_volume_and_turns_the_corners_round():
    body = only(of(replace(uniform(Section.square(10), 100), twist=1.0)))
    assert body.volume == pytest.approx(100 * 100, rel=FINE)
    assert body.points[:, 1].max() == pytest.approx(5 * 2**0.5, abs=0.05)


def test_step_from_narrow_and_thick_to_wide_and_thin_is_one_solid():
    body = only(of(uniform(Section.square(12), 40), uniform(Section.flat(20, 5), 30)))
    assert body.volume == pytest.approx(144 * 40 + 100 * 30)
    assert size(body) == pytest.approx([70, 20, 12])
    inside = (abs(body.points[:, 1]) < 5.9) & (abs(body.points[:, 2]) < 2.4)
    assert not inside.any()  # nothing is left of the two ends where they lie on each other


def test_drilled_hole_goes_right_through():
    hole = Feature("drilled", "H", 50, "round", 10, 10, -pi * 25 * 8)
    body = only(of(uniform(Section.flat(30, 8), 100), features=(hole,)))
    assert body.volume == pytest.approx(30 * 8 * 100 - pi * 25 * 8, rel=1e-4)
    near = np.hypot(body.points[:, 0] - 50, body.points[:, 1]) < 5.1
    assert sorted({round(float(one), 6) for one in body.points[near][:, 2]}) == [-4, 4]


def test_punched_hole_stands_out_by_its_boss():
    hole = Feature("punched", "H", 50, "round", 10, 10, -100.0, bulge=4.0)
    body = only(of(uniform(Section.flat(30, 8), 100), features=(hole,)))
    assert body.volume == pytest.approx(30 * 8 * 100 - 100, rel=FINE)
    assert size(body)[1] == pytest.approx(34, abs=0.1)


def test_branch_that_hangs_on_the_start_is_not_inside_out():
    stem = bar(Section.square(10), 50)
    arm = Branch("arm", (uniform(Section.flat(10, 4), 30),))
    bodies = bodies_of(stem.hung(arm, Attachment("bar", "start")))
    assert [one.name for one in bodies] == ["bar", "arm"]
    assert bodies[1].volume == pytest.approx(10 * 4 * 30)
    assert bodies[1].points[:, 0].min() == pytest.approx(-30)


def test_dish_is_as_deep_as_it_is_sunk_and_keeps_its_metal():
    dish = Feature("dish", "dish", 50, "round", 80, 80, depth=15, side="top")
    body = only(of(uniform(Section.flat(100, 2), 100), features=(dish,)))
    assert body.volume == pytest.approx(100 * 100 * 2, rel=FINE)
    assert body.points[:, 2].min() == pytest.approx(-1 - 15, abs=0.01)
    assert body.points[:, 2].max() == pytest.approx(1, abs=0.01)


def test_fitting_is_a_solid_of_its_own_with_its_metal():
    collar = Feature("collar", "band", 50, "rectangle", 20, 20, 20 * (4 * 12 * 3 + pi * 9), depth=3)
    bodies = bodies_of(of(uniform(Section.square(12), 100), features=(collar,)))
    assert [one.name for one in bodies] == ["bar", "bar: band"]
    assert bodies[1].volume == pytest.approx(collar.volume, rel=1e-4)
    assert size(bodies[1]) == pytest.approx([20, 18, 18], abs=0.01)


def test_ninety_turns_of_twist_stay_within_a_megabyte():
    twisted = replace(uniform(Section.square(6), 3000), twist=90.0)
    assert len(only(of(twisted)).faces) <= MOST_FACES


def test_hot_run_is_marked_to_its_ends():
    (body,) = bodies_of(bar(Section.square(10), 100), (Span("bar", 40, 100),))
    hot = body.points[body.faces[body.hot]][..., 0]
    cold = body.points[body.faces[~body.hot]][..., 0]
    assert (hot.min(), hot.max()) == pytest.approx((40, 100))
    assert (cold.min(), cold.max()) == pytest.approx((0, 40))


def test_same_piece_gives_the_same_solid():
    def made() -> list[bytes]:
        hole = Feature("punched", "H", 50, "round", 10, 10, -100.0, bulge=4.0)
        bent = Segment(Section.flat(30, 8), Section.flat(20, 8), 60 * radians(90), Arc(60.0, 90.0))
        bodies = bodies_of(of(uniform(Section.flat(30, 8), 100), bent, features=(hole,)))
        return [one.points.tobytes() + one.faces.tobytes() for one in bodies]

    assert made() == made()
