"""Offsets, loops and square corners in space: steps, eyes on the line of the bar, and pairs."""

import math

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose

from .forging import at, forged, refused, split, tried

FLAT, SQUARE = Section.flat(30, 8), Section.square(12)


def axes_at(piece, place, branch="bar"):
    return pose(piece).by_name[branch].axes_at(place)


def end_of(piece, branch="bar"):
    return pose(piece).by_name[branch].end


# -- offsets -----------------------------------------------------------------------------------------


def offset(piece, **more):
    given = {"where": at(datum="centre"), "height": 20, "angle": 45, "inside_radius": 6, **more}
    return forged(piece, "offset", **given)


@pytest.mark.parametrize("angle", [20, 45, 90])
@pytest.mark.parametrize("turn", ["up", "down", "left", "right"])
def test_an_offset_moves_the_end_by_its_step_and_leaves_it_parallel(turn, angle):
    height = 100 if turn in ("left", "right") else 20
    end = end_of(offset(bar(FLAT, 400), turn=turn, angle=angle, height=height))
    moved = {"up": (0, 1), "down": (0, -1), "left": (1, 0), "right": (-1, 0)}[turn]
    assert end.origin[1:] == pytest.approx([height * one for one in moved])
    assert end.ahead == pytest.approx((1, 0, 0))


def test_an_offset_draws_the_bar_in_by_what_is_said():
    frame = tried(bar(FLAT, 300), "offset", where=at(datum="centre"), height=20, angle=45, inside_radius=6)
    assert end_of(frame.after).origin[0] == pytest.approx(300 - 7.42, abs=0.01)
    assert "draws in 7.4 mm" in frame.instruction.text().replace("\N{NO-BREAK SPACE}", " ").replace(
        "\N{NARROW NO-BREAK SPACE}", " "
    )


def test_an_offset_marked_at_any_of_its_points_is_the_same():
    spans = [
        offset(bar(FLAT, 300), where=at(datum="start", offset=place), meaning=meaning).worked[0]
        for meaning, place in (("begins", 100), ("middle", 117.854), ("ends", 135.708))
    ]
    for one in spans:
        assert (one.low, one.high) == pytest.approx((100, 135.708), abs=0.001)


def test_an_offset_of_a_tapered_bar_makes_its_step_all_the_same():
    tapered = forged(
        bar(SQUARE, 300),
        "taper",
        where={"on": "bar", "datum": "end", "length": 100},
        end_section={"shape": "square", "side": 6},
    )
    end = end_of(offset(tapered, where=at(datum="end", offset=90)))
    assert end.origin[2] == pytest.approx(20)
    assert end.ahead == pytest.approx((1, 0, 0))


def test_an_offset_of_half_round_bar_goes_by_its_centroid_both_ways():
    end = end_of(offset(bar(Section.half_round(20), 300)))
    assert end.origin[2] == pytest.approx(20)


def test_the_angle_that_is_offered_for_too_low_a_step_works():
    given = {"where": at(datum="centre"), "height": 5, "inside_radius": 10}
    (finding,) = tried(bar(FLAT, 300), "offset", angle=60, **given).of_level("stop")
    assert forged(bar(FLAT, 300), "offset", **given, **finding.mend)


def test_a_pair_of_arms_is_offset_to_either_hand_when_mirrored():
    piece = split(bar(FLAT, 400), offset=200)
    piece = forged(
        piece,
        "offset",
        where=at("arms", "centre"),
        height=20,
        inside_radius=15,
        turn="left",
        mirrored=True,
    )
    left, right = (
        end_of(piece, name).origin[1] - axes_at(piece, 0, name).origin[1] for name in ("left", "right")
    )
    assert (left, right) == pytest.approx((20, -20))


def test_a_pair_offset_alike_on_edge_is_pointed_out():
    frame = tried(
        split(bar(FLAT, 400), offset=200),
        "offset",
        where=at("arms", "centre"),
        height=20,
        inside_radius=15,
        turn="left",
    )
    assert "group.not_mirrored" in [one.code for one in frame.findings]


def test_a_hole_close_to_an_offset_is_warned_of():
    piece = forged(bar(FLAT, 300), "punch", where=[at(datum="start", offset=120)], size=8)
    frame = tried(piece, "offset", where=at(datum="centre"), height=20, angle=45, inside_radius=6)
    assert "offset.hole_near" in [one.code for one in frame.findings]


def test_a_bar_already_bent_there_is_not_offset():
    bent = forged(bar(FLAT, 300), "bend", where=at(datum="centre"), angle=90, inside_radius=15)
    assert refused(bent, "offset", where=at(datum="centre"), height=20, inside_radius=6) == [
        "shape.already_bent"
    ]


# -- loops -------------------------------------------------------------------------------------------


def middle_of_eye(piece, diameter, thickness, start, plane=2):
    """Return the middle of the circle that a loop follows from `start` on: one radius to its hollow side."""
    axes = axes_at(piece, start)
    side = axes.up if plane == 2 else axes.left
    return [o + (diameter + thickness) / 2 * s for o, s in zip(axes.origin, side, strict=True)]


@pytest.mark.parametrize("end", ["end", "start"])
def test_a_whole_eye_comes_back_to_where_it_began(end):
    piece = forged(bar(Section.round(8), 300), "loop", on="bar", end=end, inside_diameter=20)
    begins = 300 - math.pi * 28 if end == "end" else math.pi * 28
    tip = 300 if end == "end" else 0
    assert axes_at(piece, tip).origin == pytest.approx(axes_at(piece, begins).origin, abs=1e-6)


@pytest.mark.parametrize("end", ["end", "start"])
@pytest.mark.parametrize(("turn", "sign"), [("up", 1), ("down", -1)])
def test_an_eye_lies_on_the_side_it_is_turned_to(end, turn, sign):
    piece = forged(bar(Section.round(8), 300), "loop", on="bar", end=end, inside_diameter=20, turn=turn)
    begins = 300 - math.pi * 28 if end == "end" else math.pi * 28
    half_way = 300 - math.pi * 14 if end == "end" else math.pi * 14
    rise = axes_at(piece, half_way).origin[2] - axes_at(piece, begins).origin[2]
    if end == "start":  # the walk begins in the eye: seen from the bar
        bar_up = axes_at(piece, 300).up
        rise = sum(
            (a - b) * u
            for a, b, u in zip(
                axes_at(piece, half_way).origin, axes_at(piece, begins).origin, bar_up, strict=True
            )
        )
    assert rise == pytest.approx(sign * 28)


@pytest.mark.parametrize("sweep", [200, 340, 360])
def test_a_centred_eye_has_its_middle_on_the_line_of_the_bar(sweep):
    piece = forged(
        bar(Section.round(8), 300), "loop", on="bar", inside_diameter=20, style="centred", sweep=sweep
    )
    begins = 300 - math.radians(sweep) * 14
    middle = middle_of_eye(piece, 20, 8, begins + 1e-6)
    assert middle == pytest.approx([begins + 14, 0, 0], abs=1e-4)


def test_a_centred_eye_at_the_start_and_on_edge_has_its_middle_there_too():
    piece = forged(
        bar(Section.flat(10, 6), 300),
        "loop",
        on="bar",
        end="start",
        inside_diameter=40,
        style="centred",
        turn="right",
        sweep=350,
    )
    arc = math.radians(350) * 25
    posed = pose(piece, held=200).by_name["bar"]
    first, second = posed.axes_at(arc / 3), posed.axes_at(arc / 2)
    for axes in (first, second):
        middle = [o - 25 * w for o, w in zip(axes.origin, axes.left, strict=True)]
        assert middle[1:] == pytest.approx([0, 0], abs=1e-6)


def test_a_hook_with_a_straight_tip_points_back():
    piece = forged(bar(Section.round(10), 300), "loop", on="bar", inside_diameter=30, sweep=180, tail=12)
    end = end_of(piece)
    assert end.ahead == pytest.approx((-1, 0, 0))
    assert end.origin == pytest.approx((300 - 12 - math.pi * 20 - 12, 0, 40))


def test_a_loop_that_uses_up_the_bar_cannot_be_centred():
    whole = bar(Section.round(8), math.pi * 28)
    assert refused(whole, "loop", on="bar", inside_diameter=20, style="centred") == ["loop.no_stem"]
    assert forged(whole, "loop", on="bar", inside_diameter=20).root.length == pytest.approx(math.pi * 28)


def test_an_eye_smaller_than_its_bar_is_cautioned():
    frame = tried(bar(SQUARE, 300), "loop", on="bar", inside_diameter=10)
    assert "loop.small_eye" in [one.code for one in frame.findings]


def test_an_eye_is_turned_on_both_arms_to_either_hand():
    piece = split(bar(FLAT, 400), offset=250)
    piece = forged(piece, "loop", on="arms", inside_diameter=30, turn="left", mirrored=True, sweep=180)
    sides = [
        axes_at(piece, 250, name).origin[1] - axes_at(piece, 0, name).origin[1] for name in ("left", "right")
    ]
    assert sides == pytest.approx([45, -45])


# -- square corners ----------------------------------------------------------------------------------


@pytest.mark.parametrize("fillet", [0, 3])
def test_a_square_corner_has_the_outside_legs_that_were_cut_for(fillet):
    length = 100 + 80 - 12 + (1 - math.pi / 4) * fillet**2 / 12
    from_start, from_end = (
        forged(
            bar(Section.flat(20, 12), length),
            "corner",
            where=at(datum=datum, offset=leg),
            meaning="outside_corner",
            fillet=fillet,
        )
        for datum, leg in (("start", 100), ("end", 80))
    )
    for piece in (from_start, from_end):
        end = end_of(piece)
        assert end.origin[0] + 6 == pytest.approx(100)
        assert end.origin[2] + 6 == pytest.approx(80)


def test_an_inside_corner_lies_where_it_was_wanted():
    piece = forged(
        bar(SQUARE, 300), "corner", where=at(datum="start", offset=100), meaning="inside_corner", fillet=0
    )
    assert end_of(piece).origin[0] - 6 == pytest.approx(100)


def test_a_corner_says_its_outside_legs():
    frame = tried(bar(Section.flat(20, 12), 168), "corner", where=at(datum="start", offset=94), fillet=0)
    said = frame.check.text().replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert "outside legs 100 mm and 80 mm" in said


def test_an_upset_bar_is_not_told_to_upset():
    upset = forged(
        bar(SQUARE, 300),
        "upset",
        where={"on": "bar", "datum": "centre", "length": 40},
        target={"shape": "square", "side": 15},
    )
    given = {"where": at(datum="centre"), "fillet": 2}
    assert "corner.gathers" not in [one.code for one in tried(upset, "corner", **given).findings]
    assert "corner.gathers" in [one.code for one in tried(bar(SQUARE, 300), "corner", **given).findings]


def test_two_corners_make_a_square_u():
    """120 outside of 12 thick: the corners turn 108 apart."""
    piece = bar(Section.flat(25, 12), 216)
    for place in (54, 162):
        piece = forged(piece, "corner", where=at(datum="start", offset=place), fillet=0)
    end = end_of(piece)
    assert end.ahead == pytest.approx((-1, 0, 0))
    assert end.origin == pytest.approx((0, 0, 108))


def test_a_corner_is_bent_metal_for_what_comes_after():
    piece = forged(bar(SQUARE, 300), "corner", where=at(datum="centre"))
    assert refused(piece, "bend", where=at(datum="centre"), angle=90, inside_radius=12) == [
        "shape.already_bent"
    ]
    straight = forged(piece, "straighten", where={"on": "bar", "datum": "whole"})
    assert end_of(straight).origin == pytest.approx((300, 0, 0))
