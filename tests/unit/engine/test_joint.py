"""Joints: which places they hold, where those go, and how a branch hangs by any place of it."""

from dataclasses import replace
from math import pi

import pytest

from calculators.sections import Section
from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.pieces.turning import mirrored_tree, turned_round
from procedures.engine.shaping.hanging import hung

from .forging import at, forged, refused, split

SQUARE = Section.square(10)
RING = Joint("ring_weld", (Point("bar", 0.0), Point("bar", 200.0)), "bar ring")


def ring(length=200):
    arc = Arc(length / (2 * pi), 360)
    piece = bar(SQUARE, length)
    piece = piece.with_branch(replace(piece.root, segments=(replace(piece.root.segments[0], path=arc),)))
    return replace(piece, joints=(RING,))


def test_joint_of_both_ends_closes_its_branch():
    assert ring().is_closed("bar")
    open_ring = replace(ring(), joints=(replace(RING, places=RING.places[:1]),))
    assert not open_ring.is_closed("bar")


def test_closed_ring_has_no_end_to_work_on():
    assert refused(ring(), "cut_off", at=at(offset=50)) == ["shape.closed_ring"]
    assert "shape.end_taken" in refused(ring(), "fold_back", on="bar", flap=20)


def test_hole_near_the_seam_of_a_ring_does_not_break_out():
    assert forged(ring(), "punch", where=[at(offset=2)], size=5).root.features


def test_joint_moves_with_the_metal_of_each_branch_it_holds():
    joint = Joint("rivet", (Point("bar", 50.0), Point("rod", 10.0)))
    moved = joint.moved("bar", lambda place: place + 5)
    assert moved.places == (Point("bar", 55.0), Point("rod", 10.0))
    assert moved.on("rod") == (10.0,)


@pytest.mark.parametrize(
    ("lengths", "places"),
    [
        ({"bar": 100, "rod": 100, "leg": 100}, 3),
        ({"bar": 100, "leg": 100}, 2),
        ({"bar": 100, "rod": 5}, None),  # one place alone is held to nothing
        ({}, None),
    ],
)
def test_joint_is_left_where_it_still_holds_two_places(lengths, places):
    joint = Joint("collar", (Point("bar", 50.0), Point("rod", 10.0), Point("leg", 20.0)))
    left = joint.left(lengths)
    assert (len(left.places) if left else None) == places


def test_joint_that_was_of_one_place_keeps_it():
    assert Joint("lap_weld", (Point("bar", 50.0),)).left({"bar": 60}) is not None


# -- hanging -----------------------------------------------------------------------------------------

UPRIGHT = Attachment("bar", at=100.0, elevation=90)


def rod(**more):
    return bar(Section.round(8), 80, name="rod", **more)


def test_one_copy_takes_the_name_and_several_are_numbered_and_grouped():
    piece, roots = hung(bar(SQUARE, 200), rod(), [UPRIGHT], "leg")
    assert roots == ("leg",)
    assert piece.groups == {}
    holds = [replace(UPRIGHT, at=place) for place in (50.0, 100.0, 150.0)]
    piece, roots = hung(bar(SQUARE, 200), rod(), holds, "leg")
    assert piece.groups == {"leg": roots} == {"leg": ("leg 1", "leg 2", "leg 3")}
    assert piece.received == pytest.approx(3 * rod().volume)
    assert piece.imbalance == pytest.approx(0, abs=1e-6)


def test_more_copies_go_on_counting():
    piece, _ = hung(bar(SQUARE, 200), rod(), [UPRIGHT, UPRIGHT], "leg")
    piece, roots = hung(piece, rod(), [UPRIGHT, UPRIGHT], "leg")
    assert roots == ("leg 3", "leg 4")
    assert piece.groups["leg"] == ("leg 1", "leg 2", "leg 3", "leg 4")


def test_what_hangs_on_a_copy_goes_by_its_name_and_groups_join():
    forked = split(bar(Section.flat(24, 6), 120, name="fork"), where=at("fork", offset=60))
    piece, _ = hung(bar(SQUARE, 200), forked, [UPRIGHT], "fork")
    assert piece.groups == {"arms": ("left", "right")}
    piece, _ = hung(bar(SQUARE, 200), forked, [UPRIGHT, UPRIGHT], "fork")
    assert piece.groups["fork arms"] == ("fork 1 left", "fork 1 right", "fork 2 left", "fork 2 right")
    assert piece.branch("fork 2 left").attached.parent == "fork 2"


def test_names_that_are_taken_get_the_branch_before_them():
    forked = split(bar(Section.flat(24, 6), 120, name="fork"), where=at("fork", offset=60))
    piece = split(bar(Section.flat(24, 6), 200))
    piece, _ = hung(piece, forked, [replace(UPRIGHT, at=40.0)], "fork")
    assert piece.groups["fork arms"] == ("fork left", "fork right")
    assert piece.branch("left").attached.parent == "bar"


def test_marks_holes_and_the_bar_it_came_from_are_kept():
    other = forged(rod(marks={"M": 20}), "punch", where=[at("rod", offset=30)], size=3)
    piece, _ = hung(bar(SQUARE, 200), other, [UPRIGHT], "leg")
    leg = piece.branch("leg")
    assert leg.mark("M").at == 20
    assert leg.features == other.root.features
    assert leg.bar_positions(20) == [("rod", pytest.approx(20))]


def test_branch_hangs_by_the_place_it_is_held_by():
    piece, _ = hung(bar(SQUARE, 200), rod(), [replace(UPRIGHT, by=30.0, up=5.0)], "leg")
    posed = pose(piece).by_name["leg"]
    assert posed.axes_at(30.0).origin == pytest.approx((100, 0, 5))
    assert posed.start.origin == pytest.approx((100, 0, -25))
    assert posed.end.origin == pytest.approx((100, 0, 55))
    assert not piece.branch("leg").is_held_at_start


def test_bent_branch_hangs_by_a_place_beyond_its_bend():
    bent = forged(rod(), "bend", where=at("rod", "start", 30), angle=90, inside_radius=6, turn="left")
    flat = Attachment("bar", at=100.0, angle=90, by=70.0)
    posed = pose(hung(bar(SQUARE, 200), bent, [flat], "leg")[0]).by_name["leg"]
    assert posed.axes_at(70.0).origin == pytest.approx((100, 0, 0))
    assert posed.axes_at(70.0).ahead == pytest.approx((0, 1, 0))
    assert posed.start.ahead == pytest.approx((1, 0, 0))  # before it turned left it ran along the bar


def test_roll_turns_a_branch_about_its_own_length():
    bent = forged(rod(), "bend", where=at("rod", offset=20), angle=90, inside_radius=6, turn="up")
    down = Attachment("bar", at=100.0, elevation=-90)
    ends = [
        pose(hung(bar(SQUARE, 200), bent, [replace(down, roll=roll)], "leg")[0]).by_name["leg"].end.ahead
        for roll in (0, 90)
    ]
    assert ends[0] == pytest.approx((1, 0, 0), abs=1e-9)
    assert ends[1] == pytest.approx((0, -1, 0), abs=1e-9)  # right-handed about the way it hangs, down


def test_branch_stays_where_it_is_when_the_piece_is_turned_round_or_told_mirrored():
    hold = Attachment("bar", at=60.0, angle=40, elevation=10, offset=4, ahead=3, up=5, roll=20, by=12)
    piece, _ = hung(bar(SQUARE, 200), rod(), [hold], "leg")
    straight = pose(piece).by_name["leg"].end.origin
    turned = pose(turned_round(piece)).by_name["leg"].end.origin
    assert turned == pytest.approx((200 - straight[0], -straight[1], straight[2]))
    told = pose(mirrored_tree(piece)).by_name["leg"].end.origin
    assert told == pytest.approx((straight[0], -straight[1], straight[2]))


def test_place_held_by_rides_on_the_metal():
    piece, _ = hung(bar(SQUARE, 200), rod(), [replace(UPRIGHT, by=60.0)], "leg")
    piece = forged(piece, "draw_out", where={"on": "leg", "datum": "start", "length": 40}, reduction=50)
    assert piece.branch("leg").attached.by == pytest.approx(100)
    piece = forged(piece, "cut_off", at=at("leg", "start", 50), keep="end", kerf=0)
    assert piece.branch("leg").attached.by == pytest.approx(50)


@pytest.mark.parametrize(("offset", "keep"), [(50, "start"), (70, "end")])
def test_cut_that_parts_a_branch_from_its_parent_is_refused(offset, keep):
    piece, _ = hung(bar(SQUARE, 200), rod(), [replace(UPRIGHT, by=60.0)], "leg")
    codes = refused(piece, "cut_off", at=at("leg", "start", offset), keep=keep)
    assert codes == ["cut_off.loses_its_root"]


def test_free_start_of_a_branch_held_further_along_can_be_worked():
    piece, _ = hung(bar(SQUARE, 200), rod(), [replace(UPRIGHT, by=60.0)], "leg")
    forged(piece, "fold_back", on="leg", end="start", flap=20)
    piece, _ = hung(bar(SQUARE, 200), rod(), [UPRIGHT], "leg")
    assert refused(piece, "fold_back", on="leg", end="start", flap=20) == ["shape.end_taken"]


def test_a_part_in_a_mirrored_frame_is_told_so():
    arm = Branch("arm", (uniform(SQUARE, 100),), attached=Attachment("bar", "start"))
    bent = rod()
    bent = bent.with_branch(
        replace(bent.root, segments=(Segment(SQUARE, SQUARE, 10, Arc(10, 57.3, "hard")),))
    )
    piece, _ = hung(bar(SQUARE, 200).with_branch(arm), bent, [Attachment("arm", "end")], "leg")
    assert piece.branch("leg").segments[0].path.turn == -1
