"""The metal's memory: any place of a worked piece leads back to where its metal lay on the starting bar."""

import math

import pytest

from calculators.sections import Section
from procedures.engine.document import read
from procedures.engine.markout import bar_marks
from procedures.engine.pieces.origin import Slice, in_a_row, part_of, shared, turned, within
from procedures.engine.pieces.piece import bar
from procedures.engine.replay import replay

from .documents import a_document, a_part, a_step
from .forging import at, forged, split

FLAT, SQUARE = Section.flat(30, 8), Section.square(12)


def came_from(piece, branch, place):
    return piece.branch(branch).bar_positions(place)


def last(length, on="bar"):
    return {"on": on, "datum": "end", "length": length}


def test_slices_put_into_a_larger_run_keep_their_metal():
    (one,) = within((Slice("bar", 20, 80),), 0.25, 0.75)
    assert (one.low, one.high) == (0.25, 0.75)
    assert one.at(0.5) == pytest.approx(50)


def test_a_run_cut_and_put_together_again_remembers_the_same():
    whole = (Slice("bar", 0, 300),)
    parts = [(part_of(whole, 0, 0.4), 40.0), (part_of(whole, 0.4, 1), 60.0)]
    (joined,) = in_a_row(parts)
    assert (joined.start, joined.end, joined.low, joined.high) == pytest.approx((0, 300, 0, 1))


def test_metal_turned_round_is_found_from_the_other_end():
    (one,) = turned((Slice("bar", 10, 60),))
    assert one.at(0.0) == 60
    assert one.at(1.0) == 10


def test_a_share_of_a_share_is_a_share():
    (one,) = shared(shared((Slice("bar", 0, 1),), 0.5), 0.25)
    assert one.share == 0.125


def test_every_arm_of_a_split_lay_where_the_whole_bar_did():
    piece = split(bar(FLAT, 300))
    for name in ("left", "right"):
        assert came_from(piece, name, 30) == [("bar", pytest.approx(230))]
        assert [one.share for one in piece.branch(name).segments[0].origin] == [pytest.approx(0.5)]
    assert came_from(piece, "bar", 120) == [("bar", pytest.approx(120))]


def test_arms_at_the_start_are_traced_outward_from_the_crotch():
    piece = split(bar(FLAT, 300), where=at(datum="start", offset=80), end="start")
    assert came_from(piece, "left", 30) == [("bar", pytest.approx(50))]
    assert came_from(piece, "bar", 30) == [("bar", pytest.approx(110))]


def test_an_arm_drawn_out_is_traced_through_the_split():
    piece = split(bar(FLAT, 300))
    piece = forged(
        piece, "draw_out", where={"on": "arms"}, target={"shape": "flat", "width": 15, "thickness": 4}
    )
    assert piece.branch("left").length == pytest.approx(200)
    assert came_from(piece, "left", 150) == [("bar", pytest.approx(275))]


def test_a_cut_bar_is_still_measured_from_its_old_start():
    piece = forged(
        bar(SQUARE, 300), "cut_off", at=at(datum="start", offset=100), method="hot_cut", keep="end"
    )
    assert piece.root.length == pytest.approx(200)
    assert came_from(piece, "bar", 0) == [("bar", pytest.approx(100))]
    assert came_from(piece, "bar", 50) == [("bar", pytest.approx(150))]


def test_what_a_saw_took_is_missing_from_the_memory():
    piece = forged(
        bar(SQUARE, 300), "cut_off", at=at(datum="end", offset=200), method="saw", kerf=2, keep="end"
    )
    assert came_from(piece, "bar", 0) == [("bar", pytest.approx(100))]
    assert piece.root.length == pytest.approx(200)


def test_a_bend_a_scroll_and_a_twist_leave_all_metal_where_it_lay():
    piece = bar(Section.square(6), 400)
    piece = forged(piece, "bend", where=at(datum="start", offset=60), angle=90, inside_radius=12)
    piece = forged(
        piece, "twist", where={"on": "bar", "datum": "start", "offset": 100, "length": 60}, turns=1
    )
    piece = forged(piece, "scroll", on="bar", inner=7, outer=32, turns=1.5)
    for place in (0, 55, 65, 130, 250, 399):
        assert came_from(piece, "bar", place) == [("bar", pytest.approx(place))]


def test_a_welded_fold_lies_over_two_places_of_the_bar():
    piece = forged(bar(Section.flat(20, 5), 200), "fold_back", on="bar", flap=60)
    piece = forged(piece, "weld_fold", on="bar", dressed={"shape": "flat", "width": 20, "thickness": 9})
    fold = 200 - 60 - math.pi * 5 / 4
    end = piece.root.length
    middle = (fold - (200 - fold)) + piece.worked[0].length / 2
    half = (200 - fold) / 2
    assert came_from(piece, "bar", middle) == [
        ("bar", pytest.approx(fold - half)),
        ("bar", pytest.approx(fold + half)),
    ]
    assert came_from(piece, "bar", end) == [("bar", pytest.approx(fold)), ("bar", pytest.approx(fold))]
    assert came_from(piece, "bar", 40) == [("bar", pytest.approx(40))]


def test_the_bare_part_of_a_longer_seat_lies_over_one_place_only():
    piece = forged(bar(Section.flat(20, 5), 200), "fold_back", on="bar", flap=60)
    dressed = {"shape": "flat", "width": 20, "thickness": 8}
    piece = forged(piece, "weld_fold", on="bar", seat=90, dressed=dressed)
    start = piece.worked[0].low
    # the bare 26.07 mm × 100 mm² of seat fill 16.3 mm of 160 mm²
    assert len(came_from(piece, "bar", start + 10)) == 1
    assert came_from(piece, "bar", start + 10) == [("bar", pytest.approx(start + 10 * 1.6))]
    assert len(came_from(piece, "bar", start + 20)) == 2


def test_a_lap_weld_remembers_both_bars():
    piece = bar(SQUARE, 200, bench={"rod": bar(SQUARE, 120, name="rod")})
    piece = forged(piece, "weld_lap", on="bar", part="rod", zone=40, dressed={"shape": "square", "side": 13})
    weld = 80 * 144 / 169
    assert came_from(piece, "bar", 160 + weld / 4) == [("bar", pytest.approx(180))]
    assert came_from(piece, "bar", 160 + weld * 3 / 4) == [("rod", pytest.approx(20))]
    assert came_from(piece, "bar", piece.root.length) == [("rod", pytest.approx(120))]


def test_a_part_welded_on_by_its_other_end_is_remembered_backwards():
    piece = bar(SQUARE, 200, bench={"rod": bar(SQUARE, 120, name="rod")})
    given = {"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 12}}
    piece = forged(piece, "weld_lap", **given, part_end="end")
    assert came_from(piece, "bar", 210) == [("rod", pytest.approx(110))]


def test_a_dressed_hole_and_a_slit_eye_move_the_metal_beyond_them_only():
    piece = forged(bar(FLAT, 300), "punch", where=[at(datum="start", offset=80)], size=10, dressed=True)
    longer = piece.root.length - 300
    assert longer == pytest.approx(0.7 * math.pi / 4 * 100 / 30)
    assert came_from(piece, "bar", 60) == [("bar", pytest.approx(60))]
    assert came_from(piece, "bar", 200) == [("bar", pytest.approx(200 - longer))]
    eye = forged(bar(Section.square(25), 300), "slit_drift", where=[at(datum="start", offset=80)], size=20)
    assert eye.root.length == pytest.approx(300 - 0.5 * (math.pi * 20 / 2.2 - 20))
    assert came_from(eye, "bar", 200) == [("bar", pytest.approx(500 - eye.root.length))]


def test_marks_stay_in_order_through_a_whole_procedure():
    names = {name: 20.0 * (index + 1) for index, name in enumerate("ABCDEFGHIJKLMN")}
    piece = bar(FLAT, 300, marks=names)
    piece = forged(piece, "slit_drift", where=[at(datum="mark", mark="C")], size=12)
    piece = forged(
        piece, "draw_out", where={"on": "bar", "datum": "between", "mark": "E", "mark_to": "H"}, reduction=30
    )
    piece = forged(piece, "punch", where=[at(datum="mark", mark="J")], size=8, dressed=True)
    piece = split(piece, where=at(datum="mark", mark="K"))
    piece = forged(
        piece, "taper", where={"on": "arms"}, end_section={"shape": "flat", "width": 6, "thickness": 4}
    )
    for branch in piece.branches:
        places = [one.at for one in branch.marks]
        assert places == sorted(places)
        for mark in branch.marks:
            assert branch.bar_positions(mark.at)[0] == ("bar", pytest.approx(names[mark.name], abs=1e-6))


# -- the mark-out of the raw bar ---------------------------------------------------------------------


def raw_marks(*steps, **more):
    (part,) = replay(read(a_document(a_part(*steps, **more)))).parts
    assert part.is_complete, [one.text() for frame in part.frames for one in frame.findings]
    return [(round(one.at, 2), one.step, one.kind) for one in bar_marks(part)]


def test_a_hole_is_marked_by_its_centre_and_a_bend_by_the_point_it_is_measured_from():
    steps = (
        a_step("punch", where=[at(datum="start", offset=50)], size=12),
        a_step("bend", where=at(datum="end", offset=100), meaning="arc_start", angle=90, inside_radius=30),
    )
    assert raw_marks(*steps) == [(50, 1, "place"), (200, 2, "place")]


def test_a_hole_in_a_drawn_arm_is_marked_on_the_raw_bar():
    # □20 split in two of 10 × 20, drawn to 10 × 10: 80 mm into an arm of 200 lies 40 mm beyond the crotch
    steps = (
        a_step("split", where=at(offset=100), children=["left", "right"]),
        a_step("draw_out", where={"on": "arms"}, target={"shape": "square", "side": 10}),
        a_step("punch", where=[at("left", "start", 80)], size=4),
    )
    assert raw_marks(*steps) == [(200, 1, "place"), (240, 3, "place")]


def test_the_crotch_is_marked_and_opening_the_split_marks_nothing_more():
    steps = (
        a_step("split", where=at(offset=100), children=["left", "right"]),
        a_step("open_split", on="arms", angle=60),
    )
    assert raw_marks(*steps) == [(200, 1, "place")]


@pytest.mark.parametrize("tip", [2, 6])
def test_heavy_scale_on_a_taper_moves_none_of_its_metal_along(tip):
    where = last(40)
    piece = forged(bar(SQUARE, 300), "taper", where=where, end_section={"shape": "square", "side": tip})
    scaled = forged(piece, "heat", where={"on": "bar"}, heats=3, scale=0.1)
    for step in range(40):
        place = piece.root.length * (1 - step / 80)
        ((_, at),) = {(one, round(at, 6)) for one, at in came_from(scaled, "bar", place)}
        assert at == pytest.approx(came_from(piece, "bar", place)[0][1], abs=0.02)
