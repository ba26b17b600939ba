"""Parts put together: where they come to lie in space, and where their metal and marks go."""

from dataclasses import replace
from math import pi

import pytest

from calculators.sections import Section
from procedures.engine.example_parts import drilled, hole, tenoned
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose

from .forging import at, forged, refused, split, tried

SQUARE, FLAT = Section.square(12), Section.flat(40, 10)
SIDES = {"up": (0, 0, 1), "down": (0, 0, -1), "left": (0, 1, 0), "right": (0, -1, 0)}


def lies(piece, branch):
    return pose(piece).by_name[branch]


def holding(other, section=SQUARE, length=300, **more):
    return bar(section, length, bench={other.name: other}, **more)


# -- rings -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", [{}, {"form": "link", "width": 30}])
@pytest.mark.parametrize("turn", ["up", "right"])
def test_closed_bar_ends_in_space_where_it_began(form, turn):
    piece = forged(bar(SQUARE, 400), "weld_ring", on="bar", zone=30, turn=turn, **form)
    ring = lies(piece, "bar")
    assert ring.end.origin == pytest.approx(ring.start.origin, abs=1e-6)
    assert ring.end.ahead == pytest.approx(ring.start.ahead, abs=1e-6)


def test_link_is_as_wide_inside_as_was_asked():
    piece = forged(bar(SQUARE, 400), "weld_ring", on="bar", zone=30, form="link", width=30)
    ys = [one.axes.origin[2] for posed in lies(piece, "bar").segments for one in posed.stations]
    xs = [one.axes.origin[0] for posed in lies(piece, "bar").segments for one in posed.stations]
    wide, long = sorted((max(ys) - min(ys), max(xs) - min(xs)))
    assert wide - 12 == pytest.approx(30, abs=0.1)
    assert long - 12 == pytest.approx(30 + (400 - pi * 42) / 2, abs=0.1)


def test_ring_bent_before_keeps_the_side_it_was_bent_to():
    piece = forged(
        bar(SQUARE, 400), "bend", where=at(datum="centre"), angle=330, inside_radius=55, turn="left"
    )
    ring = forged(piece, "weld_ring", on="bar", zone=30).root
    assert {(one.path.plane, one.path.turn) for one in ring.segments} == {("hard", 1)}


def test_marks_on_both_sides_of_the_seam_ride_on_their_own_end():
    piece = bar(SQUARE, 400, marks={"A": 10, "B": 390, "M": 200})
    ring = tried(piece, "weld_ring", on="bar", zone=30, welds=2, scale=0.1).after.root
    times = 11.6**2 / 144
    assert ring.mark("A").at == pytest.approx(10 * times)
    assert ring.mark("B").at == pytest.approx(ring.length - 10 * times)
    assert ring.mark("M").at == pytest.approx(ring.length / 2)


def test_arm_that_hangs_on_a_bar_has_no_two_ends_to_close():
    piece = split(bar(Section.flat(24, 12), 900), 400)
    assert set(refused(piece, "weld_ring", on="arms", zone=30)) == {"shape.end_taken"}


def test_end_of_a_frame_is_no_end_to_taper():
    piece = bar(SQUARE, 400)
    for side in range(4):
        piece = forged(
            piece, "bend", where=at(datum="start", offset=50 + 100 * side), angle=90, inside_radius=12
        )
    piece = forged(piece, "weld_ring", on="bar", form="as_bent", zone=20)
    where = {"on": "bar", "datum": "end", "length": 30}
    assert refused(piece, "taper", where=where, end_section={"shape": "square", "side": 6}) == [
        "shape.closed_ring"
    ]
    assert refused(piece, "point", where=where) == ["shape.closed_ring"]


# -- welded on at the side ---------------------------------------------------------------------------

SPUR = {"part": "spur", "seat": 24, "part_zone": 16, "dressed": {"shape": "square", "side": 13}}


def spur(**more):
    return bar(Section.square(10), 70, name="spur", **more)


@pytest.mark.parametrize("side", SIDES)
def test_spur_stands_off_its_side_against_the_face(side):
    piece = forged(holding(spur()), "weld_side", where=at(offset=150), side=side, **SPUR)
    free, way = lies(piece, "spur"), SIDES[side]
    assert free.start.ahead == pytest.approx(way, abs=1e-9)
    assert free.start.origin[1:] == pytest.approx([6.5 * one for one in way[1:]])
    assert free.start.origin[0] == pytest.approx(150 - 12 + 29.92 / 2, abs=0.01)


@pytest.mark.parametrize(("angle", "along"), [(45, 0.7071), (90, 0), (135, -0.7071)])
def test_angle_is_told_from_the_way_to_the_end_of_the_bar(angle, along):
    piece = forged(holding(spur()), "weld_side", where=at(offset=150), angle=angle, **SPUR)
    assert lies(piece, "spur").start.ahead[0] == pytest.approx(along, abs=1e-4)


def test_spur_by_its_end_keeps_its_marks_where_they_are_on_it():
    piece = forged(holding(spur(marks={"T": 10})), "weld_side", where=at(offset=150), part_end="end", **SPUR)
    assert piece.branch("spur").mark("T").at == pytest.approx(44)


def test_a_copy_on_each_arm_scales_and_is_received_by_itself():
    piece = split(holding(spur(), Section.flat(24, 12)), 120)
    frame = tried(piece, "weld_side", where=at("arms", offset=40), welds=2, scale=0.1, **SPUR)
    after = frame.after
    assert after.received == pytest.approx(2 * spur().volume)
    assert frame.lost == pytest.approx(2 * (24 * (144 - 11.6**2) + 16 * (100 - 9.6**2)))
    assert after.imbalance == pytest.approx(0, abs=1e-6)
    assert after.groups["spur"] == ("spur 1", "spur 2")


def test_weld_remembers_the_metal_of_both():
    piece = forged(holding(spur()), "weld_side", where=at(offset=150), **SPUR)
    assert {name for name, _ in piece.root.bar_positions(150)} == {"bar", "spur"}


def test_spur_can_be_welded_to_a_ring():
    ring = forged(holding(spur(), length=600), "weld_ring", on="bar", zone=30)
    piece = forged(ring, "weld_side", where=at(offset=300), side="left", **SPUR)
    assert piece.is_closed("bar")
    assert sum(one.path.angle for one in piece.root.segments) == pytest.approx(360)


# -- jump and cross welds ----------------------------------------------------------------------------

JUMP = {"on": "bar", "jump": 5, "zone": 30, "part": "blade", "part_zone": 40}


def blade(**more):
    return bar(Section.flat(40, 6), 110, name="blade", **more)


@pytest.mark.parametrize(("face", "thick", "wide"), [("flat", 6, "up"), ("edge", 40, "left")])
def test_bar_meets_the_face_it_is_set_on(face, thick, wide):
    piece = forged(holding(blade()), "weld_jump", face=face, **JUMP)
    first, second = lies(piece, "blade 1"), lies(piece, "blade 2")
    assert first.start.origin == pytest.approx((295 + thick / 2, 0, 0))
    assert first.start.ahead == pytest.approx(SIDES[wide], abs=1e-9)
    assert second.start.ahead == pytest.approx([-one for one in SIDES[wide]], abs=1e-9)
    through = first.start.up if face == "flat" else first.start.left
    assert abs(through[0]) == pytest.approx(1)


def test_what_hangs_on_the_blade_goes_with_its_own_side():
    forked = split(blade(), where=at("blade", offset=30))
    piece = forged(holding(forked), "weld_jump", **JUMP)
    assert piece.branch("left").attached.parent == "blade 1"
    turned = split(blade(), where=at("blade", "start", 30), end="start")
    piece = forged(holding(turned), "weld_jump", **JUMP)
    assert piece.branch("left").attached.parent == "blade 2"
    assert lies(piece, "left").start.origin[2] == pytest.approx(-40)


def test_arms_of_a_cross_begin_at_the_edges_of_the_bar():
    cross = bar(Section.flat(20, 8), 240, name="cross", marks={"S": 20, "E": 200})
    piece = forged(holding(cross, FLAT), "weld_cross", where=at(offset=150), part="cross", thickness=12)
    left, right = lies(piece, "cross 1"), lies(piece, "cross 2")
    assert left.start.origin == pytest.approx((150, 20, 3))
    assert right.start.origin == pytest.approx((150, -20, 3))
    assert left.end.origin[1] - right.end.origin[1] == pytest.approx(40 + 2 * 115)
    assert piece.branch("cross 1").mark("E").at == pytest.approx(200 - 140 + 15)
    assert piece.branch("cross 2").mark("S").at == pytest.approx(100 - 20 + 15)


# -- clefts ------------------------------------------------------------------------------------------


def test_a_cleft_at_the_start_is_the_mirror_image_of_one_at_the_end():
    steel = bar(Section.flat(25, 3), 35, name="steel", marks={"S": 10})
    dressed = {"shape": "flat", "width": 25, "thickness": 8}
    section = Section.flat(25, 8)
    params = {"on": "bar", "cleft": 30, "part": "steel", "dressed": dressed}
    end = forged(holding(steel, section, 200, marks={"A": 180, "B": 60}), "weld_cleft", **params).root
    start = forged(
        holding(steel, section, 200, marks={"A": 20, "B": 140}), "weld_cleft", end="start", **params
    ).root
    for name in ("A", "B", "S"):
        assert start.mark(name).at == pytest.approx(end.length - end.mark(name).at)


def test_marks_of_cheek_and_steel_at_one_depth_lie_together():
    steel = bar(Section.flat(25, 3), 35, name="steel", marks={"S": 15})
    piece = forged(
        holding(steel, Section.flat(25, 8), 200, marks={"A": 185}),
        "weld_cleft",
        on="bar",
        cleft=30,
        part="steel",
        dressed={"shape": "flat", "width": 25, "thickness": 8},
    ).root
    assert piece.mark("A").at == pytest.approx(piece.mark("S").at)
    assert {name for name, _ in piece.bar_positions(piece.mark("A").at)} == {"bar", "steel"}
    assert {name for name, _ in piece.bar_positions(piece.length - 0.5)} == {"steel"}


# -- pins --------------------------------------------------------------------------------------------


def foot():
    return tenoned("foot", SQUARE, 73.5, Section.round(7), 26.5)


def riveted(**more):
    piece = holding(foot(), Section.square(16)).featured("bar", hole("H", 100, 7.5))
    return forged(piece, "rivet", where=[at(datum="start", offset=100)], part="foot", **more)


@pytest.mark.parametrize(("side", "way"), [("down", -1), ("up", 1)])
def test_shoulder_sits_on_the_side_and_the_head_on_the_other(side, way):
    posed = lies(riveted(side=side), "foot")
    assert posed.start.origin == pytest.approx((100, 0, -8 * way))
    assert posed.axes_at(16).origin == pytest.approx((100, 0, 8 * way))
    assert posed.end.origin == pytest.approx((100, 0, (8 + 73.5) * way))


def test_foot_is_turned_about_its_pin():
    straight, turned = (lies(riveted(turned=angle), "foot").end.up for angle in (0, 90))
    assert straight == pytest.approx((1, 0, 0), abs=1e-9)
    assert abs(turned[1]) == pytest.approx(1)


def test_rivet_holds_both_places_and_is_named_by_what_it_holds():
    (joint,) = riveted().joints
    assert joint.on("bar") == (100,)
    assert joint.on("foot") == (0,)
    assert (joint.kind, joint.other, joint.moves, joint.clearance) == ("rivet", "foot", False, 0.0)


def test_pivot_keeps_its_play():
    (joint,) = riveted(moves=True).joints
    assert joint.moves
    assert joint.clearance == pytest.approx(0.5)


def test_strap_lies_on_the_side_with_its_hole_on_the_hole():
    strap = drilled("strap", FLAT, 120, 8.5)
    piece = holding(strap, FLAT).featured("bar", hole("H", 100, 8.5))
    piece = forged(
        piece,
        "rivet",
        where=[at(datum="start", offset=100)],
        pin="loose",
        part="strap",
        diameter=8,
        side="up",
        turned=90,
    )
    posed = lies(piece, "strap")
    assert posed.axes_at(60).origin == pytest.approx((100, 0, 10))
    assert posed.start.origin == pytest.approx((100, -60, 10))
    rivet = next(one for one in piece.root.features if one.kind == "rivet")
    assert piece.received == pytest.approx(strap.volume + rivet.volume)


def test_what_lies_between_is_gripped_too():
    pan = drilled("pan", Section.flat(90, 2), 70, 7.5)
    piece = bar(Section.square(16), 300, bench={"foot": foot(), "pan": pan})
    piece = piece.featured("bar", hole("H", 100, 7.5))
    piece = forged(
        piece, "rivet", where=[at(datum="start", offset=100)], part="foot", through="pan", side="up"
    )
    assert lies(piece, "pan").axes_at(35).origin == pytest.approx((100, 0, 9))
    assert lies(piece, "foot").axes_at(18).origin == pytest.approx((100, 0, 10))


def test_spindle_stands_on_its_shoulder():
    spindle = tenoned("spindle", Section.square(16), 200, Section.round(10), 25)
    piece = holding(spindle, FLAT).featured("bar", hole("H", 100, 10.5))
    piece = forged(
        piece, "join", where=[at(datum="start", offset=100)], part="spindle", kind="wedge", side="up"
    )
    posed = lies(piece, "spindle")
    assert posed.axes_at(25).origin == pytest.approx((100, 0, 5))
    assert posed.start.origin == pytest.approx((100, 0, -20))


def test_two_branches_of_a_piece_are_joined_by_a_joint_alone():
    piece = split(bar(Section.flat(24, 6), 300), 120)
    for arm in ("left", "right"):
        piece = forged(piece, "drill", where=[at(arm, offset=10)], size=4)
    before = piece.branches
    piece = forged(piece, "join", where=[at("left", offset=10)], to=at("right", offset=10), kind="bolt")
    assert piece.branches == before
    (joint,) = piece.joints
    assert {one.branch for one in joint.places} == {"left", "right"}
    assert piece.received == 0


def with_a_welded_eye(section=FLAT):
    folded = forged(bar(section, 300), "fold_back", on="bar", end="start", flap=60, gap=16)
    dressed = {"shape": "flat", "width": section.width, "thickness": section.thickness * 1.4}
    return forged(folded, "weld_fold", on="bar", end="start", dressed=dressed, eye=16)


@pytest.mark.parametrize("where", ["seam", "crown", "tip"])
def test_pin_is_not_put_through_the_bar_of_an_eye_but_what_to_do_is_said(where):
    eye = with_a_welded_eye()
    (seam,) = eye.joints[-1].on("bar")
    offset = {"seam": seam, "crown": seam / 2, "tip": 0.0}[where]
    params = {"where": [at(datum="start", offset=offset)], "part": "strap", "diameter": 10}
    piece = replace(eye, bench={"strap": drilled("strap", FLAT, 120, 10.5)})
    (stop,) = tried(piece, "join", **params).findings
    assert stop.code == "join.no_hole"
    assert "bent to an eye of 16" in stop.text()
    assert "hung, hooked or laid on" in stop.text()
    assert tried(piece, "join", **{**params, "kind": "hook", "diameter": None}).status == "done"


def test_bar_beside_an_eye_has_no_hole_and_nothing_is_said_of_the_eye():
    eye = with_a_welded_eye()
    (seam,) = eye.joints[-1].on("bar")
    piece = replace(eye, bench={"strap": drilled("strap", FLAT, 120, 10.5)})
    (stop,) = tried(piece, "join", where=[at(datum="start", offset=seam + 5)], part="strap").findings
    assert stop.code == "join.no_hole"
    assert "eye" not in stop.text()


def test_pin_is_put_through_a_hole_that_is_punched_across_an_eye():
    piece = replace(with_a_welded_eye(), bench={"strap": drilled("strap", FLAT, 120, 10.5)})
    piece = piece.featured("bar", hole("H", 30, 10.5))
    assert forged(piece, "join", where=[at(datum="start", offset=30)], part="strap", diameter=10).joints


def test_part_that_has_an_eye_and_no_hole_is_hooked_on():
    eye = replace(with_a_welded_eye(), name="hook")
    eye = replace(eye, branches=(replace(eye.root, name="hook"),), joints=())
    piece = holding(eye, FLAT).featured("bar", hole("H", 100, 10.5))
    (stop,) = tried(piece, "join", where=[at(datum="start", offset=100)], part="hook").findings
    assert stop.code == "join.no_mate"
    assert "hung, hooked or laid on" in stop.text()


# -- collars and wraps -------------------------------------------------------------------------------


def test_collar_holds_the_other_branch_where_it_is_nearest():
    piece = split(bar(Section.flat(20, 16), 300), 150)
    piece = forged(
        piece,
        "collar",
        where=[at("left", "start", 60)],
        others=["right"],
        section={"shape": "flat", "width": 15, "thickness": 3},
    )
    (joint,) = piece.joints
    assert joint.on("left") == (60,)
    assert joint.on("right") == (pytest.approx(60),)


def test_arms_that_stand_apart_are_not_clasped_without_a_word():
    piece = forged(split(bar(Section.flat(20, 16), 300), 150), "open_split", on="arms", angle=60)
    frame = tried(
        piece,
        "collar",
        where=[at("left", "start", 100)],
        others=["right"],
        section={"shape": "flat", "width": 15, "thickness": 3},
    )
    assert "collar.apart" in [one.code for one in frame.findings]


@pytest.mark.parametrize(("side", "off"), [("left", (0, 11, 0)), ("down", (0, 0, -11))])
def test_bar_brought_in_lies_along_the_other_against_its_side(side, off):
    rod = bar(Section.square(10), 100, name="rod")
    piece = forged(
        holding(rod),
        "wrap",
        where=[at(datum="centre")],
        part="rod",
        side=side,
        wire=3,
        turns=5,
    )
    posed = lies(piece, "rod")
    assert posed.axes_at(50).origin == pytest.approx([150 + off[0], *off[1:]])
    assert posed.start.origin[0] == pytest.approx(100)


def test_weight_of_what_clasps_is_weighed_in():
    piece = forged(
        bar(SQUARE, 300),
        "collar",
        where=[at(datum="centre"), at(offset=50)],
        section={"shape": "flat", "width": 20, "thickness": 4},
    )
    each = 80 * (48 + pi * 4)
    assert piece.volume == pytest.approx(300 * 144 + 2 * each)
    assert [one.name for one in piece.root.features] == ["collar", "collar 1"]
