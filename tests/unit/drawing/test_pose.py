"""Where pieces lie in space, against closed forms worked out by hand at each case."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from calculators.sections import Section
from procedures.engine.pieces.branch import Attachment
from procedures.engine.pieces.path import Spiral
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import Segment, uniform

from .pieces import FLAT, SQUARE, arc, of, spiral, with_arms

CLOSE = 1e-9


def near(expected, tolerance=CLOSE):
    return pytest.approx(expected, abs=tolerance)


def end_of(*segments):
    return pose(of(*segments)).by_name["bar"].end


def test_a_straight_bar_ends_its_length_along_x():
    end = end_of(uniform(SQUARE, 300))
    assert end.origin == near((300, 0, 0))
    assert end.ahead == near((1, 0, 0))


def test_a_straight_segment_has_two_stations():
    assert len(pose(of(uniform(SQUARE, 300))).by_name["bar"].segments[0].stations) == 2


@pytest.mark.parametrize(
    ("plane", "turn", "where", "ahead"),
    [
        ("easy", 1, (50, 0, 50), (0, 0, 1)),  # up
        ("easy", -1, (50, 0, -50), (0, 0, -1)),
        ("hard", 1, (50, 50, 0), (0, 1, 0)),  # left
        ("hard", -1, (50, -50, 0), (0, -1, 0)),
    ],
)
def test_a_right_angle_ends_a_radius_on_and_a_radius_aside(plane, turn, where, ahead):
    end = end_of(arc(SQUARE, 50, 90, plane, turn))
    assert end.origin == near(where)
    assert end.ahead == near(ahead)


def test_a_leg_after_a_bend_goes_on_in_its_direction():
    end = end_of(uniform(SQUARE, 100), arc(SQUARE, 20, 60), uniform(SQUARE, 30))
    turn = math.radians(60)
    x = 100 + 20 * math.sin(turn) + 30 * math.cos(turn)
    assert end.origin == near((x, 0, 20 * (1 - math.cos(turn)) + 30 * math.sin(turn)))


def test_a_full_turn_closes():
    end = end_of(arc(SQUARE, 78, 360))
    assert end.origin == near((0, 0, 0))
    assert end.ahead == near((1, 0, 0))


def test_half_a_turn_comes_back_a_diameter_higher():
    end = end_of(arc(SQUARE, 15, 180))
    assert end.origin == near((0, 0, 30))
    assert end.ahead == near((-1, 0, 0))


@pytest.mark.parametrize("law", ["archimedes", "logarithmic"])
def test_a_spiral_lies_at_its_radii_about_one_centre(law):
    """From r₀ to r₁ in whole turns, first and last place lie on one ray: r₁ - r₀ apart."""
    path = Spiral(7, 32, 2, law)
    branch = pose(of(Segment(SQUARE, SQUARE, path.length, path))).by_name["bar"]
    assert math.dist(branch.start.origin, branch.end.origin) == near(25)


def test_an_archimedes_spiral_turns_by_its_turns_less_what_its_slope_changes():
    """heading = θ + atan2(r, dr/dθ): 1.75 turns, b = 25 / (3.5 π)."""
    b = 25 / (3.5 * math.pi)
    turned = 3.5 * math.pi + math.atan2(32, b) - math.atan2(7, b)
    end = end_of(spiral(SQUARE, 7, 32, 1.75))
    assert end.ahead == near((math.cos(turned), 0, math.sin(turned)))


def test_stations_of_a_spiral_stand_where_their_length_is_used_up():
    path = Spiral(7, 32, 1.75)
    branch = pose(of(Segment(SQUARE, SQUARE, path.length, path))).by_name["bar"]
    for station in branch.segments[0].stations[::7]:
        assert branch.axes_at(station.at).origin == near(station.axes.origin, 1e-6)


@pytest.mark.parametrize(
    "segment", [arc(SQUARE, 40, 200), spiral(SQUARE, 7, 60, 3), spiral(SQUARE, 90, 8, 5)]
)
def test_chords_miss_the_curve_by_a_tenth_at_most(segment):
    """The middle of a chord against the exact place half way between its stations, on the outside."""
    branch = pose(of(segment)).by_name["bar"]
    stations = branch.segments[0].stations
    for first, second in pairwise(stations):
        one, two = first.axes.point(0, 0, -6), second.axes.point(0, 0, -6)
        middle = [(a + b) / 2 for a, b in zip(one, two, strict=True)]
        there = branch.axes_at((first.at + second.at) / 2).point(0, 0, -6)
        assert math.dist(middle, there) <= 0.1


def test_a_quarter_twist_stands_a_flat_on_its_edge():
    end = end_of(Segment(FLAT, FLAT, 100, twist=0.25))
    assert end.ahead == near((1, 0, 0))
    assert end.left == near((0, 0, 1))  # right-handed: left turns up
    assert end.up == near((0, -1, 0))


def test_an_easy_bend_after_a_quarter_twist_lies_in_plan():
    end = end_of(Segment(FLAT, FLAT, 100, twist=0.25), arc(FLAT, 20, 90))
    assert end.origin == near((120, -20, 0))


def test_a_whole_twist_changes_nothing_beyond_it():
    end = end_of(Segment(SQUARE, SQUARE, 100, twist=2))
    assert end.up == near((0, 0, 1))


def test_a_child_goes_on_at_its_angle_to_the_left():
    piece = with_arms(bar(SQUARE, 200), (Attachment("bar", "end", angle=35), uniform(SQUARE, 100)))
    end = pose(piece).by_name["arm 0"].end
    turn = math.radians(35)
    assert end.origin == near((200 + 100 * math.cos(turn), 100 * math.sin(turn), 0))


def test_a_child_that_rises_turns_left_first_and_then_up():
    attached = Attachment("bar", "end", angle=90, elevation=30)
    end = pose(with_arms(bar(SQUARE, 200), (attached, uniform(SQUARE, 100)))).by_name["arm 0"].end
    assert end.origin == near((200, 100 * math.cos(math.radians(30)), 50))


def test_a_child_on_the_side_starts_at_its_place():
    attached = Attachment("bar", 150.0, angle=90, offset=4)
    arm = pose(with_arms(bar(SQUARE, 200), (attached, uniform(SQUARE, 60)))).by_name["arm 0"]
    assert arm.start.origin == near((150, 4, 0))
    assert arm.end.origin == near((150, 64, 0))


def test_mirrored_arms_lie_mirrored():
    arms = [
        (Attachment("bar", "end", angle=side * 40, offset=side * 7.5), arc(FLAT, 30, 100, "hard", side))
        for side in (1, -1)
    ]
    posed = pose(with_arms(bar(FLAT, 200), *arms))
    left, right = posed.by_name["arm 0"].end, posed.by_name["arm 1"].end
    assert left.origin == near((right.origin[0], -right.origin[1], right.origin[2]))
    assert left.ahead == near((right.ahead[0], -right.ahead[1], right.ahead[2]))


def test_arms_at_both_ends_lie_mirrored_about_the_middle():
    """An arm at the start goes on backwards, and left and up stay the piece's own."""
    arms = [
        (Attachment("bar", end, angle=50, elevation=20, offset=5), arc(FLAT, 30, 80, "hard"))
        for end in ("start", "end")
    ]
    posed = pose(with_arms(bar(FLAT, 200), *arms))
    back, front = posed.by_name["arm 0"].end.origin, posed.by_name["arm 1"].end.origin
    assert back == near((200 - front[0], front[1], front[2]))


def test_a_twist_is_right_handed_on_an_arm_at_the_start_too():
    """Seen along its own direction left turns down here, for its left and up are left-handed about it."""
    arm = Segment(FLAT, FLAT, 60, twist=0.25)
    end = pose(with_arms(bar(FLAT, 200), (Attachment("bar", "start"), arm))).by_name["arm 0"].end
    assert end.ahead == near((-1, 0, 0))
    assert end.left == near((0, 0, -1))


def test_a_piece_can_be_held_anywhere():
    piece = of(arc(SQUARE, 20, 90), uniform(SQUARE, 100))
    held = 10 * math.pi + 30
    posed = pose(piece, held=held, at_x=70).by_name["bar"]
    there = posed.axes_at(held)
    assert there.origin == near((70, 0, 0))
    assert there.ahead == near((1, 0, 0))
    assert posed.end.origin == near((140, 0, 0))
    assert posed.start.ahead == near((0, 0, -1))  # it comes down to the bar and turns up into its line


def test_holding_keeps_the_shape():
    piece = of(
        uniform(FLAT, 50), arc(FLAT, 20, 70, "hard"), Segment(FLAT, FLAT, 40, twist=0.3), arc(FLAT, 30, 50)
    )
    free, held = pose(piece).by_name["bar"], pose(piece, held=60, at_x=5).by_name["bar"]
    assert math.dist(free.start.origin, free.end.origin) == near(
        math.dist(held.start.origin, held.end.origin)
    )


def test_a_branch_without_metal_lies_at_its_start():
    piece = bar(SQUARE, 100)
    posed = pose(piece.with_branch(replace(piece.root, segments=()))).by_name["bar"]
    assert posed.end == posed.start
    assert posed.axes_at(50) == posed.start


def test_the_section_at_a_station_is_that_of_the_taper():
    taper = Segment(Section.square(12), Section.square(4), 80, twist=0.5)
    stations = pose(of(taper)).by_name["bar"].segments[0].stations
    middle = stations[len(stations) // 2]
    assert middle.section.width == near(12 - 8 * middle.at / 80, 1e-6)
