"""Sharp corners: cutting and turning them, where they lie in space, and what rides along."""

import math

import pytest

from calculators.sections import Section
from procedures.engine.pieces.path import STRAIGHT, Arc, Corner
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import uniform
from procedures.engine.pieces.turning import mirrored_sideways, turned_round
from procedures.engine.shaping.curving import laid

FLAT = Section.flat(20, 12)
CORNER = Corner(6, 9, 90)


def cornered(path, *, length=168.0, low=88.0, section=FLAT):
    """Return a bar with its run from `low` on laid round a corner, as long as the corner's straights."""
    piece = bar(section, length, marks={"M": low + path.before})
    span = Span("bar", low, low + path.length)
    run = piece.root.segments_between(span.low, span.high)
    return piece.reshaped(span, *laid(run, path))


def ends(piece):
    return pose(piece).by_name["bar"]


def test_a_corner_cut_before_its_turn_leaves_the_turn_beyond():
    assert CORNER.cut(15, 4) == (STRAIGHT, Corner(2, 9, 90))


def test_a_corner_cut_beyond_its_turn_keeps_the_turn():
    assert CORNER.cut(15, 10) == (Corner(6, 4, 90), STRAIGHT)


def test_a_corner_cut_at_its_turn_turns_once_only():
    first, second = CORNER.cut(15, 6)
    assert [first, second] == [STRAIGHT, Corner(0, 9, 90)]


def test_a_cut_through_the_metal_held_at_the_turn_keeps_the_turn_before_it():
    assert CORNER.cut(16, 6.5) == (Corner(6, 0, 90), STRAIGHT)


def test_a_corner_turned_round_twice_is_itself():
    corner = Corner(6, 9, 60, "hard", -1)
    assert corner.turned() == Corner(9, 6, 60, "hard", 1)
    assert corner.turned().turned() == corner


def test_metal_laid_round_a_corner_turns_in_the_segment_that_holds_it():
    run = laid([uniform(FLAT, 4), uniform(FLAT, 5), uniform(FLAT, 6)], CORNER)
    assert [one.path.kind for one in run] == ["straight", "corner", "straight"]
    assert run[1].path == Corner(2, 3, 90)


def test_legs_meet_at_the_corner():
    """94 and 74 along the middle line are 100 and 80 outside of 12 mm bar."""
    end = ends(cornered(Corner(6, 6, 90))).end
    assert end.origin == pytest.approx((94, 0, 74))
    assert end.ahead == pytest.approx((0, 0, 1))


@pytest.mark.parametrize("at", [0, 50, 93.999, 94.001, 120, 168])
def test_places_along_a_cornered_bar_lie_on_its_legs(at):
    axes = ends(cornered(Corner(6, 6, 90))).axes_at(at)
    assert axes.origin == pytest.approx((min(at, 94), 0, max(at - 94, 0)))


def test_the_mitre_reaches_the_outside_corner():
    posed = ends(cornered(Corner(6, 6, 90)))
    mitre = posed.segments[1].stations[1]
    outside = mitre.axes.point(0, 0, -mitre.section.thickness / 2)
    inside = mitre.axes.point(0, 0, mitre.section.thickness / 2)
    assert outside == pytest.approx((100, 0, -6))
    assert inside == pytest.approx((88, 0, 6))
    assert mitre.section.width == FLAT.width


def test_the_mitre_of_a_corner_on_edge_is_wide():
    posed = ends(cornered(Corner(10, 10, 60, "hard", -1)))
    mitre = posed.segments[1].stations[1]
    assert mitre.section.width == pytest.approx(20 / math.cos(math.radians(30)))
    assert mitre.section.thickness == FLAT.thickness
    assert posed.end.ahead == pytest.approx((0.5, -math.sqrt(3) / 2, 0))


def test_a_fillet_is_metal_that_makes_the_legs_no_longer():
    piece = cornered(Corner(6, 6, 90), length=168.5)
    run = piece.root.segments_between(88, 100.5)
    filled = piece.reshaped(Span("bar", 88, 100.5), *laid(run, Corner(6, 6, 90)))
    assert filled.root.length == pytest.approx(168.5)
    assert ends(filled).end.origin == pytest.approx((94, 0, 74))


def test_a_mark_at_the_corner_stays_and_the_metal_with_it():
    piece = cornered(Corner(6, 6, 90))
    assert piece.root.mark("M").at == pytest.approx(94)
    assert piece.volume == pytest.approx(168 * FLAT.area)
    assert piece.root.bar_positions(120)[0][1] == pytest.approx(120)


def test_scale_on_one_leg_leaves_the_corner_where_it_was():
    piece = cornered(Corner(6, 6, 90)).receded(Span("bar", 90, 120), lambda _: 0.05)
    assert ends(piece).end.origin == pytest.approx((94, 0, 74))
    assert sum(one.path.kind == "corner" for one in piece.root.segments) == 1


def test_a_cornered_bar_turned_round_still_goes_up_but_to_the_other_hand():
    for plane, turn in (("easy", 1), ("hard", -1)):
        piece = turned_round(cornered(Corner(6, 6, 90, plane, 1)))
        assert piece.root.segments[1].path == Corner(6, 6, 90, plane, turn)


def test_a_corner_on_edge_changes_sides_in_a_mirrored_frame():
    branch = cornered(Corner(6, 6, 90, "hard", 1)).root
    assert mirrored_sideways(branch).segments[1].path.turn == -1


def test_a_square_corner_takes_more_bar_than_an_arc_to_the_same_outside():
    """A plain bend of inside radius 0 takes π/4 of the thickness, the corner all of it: 0.215 more."""
    arc = Arc(6, 90).length
    assert Corner(6, 6, 90).length - arc == pytest.approx((1 - math.pi / 4) * 12)
