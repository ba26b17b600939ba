"""Ledges, grooves, spread ends, dishes, textures, chamfers and filing: what rides on, and what is left."""

import math

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import uniform

from .forging import at, forged, refused, split, tried

FLAT, SQUARE = Section.flat(25, 12), Section.square(10)


def end(length, on="bar"):
    return {"on": on, "datum": "end", "length": length}


def codes(frame):
    return {one.code for one in frame.findings}


def groove(piece):
    return next(one for one in piece.root.features if one.kind == "groove")


# -- ledges ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("face", "shift"),
    [("top", (0, -2.5)), ("bottom", (0, 2.5)), ("left", (-9, 0)), ("right", (9, 0))],
)
def test_metal_set_down_from_one_face_lies_flush_with_the_one_behind_it(face, shift):
    piece = forged(bar(FLAT, 200), "set_down", where=end(40), thickness=7, face=face)
    assert piece.root.segments[-1].aside == pytest.approx(shift)


def test_a_second_setting_down_adds_to_the_first():
    piece = forged(bar(FLAT, 200), "set_down", where=end(40), thickness=8)
    piece = forged(piece, "set_down", where=end(20), thickness=6, face="bottom")
    assert [one.aside for one in piece.root.segments] == [(0, 0), (0, -2), (0, -1)]
    assert pose(piece).by_name["bar"].end.origin[2] == pytest.approx(-1)


def test_metal_set_down_and_then_drawn_stays_where_it_was():
    piece = forged(bar(FLAT, 200), "set_down", where=end(40), thickness=8)
    piece = forged(piece, "draw_out", where=end(30), target={"shape": "square", "side": 6})
    assert [one.aside for one in piece.root.segments] == [(0, 0), (0, -2), (0, -2)]


def test_scale_makes_less_to_be_taken_from_one_side():
    piece = forged(bar(FLAT, 200), "set_down", heats=1, scale=0.05, where=end(40), thickness=7)
    assert piece.root.segments[-1].aside == pytest.approx((0, -(11.9 - 7) / 2))


def test_a_pair_mirrored_is_a_left_and_a_right():
    piece = split(bar(Section.flat(40, 8), 300))
    given = {"where": end(30, "arms"), "thickness": 12, "face": "left"}
    alike = tried(piece, "set_down", **given)
    assert "group.not_mirrored" in codes(alike)
    pair = forged(piece, "set_down", mirrored=True, **given)
    shifts = [pair.branch(name).segments[-1].aside for name in ("left", "right")]
    assert shifts == [(-4, 0), (4, 0)]


def test_the_ledge_of_a_run_at_the_root_of_an_arm_is_at_the_crotch():
    piece = split(bar(Section.flat(40, 8), 300))
    piece = forged(piece, "shoulder", where={"on": "left"}, thickness=6, sides="two", mark="S")
    assert piece.branch("left").mark("S").at == 0


@pytest.mark.parametrize(("toward", "expected"), [("start", 140), ("end", 100 + 30 + 28.8)])
def test_of_two_ledges_the_one_away_from_the_mark_is_named(toward, expected):
    # □12 to □10: 20 of bar come to 28.8
    piece = bar(Section.square(12), 300, marks={"A": 160 if toward == "start" else 130})
    where = {"on": "bar", "datum": "mark", "mark": "A", "toward": toward, "length": 20}
    piece = forged(piece, "shoulder", where=where, thickness=10, mark="S")
    assert piece.root.mark("S").at == pytest.approx(expected)


# -- grooves -----------------------------------------------------------------------------------------


def test_a_groove_holds_the_metal_pressed_out_and_the_mark_in_its_middle():
    piece = forged(bar(FLAT, 200, marks={"A": 80}), "fuller", where=[at(datum="mark", mark="A")], depth=3)
    found = groove(piece)
    assert found.at == pytest.approx(piece.root.mark("A").at)
    assert found.volume == pytest.approx(-2 * 22.110654 * 25)
    assert piece.volume == pytest.approx(25 * 12 * 200)
    assert found.bulge == 0
    assert (found.side, found.depth) == ("both", 3)


def test_a_groove_in_a_taper_takes_as_much_metal_from_both_sides_of_its_mark():
    piece = forged(
        bar(Section.square(20), 300, marks={"M": 280}),
        "taper",
        where=end(80),
        end_section={"shape": "square", "side": 10},
    )
    before = piece.root.mark("M").at
    share = piece.root.volume_between(0, before) / piece.volume
    grooved = forged(piece, "fuller", where=[at(datum="mark", mark="M")], depth=2)
    mark = grooved.root.mark("M").at
    gone = groove(grooved).volume / 2
    assert (grooved.root.volume_between(0, mark) + gone) / grooved.volume == pytest.approx(share)


def test_metal_that_spreads_makes_the_bar_wider_there():
    piece = forged(bar(FLAT, 200), "fuller", where=[at(datum="centre")], depth=3, spread=40)
    # 0.4 × 2 × 22.11 × 25 over 10.39 long and 12 - 4.255 high in the mean
    assert groove(piece).bulge == pytest.approx(
        0.4 * 44.2213 * 25 / (10.3923 * (12 - 44.2213 / 10.3923)), rel=1e-4
    )


def test_a_groove_rides_on_its_metal_and_is_said_to_suffer():
    piece = forged(bar(FLAT, 200), "fuller", where=[at(offset=30)], depth=3)
    frame = tried(piece, "draw_out", where=end(60), reduction=20)
    assert "shape.hole_worked" in codes(frame)
    assert any("holds the groove:" in one.text() for one in frame.findings)
    assert frame.after.volume == pytest.approx(piece.volume)


def test_no_cut_and_no_second_groove_goes_through_a_groove():
    piece = forged(bar(FLAT, 200), "fuller", where=[at(offset=30)], depth=3)
    assert refused(piece, "cut_off", at=at(offset=30)) == ["cut_off.through_a_hole"]
    assert refused(piece, "fuller", where=[at(offset=33)], depth=2) == ["fuller.meets_another"]


def test_the_middle_of_a_neck_is_its_land_even_on_a_taper():
    piece = forged(
        bar(Section.square(20), 300), "taper", where=end(80), end_section={"shape": "square", "side": 12}
    )
    piece = forged(piece, "mark_out", marks=[{"name": "N", **at(offset=60)}])
    necked = forged(
        piece, "fuller", where=[at(datum="mark", mark="N")], neck={"shape": "square", "side": 8}, land=4
    )
    mark = necked.root.mark("N").at
    assert [necked.root.section_at(mark + by).is_close(Section.square(8), 1e-6) for by in (-1.9, 1.9)] == [
        True
    ] * 2
    assert necked.volume == pytest.approx(piece.volume)


# -- spread ends -------------------------------------------------------------------------------------


def penny(thickness=3.0):
    return forged(bar(Section.round(12), 200), "spread", where=end(20), outline="disc", thickness=thickness)


def test_a_disc_holds_its_metal_and_is_as_wide_as_long():
    piece = penny()
    disc = piece.worked[0]
    diameter = 2 * math.sqrt(20 * math.pi / 4 * 144 / (3 * math.pi))
    assert disc.length == pytest.approx(diameter)
    assert piece.volume == pytest.approx(200 * math.pi / 4 * 144)
    assert piece.root.largest_between(disc.low, disc.high).width == pytest.approx(diameter)


def test_the_outline_of_a_disc_keeps_to_a_circle():
    piece = penny()
    disc = piece.worked[0]
    for step in range(1, 100):
        along = disc.length * step / 100
        circle = 2 * math.sqrt(along * (disc.length - along))
        assert piece.root.section_at(disc.low + along).width == pytest.approx(circle)


def test_an_outline_at_the_start_points_away_from_the_bar():
    given = {"outline": "leaf", "width": 24, "thickness": 2.5, "neck": 6}
    first = forged(bar(SQUARE, 200), "spread", where={"on": "bar", "datum": "start", "length": 22}, **given)
    last = forged(bar(SQUARE, 200), "spread", where=end(22), **given)
    assert first.root.segments[0].end == Section.flat(6, 2.5)
    assert first.root.segments[0].turned().section_at(20).is_close(last.root.segments[-1].section_at(20))


def test_a_width_and_its_length_lead_to_each_other():
    given = {"where": end(22), "outline": "leaf", "thickness": 2.5, "neck": 6}
    wide = tried(bar(SQUARE, 200), "spread", width=24, **given)
    long = wide.operation.solved(wide.before, wide.after)["length"]
    back = tried(bar(SQUARE, 200), "spread", length=long, **given)
    assert back.operation.solved(back.before, back.after)["width"] == pytest.approx(24)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"outline": "leaf"}, "spread.one_size"),
        ({"outline": "leaf", "width": 20, "length": 40}, "spread.one_size"),
        ({"outline": "leaf", "width": 20, "neck": 25}, "spread.neck_too_wide"),
        ({"outline": "fan", "width": 20, "thickness": 10}, "spread.not_thinner"),
    ],
)
def test_an_outline_is_refused(given, code):
    assert refused(bar(SQUARE, 200), "spread", **{"where": end(22), "thickness": 2.5, **given}) == [code]


def test_a_leaf_planished_and_flattened_stays_a_leaf():
    leaf = forged(bar(SQUARE, 200), "spread", where=end(22), outline="leaf", width=22, thickness=2.5)
    planished = forged(leaf, "planish", where=end(60), thickness=2.4)
    assert planished.root.segments[-1].widest.is_close(Section.flat(22, 2.4))
    flatter = forged(leaf, "flatten", where=end(60), thickness=2, spread=0.5)
    assert flatter.root.segments[-1].widest.is_close(Section.flat(22 * math.sqrt(2.5 / 2), 2))


# -- dishes ------------------------------------------------------------------------------------------


def test_a_dish_is_a_feature_with_its_rim_and_depth():
    piece = forged(bar(Section.flat(90, 2), 70.686), "dish", where={"on": "bar"}, depth=12)
    (dish,) = piece.root.features
    assert (dish.kind, dish.depth, dish.volume, dish.side) == ("dish", 12, 0, "top")
    assert dish.width == pytest.approx(2 * math.sqrt(45**2 - 12**2))


def test_a_dish_may_be_sunk_deeper_and_punched_in_its_middle():
    piece = forged(bar(Section.flat(90, 2), 70.686), "dish", where={"on": "bar"}, depth=8)
    piece = forged(piece, "dish", where={"on": "bar"}, depth=12)
    assert [one.depth for one in piece.root.features] == [12]
    piece = forged(piece, "punch", where=[at(datum="centre")], size=6.5)
    assert [one.kind for one in piece.root.features] == ["dish", "punched"]


# -- surfaces ----------------------------------------------------------------------------------------


def test_a_texture_is_on_its_run_only_and_is_hammered_out_by_later_work():
    piece = forged(bar(SQUARE, 200), "texture", where=end(50), pattern="lines")
    assert [one.texture for one in piece.root.segments] == ["", "lines"]
    bent = forged(piece, "bend", where=at(offset=25), angle=90, inside_radius=15)
    assert {one.texture for one in bent.root.segments_between(150, 200)} == {"lines"}
    frame = tried(piece, "draw_out", where=end(20), reduction=20)
    assert "shape.texture_worked" in codes(frame)
    assert [one.texture for one in frame.after.root.segments] == ["", "lines", ""]


def test_two_chamfers_ride_on_their_metal_and_can_be_cut():
    piece = forged(bar(Section.flat(20, 10), 200), "chamfer", where=end(100), size=2, corners="top")
    (chamfer,) = piece.root.features
    assert chamfer.volume == pytest.approx(-4 * chamfer.length)
    cut = forged(piece, "cut_off", at=at(offset=52.04), kerf=2, offcut="rest")
    (left,) = cut.root.features
    assert left.length == pytest.approx(50, abs=0.01)
    assert left.volume == pytest.approx(-4 * left.length)
    assert cut.offcuts[0].volume == pytest.approx((200 - 4) * 50.04, rel=1e-4)
    assert cut.lost("kerf") == pytest.approx((200 - 4) * 2)


def test_chamfers_on_a_drawn_run_keep_both_their_ends():
    piece = forged(
        bar(Section.square(20), 200), "chamfer", where=end(100), size=2, corners="left", method="filed"
    )
    drawn = forged(piece, "draw_out", where=end(50), target={"shape": "square", "side": 10})
    (chamfer,) = drawn.root.features
    assert (chamfer.at - chamfer.length / 2, chamfer.at + chamfer.length / 2) == pytest.approx((100, 350))


def test_filed_metal_is_lost_and_told_apart():
    piece = forged(bar(Section.flat(30, 6), 200), "file", where=end(80), depth=0.5)
    assert piece.lost("file") == pytest.approx(30 * 0.5 * 80)
    assert piece.lost() == piece.lost("file")
    assert piece.root.segments[-1].aside == (0, -0.25)


def test_a_curve_may_be_filed_but_not_forged():
    piece = forged(bar(Section.square(12), 300), "bend", where=at(datum="centre"), angle=90, inside_radius=20)
    whole = {"on": "bar", "datum": "whole"}
    assert refused(piece, "chamfer", where=whole, size=1) == ["shape.curved_metal"]
    filed = forged(piece, "chamfer", where=whole, size=1, method="filed")
    assert filed.lost("file") == pytest.approx(2 * 1 * 300)
    assert refused(piece, "shoulder", where=end(160), thickness=8) == ["shape.curved_metal"]


def test_filing_a_leaf_all_round_leaves_a_smaller_leaf():
    leaf = forged(bar(SQUARE, 200), "spread", where=end(22), outline="leaf", width=22, thickness=2.5)
    filed = forged(leaf, "file", where=end(60), depth=0.1, face="all")
    assert filed.root.segments[-1].widest.is_close(Section.flat(21.8, 2.3))
    assert refused(leaf, "file", where=end(60), depth=0.1, face="edges") == ["file.no_such_face"]


# -- a whole piece -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("scale", "long"), [(0, 60.0), (0.05, 56.5)])
def test_a_leaf_hook_state_by_state(scale, long):
    """Taper the tip, neck in behind it, draw the stem, cut off, spread the leaf and vein it."""
    piece = bar(SQUARE, 400, marks={"N": 378})
    steps = [
        ("taper", 1, {"where": end(12), "end_section": {"shape": "square", "side": 3}}),
        (
            "set_down",
            1,
            {
                "where": {"on": "bar", "datum": "mark", "mark": "N", "toward": "start", "length": 8},
                "target": {"shape": "square", "side": 6},
                "sides": "all",
                "mark": "K",
            },
        ),
        (
            "draw_out",
            2,
            {
                "where": {"on": "bar", "datum": "mark", "mark": "K", "toward": "start", "length": 20},
                "target": {"shape": "square", "side": 6},
            },
        ),
        (
            "cut_off",
            0,
            {"at": at(datum="mark", mark="K", toward="start", offset=50), "keep": "end", "kerf": 0},
        ),
        (
            "spread",
            2,
            {
                "where": {"on": "bar", "datum": "mark", "mark": "N"},
                "outline": "leaf",
                "width": 22,
                "thickness": 2.5,
            },
        ),
        ("texture", 1, {"where": {"on": "bar", "datum": "mark", "mark": "N"}, "depth": 0.6}),
    ]
    for name, heats, params in steps:
        piece = forged(piece, name, heats=heats, scale=scale, **params)
    leaf = piece.root.segments[-1]
    assert leaf.texture == "veins"
    assert abs(piece.imbalance) < 1e-3
    assert leaf.length == pytest.approx(long, abs=0.1)  # 2200 / (⅔ × 22 × 2.5) = 60 without scale
    if not scale:
        assert piece.root.length == pytest.approx(50 + 22.2 + 60, abs=0.05)


def test_a_run_of_one_section_is_even_and_a_leaf_is_not():
    assert uniform(SQUARE, 10).is_even
