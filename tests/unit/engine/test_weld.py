"""Welding: a fold into its seat, a bar to another bar, and what comes along."""

from dataclasses import replace

import pytest

from calculators.materials import MATERIALS
from calculators.sections import Section
from procedures.engine.pieces.branch import Mark
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import Joint, bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.pose import pose

from .forging import at, forged, refused, split, tried

FLAT, SQUARE = Section.flat(20, 5), Section.square(12)
DRESSED = {"shape": "flat", "width": 20, "thickness": 9}
LAP = {"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 12}}
TURN = 3.141592653589793 * 5 / 2  # of bar in a close fold of 5 mm


def folded(piece, **more):
    return forged(piece, "fold_back", **{"on": "bar", "flap": 60, **more})


def welded(piece, **more):
    return forged(piece, "weld_fold", **{"on": "bar", "dressed": DRESSED, **more})


# -- folds -------------------------------------------------------------------------------------------


def test_a_fold_closed_on_itself_is_in_layers_until_it_is_welded():
    piece = folded(bar(FLAT, 200))
    assert [one.layers for one in piece.root.segments_between(72.2, 132.1)] == [2]
    assert [one.layers for one in piece.root.segments_between(0, 72.1)] == [1]
    assert piece.root.segments[-1].layers == 2
    assert refused(piece, "draw_out", where={"on": "bar", "datum": "end", "length": 30}, reduction=20) == [
        "shape.folded_metal"
    ]
    assert all(one.layers == 1 for one in welded(piece).root.segments)


def test_a_fold_left_open_is_not_in_layers():
    assert all(one.layers == 1 for one in folded(bar(FLAT, 200), gap=8).root.segments)


def test_the_flap_runs_back_above_the_bar():
    posed = pose(folded(bar(FLAT, 200), gap=8)).by_name["bar"]
    assert posed.end.ahead == pytest.approx((-1, 0, 0))
    assert posed.end.origin[2] == pytest.approx(8 + 5)
    assert posed.end.origin[0] == pytest.approx(200 - 60 - 3.141592653589793 * 13 / 2 - 60)


def test_a_fold_at_the_start_goes_up_as_well():
    piece = folded(bar(FLAT, 200), end="start", gap=8)
    posed = pose(piece, held=150).by_name["bar"]
    assert posed.start.origin[2] == pytest.approx(8 + 5)


def test_a_solid_fold_weld_holds_the_metal_of_flap_turn_and_seat():
    piece = welded(folded(bar(FLAT, 200)))
    weld = 2 * (60 + TURN / 2) * 100 / 180
    assert piece.worked[0].length == pytest.approx(weld)
    assert piece.root.length == pytest.approx(200 - 2 * (60 + TURN / 2) + weld)
    assert piece.root.segments[-1].start == Section.flat(20, 9)
    assert piece.volume == pytest.approx(200 * 100)


def test_an_eye_keeps_the_bar_that_goes_round_its_pin():
    piece = welded(folded(bar(FLAT, 200), gap=8), eye=8)
    eye = piece.root.segments[-1]
    assert isinstance(eye.path, Arc)
    assert sum(one.path.angle for one in piece.root.segments if isinstance(one.path, Arc)) == pytest.approx(
        360
    )
    assert eye.path.radius == pytest.approx((8 + 5) / 2)
    (joint,) = piece.joints
    assert joint.kind == "fold_weld"
    assert joint.places[0].at == pytest.approx(piece.root.length - 3.141592653589793 * 13)


def test_a_fold_at_the_start_welds_to_the_mirror_image_of_one_at_the_end():
    marks = {"A": 30, "B": 90}
    end = welded(folded(bar(FLAT, 200, marks={key: 200 - value for key, value in marks.items()})), eye=6).root
    start = welded(folded(bar(FLAT, 200, marks=marks), end="start"), end="start", eye=6).root
    assert start.length == pytest.approx(end.length)
    for name in marks:
        assert start.mark(name).at == pytest.approx(end.length - end.mark(name).at)
    assert [one.volume for one in start.segments] == pytest.approx(
        [one.volume for one in reversed(end.segments)]
    )


def test_a_mark_on_the_flap_comes_to_lie_on_the_one_it_was_folded_onto():
    fold = 200 - 60 - TURN / 2  # the outermost place
    piece = bar(FLAT, 200, marks={"seat": fold - 40, "flap": fold + 40, "stem": 50})
    piece = welded(folded(piece)).root
    assert piece.mark("seat").at == pytest.approx(piece.mark("flap").at)
    assert piece.mark("stem").at == pytest.approx(50)
    assert [one.at for one in piece.marks] == sorted(one.at for one in piece.marks)


def test_a_mark_that_stays_with_the_end_stays_on_the_piece():
    piece = bar(FLAT, 200).marked("bar", Mark("grip", 150, holds="end"))
    piece = welded(folded(piece)).root
    assert piece.mark("grip").at == pytest.approx(piece.length - 50)


def test_a_longer_seat_gives_its_metal_too():
    piece = welded(folded(bar(FLAT, 200)), seat=90, dressed={"shape": "flat", "width": 20, "thickness": 8})
    metal = (60 + TURN / 2 + 90) * 100
    assert piece.worked[0].length == pytest.approx(metal / 160)


@pytest.mark.parametrize(
    ("params", "codes"),
    [
        ({"end": "start"}, ["weld_fold.seat_too_short"]),  # seen from there the long side is the flap
        ({"eye": 60}, ["weld_fold.eye_takes_the_flap"]),
        ({"seat": 20}, ["weld_fold.seat_too_short"]),
        ({"seat": 150}, ["weld_fold.seat_too_short"]),
        ({"dressed": {"shape": "flat", "width": 20, "thickness": 11}}, ["weld_fold.too_little_metal"]),
    ],
)
def test_a_fold_weld_that_cannot_be_is_refused(params, codes):
    given = {"on": "bar", "dressed": DRESSED, **params}
    assert refused(folded(bar(FLAT, 200)), "weld_fold", **given) == codes


def test_a_hole_in_the_weld_is_refused():
    piece = forged(bar(FLAT, 200), "punch", where=[at(offset=30)], size=6)
    assert refused(folded(piece), "weld_fold", on="bar", dressed=DRESSED) == ["shape.in_the_way"]


def test_a_welded_fold_can_be_worked_again():
    piece = welded(folded(bar(FLAT, 200)))
    forged(piece, "draw_out", where={"on": "bar", "datum": "end", "length": 40}, reduction=30)


def test_thin_bar_in_a_weld_is_warned_of():
    frame = tried(
        folded(bar(Section.flat(20, 3), 200)), "weld_fold", on="bar", dressed={**DRESSED, "thickness": 5}
    )
    assert "weld.thin" in [one.code for one in frame.findings]


# -- laps --------------------------------------------------------------------------------------------


def with_rod(section=SQUARE, length=200, rod=None, **more):
    return bar(section, length, bench={"rod": rod or bar(SQUARE, 200, name="rod")}, **more)


def test_two_bars_of_200_come_to_394_8_after_two_welding_heats():
    # both zones of 40 go to □11.6: 80 × 134.56 / 144 = 74.76
    frame = tried(with_rod(), "weld_lap", **LAP, welds=2, scale=0.1)
    assert frame.after.root.length == pytest.approx(320 + 80 * 11.6**2 / 144)
    assert frame.after.lost("scale") == pytest.approx(80 * (144 - 11.6**2))
    assert frame.after.received == pytest.approx(200 * 144)


def test_the_welded_part_keeps_its_own_ledger():
    rod = bar(SQUARE, 200, name="rod")
    piece = tried(with_rod(rod=rod), "weld_lap", **LAP, welds=2, scale=0.1).after
    assert piece.imbalance == pytest.approx(0, abs=1e-6)
    assert rod.volume == pytest.approx(200 * 144)
    assert rod.losses == ()


@pytest.mark.parametrize(
    ("end", "part_end", "marks"),
    [
        ("end", "start", {"A": 50, "R": 200 + 30}),
        ("end", "end", {"A": 50, "R": 200 + 90}),
        ("start", "end", {"R": 30, "A": 120 + 50}),
        ("start", "start", {"R": 90, "A": 120 + 50}),
    ],
)
def test_any_end_goes_to_any_end(end, part_end, marks):
    rod = bar(SQUARE, 120, name="rod", marks={"R": 30})
    piece = with_rod(rod=rod, marks={"A": 50})
    root = forged(piece, "weld_lap", **{**LAP, "zone": 20}, end=end, part_end=part_end).root
    assert root.length == pytest.approx(320)
    assert {one.name: one.at for one in root.marks} == pytest.approx(marks)
    assert [one.at for one in root.marks] == sorted(one.at for one in root.marks)


def test_names_that_are_taken_get_the_parts_name_before_them():
    rod = split(bar(Section.flat(24, 6), 200, name="rod", marks={"A": 20}), where=at("rod", offset=60))
    piece = split(with_rod(Section.flat(24, 6), rod=rod, marks={"A": 30}), 60, end="end")
    piece = forged(
        piece,
        "weld_lap",
        on="bar",
        end="start",
        part="rod",
        part_end="start",
        zone=20,
        dressed={"shape": "flat", "width": 24, "thickness": 6},
    )
    assert piece.groups == {"arms": ("left", "right"), "rod arms": ("rod left", "rod right")}
    assert {one.name for one in piece.root.marks} == {"A", "rod A"}
    assert piece.branch("rod left").attached.parent == "bar"
    assert piece.branch("rod left").attached.at == "start"


def test_a_part_brought_in_by_its_other_end_is_turned_round_in_space():
    rod = bar(SQUARE, 200, name="rod")
    rod = forged(rod, "bend", where=at("rod", "start", 60), angle=50, inside_radius=20, turn="left")
    alone = pose(rod).by_name["rod"]
    piece = forged(with_rod(rod=rod), "weld_lap", **{**LAP, "zone": 20}, part_end="end")
    posed = pose(piece).by_name["bar"]
    # walked from its end, the rod turned left bends to the right
    assert posed.end.ahead[1] == pytest.approx(-alone.end.ahead[1])
    assert posed.end.ahead[2] == pytest.approx(0)


def test_an_arm_can_be_welded_on_to():
    piece = split(with_rod(Section.flat(24, 12)), 60)
    piece = forged(piece, "weld_lap", **{**LAP, "on": "left", "zone": 20})
    assert piece.branch("left").length == pytest.approx(260)
    assert piece.branch("left").attached.parent == "bar"


def held(joint):
    (place,) = joint.places
    return place.branch, place.at


def test_joints_of_both_parts_are_kept_in_their_places():
    rod = replace(bar(SQUARE, 200, name="rod"), joints=(Joint("fold_weld", (Point("rod", 150.0),), "old"),))
    piece = forged(with_rod(rod=rod), "weld_lap", **LAP)
    assert [(one.kind, *held(one)) for one in piece.joints] == [
        ("fold_weld", "bar", pytest.approx(350)),
        ("lap_weld", "bar", pytest.approx(200)),
    ]


@pytest.mark.parametrize(
    ("params", "codes"),
    [
        ({"part": "blade"}, ["weld_lap.no_such_part"]),
        ({"zone": 250}, ["weld.zone_too_long"]),
        ({"part_zone": 250}, ["weld.zone_too_long"]),
        ({"dressed": {"shape": "square", "side": 18}}, ["weld_lap.too_little_metal"]),
        ({"on": "arms"}, ["place.no_such_branch"]),
    ],
)
def test_a_lap_weld_that_cannot_be_is_refused(params, codes):
    assert refused(with_rod(), "weld_lap", **{**LAP, **params}) == codes


def test_an_end_with_arms_on_it_and_a_hole_in_the_zone_are_refused():
    piece = split(with_rod(Section.flat(24, 12)), 60)
    assert refused(piece, "weld_lap", **LAP) == ["shape.end_taken"]
    holed = forged(with_rod(), "punch", where=[at(offset=20)], size=6)
    assert refused(holed, "weld_lap", **LAP) == ["shape.in_the_way"]


def test_one_part_is_not_welded_to_every_arm_of_a_group():
    piece = split(with_rod(Section.flat(24, 12)), 60)
    assert refused(piece, "weld_lap", **{**LAP, "on": "arms", "zone": 20}) == ["weld_lap.one_at_a_time"]


def test_unlike_metals_are_warned_of():
    rod = replace(bar(SQUARE, 200, name="rod"), material=MATERIALS["high_carbon"])
    frame = tried(with_rod(rod=rod), "weld_lap", **LAP)
    assert "weld.unlike_steels" in [one.code for one in frame.findings]


def test_finished_work_near_the_weld_is_warned_of():
    rod = forged(bar(SQUARE, 200, name="rod"), "scroll", on="rod", inner=14, outer=30, turns=0.9)
    frame = tried(with_rod(rod=rod), "weld_lap", **{**LAP, "zone": 30})
    assert "weld.finished_part_near" in [one.code for one in frame.findings]
