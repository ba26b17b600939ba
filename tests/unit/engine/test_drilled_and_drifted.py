"""Holes that are drilled and drifted, and slots: their metal, their walls, and what they may not meet."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.drifted_wall import ROUND, SHARP, ring_area, wall_of
from calculators.sections import Section
from procedures.drawing.holes import hole_outline
from procedures.engine.pieces.piece import bar
from procedures.engine.shaping.holes import Hole

from .forging import at, forged, refused, split, tried

FLAT, SQUARE = Section.flat(40, 10), Section.square(25)


def codes(frame):
    return {one.code for one in frame.findings}


def drilled(piece, size=10, **more):
    return forged(piece, "drill", **{"where": [at(datum="centre")], "size": size, **more})


def hole_of(piece, branch="bar", name="hole"):
    return next(one for one in piece.branch(branch).features if one.name == name)


# -- slots -------------------------------------------------------------------------------------------


def test_a_slot_is_a_rectangle_between_two_half_rounds():
    slot = Hole("slot", 30, 8)
    assert slot.area == pytest.approx(22 * 8 + math.pi * 16)
    assert slot.perimeter == pytest.approx(44 + math.pi * 8)
    assert slot.through(FLAT) == pytest.approx(10)


def test_a_slot_as_long_as_wide_is_round():
    assert Hole("slot", 8, 8).area == pytest.approx(Hole("round", 8, 8).area)


def test_a_slot_through_round_bar_goes_by_its_mean_depth():
    deep = Hole("slot", 40, 10).through(Section.round(25))
    assert 24 < deep < 25


def test_the_outline_of_a_slot_goes_round_both_its_ends():
    feature = hole_of(drilled(bar(FLAT, 300), size=8, shape="slot", length=30))
    outline = hole_outline(feature, 16)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((-15, 15, -4, 4))
    area = sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1], strict=True)
    )
    assert abs(area) / 2 == pytest.approx(Hole("slot", 30, 8).area, rel=0.02)


@pytest.mark.parametrize(
    ("given_sizes", "code"),
    [
        ({"shape": "slot", "size": 8}, "no_length"),
        ({"shape": "slot", "size": 8, "length": 6}, "slot_too_short"),
        ({"shape": "round", "size": 8, "length": 20}, "length_not_used"),
    ],
)
@pytest.mark.parametrize("operation", ["punch", "drill"])
def test_the_sizes_of_a_hole_must_fit_its_shape(operation, given_sizes, code):
    found = refused(bar(FLAT, 300), operation, where=[at(datum="centre")], **given_sizes)
    assert found == [f"{operation}.{code}"]


def test_a_slot_is_slit_and_drifted_from_half_its_edge():
    frame = tried(
        bar(SQUARE, 300),
        "slit_drift",
        where=[at(datum="centre")],
        shape="slot",
        size=12,
        length=30,
        stretch=0,
        closing=0,
    )
    assert frame.operation.slit == pytest.approx((36 + math.pi * 12) / 2)


# -- drilling ----------------------------------------------------------------------------------------


def test_a_drilled_hole_loses_all_its_metal_and_raises_no_boss():
    piece = drilled(bar(FLAT, 300))
    feature = hole_of(piece)
    assert feature.kind == "drilled"
    assert feature.bulge == 0
    assert feature.volume == pytest.approx(-math.pi * 25 * 10)
    assert piece.lost("drill") == pytest.approx(math.pi * 25 * 10)
    assert piece.volume == pytest.approx(300 * 400 - math.pi * 250)


def test_a_hole_drilled_from_the_edge_goes_through_the_width():
    piece = drilled(bar(FLAT, 300), size=5, face="edge")
    assert piece.lost("drill") == pytest.approx(math.pi / 4 * 25 * 40)


def test_drilling_takes_no_heat():
    frame = tried(bar(FLAT, 300), "drill", where=[at(datum="centre")], size=10, heats=2, scale=0.1)
    assert frame.after.lost("scale") == 0


def test_a_drill_in_the_middle_of_a_smaller_hole_opens_it_and_keeps_its_name():
    piece = forged(bar(FLAT, 300), "punch", where=[at(datum="centre")], size=8, name="pin")
    opened = drilled(piece, size=10)
    (feature,) = opened.root.features
    assert (feature.name, feature.width) == ("pin", 10)
    assert opened.lost("drill") == pytest.approx(math.pi / 4 * (100 - 64) * 10)
    assert opened.volume == pytest.approx(piece.volume - opened.lost("drill"))


def test_a_drill_beside_a_hole_runs_into_it():
    piece = drilled(bar(FLAT, 300), size=8)
    found = refused(piece, "drill", where=[at(datum="start", offset=154)], size=10)
    assert found == ["drill.meets_another"]


def test_a_smaller_drill_in_the_middle_of_a_hole_is_refused():
    assert refused(drilled(bar(FLAT, 300)), "drill", where=[at(datum="centre")], size=8) == [
        "drill.meets_another"
    ]


def test_each_arm_is_drilled_and_each_hole_named_alike():
    piece = forged(split(bar(FLAT, 300)), "drill", where=[at("arms", "centre")], size=6)
    assert [one.name for arm in ("left", "right") for one in piece.branch(arm).features] == ["hole", "hole"]


def test_steel_that_hardens_is_cautioned():
    hard = bar(FLAT, 300, material_id="high_carbon")
    frame = tried(hard, "drill", where=[at(datum="centre")], size=10)
    assert "drill.may_be_hard" in codes(frame)


@pytest.mark.parametrize(("size", "cautioned"), [(6.75, False), (6.8, False), (8, True), (6, True)])
def test_a_thread_wants_its_tapping_size(size, cautioned):
    frame = tried(bar(FLAT, 300), "drill", where=[at(datum="centre")], size=size, thread="M8")
    assert ("drill.tapping_size" in codes(frame)) == cautioned


def test_a_slot_takes_no_thread():
    given_sizes = {"shape": "slot", "size": 8, "length": 30, "thread": "M8"}
    assert refused(bar(FLAT, 300), "drill", where=[at(datum="centre")], **given_sizes) == [
        "drill.thread_in_a_slot"
    ]


# -- drifting ----------------------------------------------------------------------------------------


@given(st.floats(3, 60), st.floats(1, 40), st.floats(1.01, 3))
def test_the_ring_round_a_drifted_hole_keeps_its_area(diameter, wall, times):
    area = ring_area(math.pi * diameter, ROUND, wall)
    after = wall_of(math.pi * diameter * times, ROUND, area)
    assert ring_area(math.pi * diameter * times, ROUND, after) == pytest.approx(area)
    assert after < wall


@given(st.floats(3, 60), st.floats(1, 40))
def test_the_ring_round_a_square_hole_is_a_square_less_a_square(side, wall):
    assert ring_area(4 * side, SHARP, wall) == pytest.approx((side + 2 * wall) ** 2 - side**2)


def test_a_drifted_hole_stands_out_by_what_its_walls_and_width_come_to():
    piece = forged(
        drilled(bar(Section.flat(44, 10), 300), size=20), "drift", on="bar", holes=["hole"], size=24
    )
    feature = hole_of(piece)
    assert feature.bulge == pytest.approx(45.96 - 44, abs=0.01)
    assert feature.kind == "drilled"
    assert feature.volume == pytest.approx(-math.pi * 100 * 10)


def test_a_punched_hole_drifted_further_loses_no_more():
    before = forged(bar(SQUARE, 300), "punch", where=[at(datum="centre")], size=10)
    after = forged(before, "drift", on="bar", holes=["hole"], size=14)
    assert after.volume == pytest.approx(before.volume)
    assert hole_of(after).kind == "drifted"
    assert hole_of(after).bulge > hole_of(before).bulge


def test_drifting_twice_comes_to_the_same_as_once():
    before = forged(bar(SQUARE, 300), "punch", where=[at(datum="centre")], size=10)
    once = forged(before, "drift", on="bar", holes=["hole"], size=16)
    step = forged(before, "drift", on="bar", holes=["hole"], size=13)
    twice = forged(step, "drift", on="bar", holes=["hole"], size=16)
    assert hole_of(twice).bulge == pytest.approx(hole_of(once).bulge)


def test_several_holes_are_drifted_alike_on_each_arm():
    piece = forged(
        split(bar(FLAT, 400), offset=200), "punch", where=[at("arms", "centre")], size=6, name="pin"
    )
    piece = forged(piece, "drift", on="arms", holes=["pin"], size=8)
    assert {hole_of(piece, arm, "pin").width for arm in ("left", "right")} == {8}
    assert {one.branch for one in piece.worked} == {"left", "right"}


def test_a_far_stretch_says_how_many_heats_it_takes():
    piece = forged(bar(SQUARE, 300), "punch", where=[at(datum="centre")], size=10)
    frame = tried(piece, "drift", on="bar", holes=["hole"], size=22)
    (found,) = [one for one in frame.findings if one.code == "drift.stretches_far"]
    assert "Take 3 heats" in found.text()


def test_a_hole_is_not_drifted_into_the_next():
    piece = forged(bar(FLAT, 300), "punch", where=[at(offset=100), at(offset=118)], size=10)
    assert refused(piece, "drift", on="bar", holes=["hole 1"], size=30) == ["drift.meets_another"]


def test_two_holes_drifted_together_do_not_run_into_each_other():
    piece = forged(bar(FLAT, 300), "punch", where=[at(offset=100), at(offset=118)], size=10)
    assert refused(piece, "drift", on="bar", holes=["hole 1", "hole 2"], size=20) == ["drift.meets_another"]
    forged(piece, "drift", on="bar", holes=["hole 1", "hole 2"], size=14)


def test_a_hole_is_not_drifted_over_the_end():
    piece = forged(bar(FLAT, 300), "punch", where=[at(offset=12)], size=10)
    assert refused(piece, "drift", on="bar", holes=["hole"], size=26) == ["drift.breaks_out"]


def test_a_groove_is_no_hole_to_drift():
    assert refused(bar(FLAT, 300), "drift", on="bar", holes=["neck"], size=26) == ["drift.no_such_hole"]
