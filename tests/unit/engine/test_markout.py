"""The mark-out of the raw bar: what is on it, each place once, and where by hand."""

import pytest

from procedures.engine.document import read
from procedures.engine.markout import bar_marks
from procedures.engine.replay import replay

from .documents import a_document, a_part, a_step
from .forging import at

# a_part is □20 × 300


def marked_out(*steps, nominal=True, **more):
    (part,) = replay(read(a_document(a_part(*steps, **more))), nominal=nominal).parts
    assert part.is_complete, [one.text() for frame in part.frames for one in frame.findings]
    return [(round(one.at, 2), one.said) for one in bar_marks(part)]


def put(*marks, holds="metal"):
    return a_step("mark_out", marks=[{"name": name, **place} for name, place in marks], holds=holds)


def from_mark(mark, toward="end", **more):
    return {"on": "bar", "datum": "mark", "mark": mark, "toward": toward, **more}


def square(side):
    return {"shape": "square", "side": side}


def test_a_mark_and_the_work_that_begins_there_are_one_place():
    steps = (
        put(("A", at(datum="start", offset=240))),
        a_step("taper", where=from_mark("A"), end_section=square(6)),
    )
    assert marked_out(*steps) == [(240, "A; Taper (step 2)")]


def test_work_that_comes_back_to_a_place_is_said_once_with_all_its_steps():
    last = {"on": "bar", "datum": "mark", "mark": "A"}
    steps = (
        put(("A", at(datum="start", offset=240))),
        a_step("draw_out", where=last, target=square(16)),
        a_step("bend", where=at(datum="mark", mark="A"), angle=30, inside_radius=20, meaning="arc_end"),
        a_step("draw_out", where=last, target=square(12)),
    )
    assert marked_out(*steps) == [(240, "A; Draw out (steps 2, 4); Bend (step 3)")]


def test_places_a_punch_cannot_tell_apart_are_one():
    steps = (
        put(("A", at(datum="start", offset=100))),
        a_step("punch", where=[at(datum="start", offset=100.2)], size=8),
        a_step("punch", where=[at(datum="start", offset=140)], size=8),
    )
    assert marked_out(*steps) == [(100, "A; Punch (step 2)"), (140, "Punch (step 3)")]


def test_heating_truing_and_finishing_need_no_mark():
    part = {"on": "bar", "datum": "start", "offset": 50, "length": 100}
    steps = (
        a_step("heat", where=part),
        a_step("straighten", where=part, takes_out="bow"),
        a_step("planish", where=part),
        a_step("inspect", where=part),
    )
    assert marked_out(*steps) == []


def test_a_mark_put_anew_is_listed_where_it_is_put():
    steps = (
        put(("A", at(datum="start", offset=100))),
        put(("A", at(datum="start", offset=180))),
    )
    assert marked_out(*steps) == [(100, "A"), (180, "A")]


def test_marks_that_stay_with_an_end_are_not_on_the_raw_bar():
    assert marked_out(put(("grip", at(datum="end", offset=30)), holds="end")) == []


def test_marks_copied_to_the_arms_are_listed_once():
    steps = (
        put(("C", at(offset=100)), ("T", at(offset=40))),
        a_step("split", where=at(datum="mark", mark="C"), children=["left", "right"]),
        a_step("draw_out", where={"on": "arms", "datum": "mark", "mark": "T"}, reduction=50),
    )
    assert marked_out(*steps) == [(200, "C; Split (step 2)"), (260, "T; Draw out (step 3)")]


def test_places_after_many_transforms_lie_where_the_sums_of_volume_say():
    # 1: the last 60 of □20 × 300 to □10 are 240 long, 480 in all.
    # 2: upset 40 from 100 to 140 to □25: they are 25.6, so 465.6 in all.
    # 3: 300 from the start is 300 - 225.6 = 74.4 into the drawn run: 74.4 / 4 = 18.6 of raw bar beyond 240.
    # 4: the first 50 tapered to □10 are 3 × 50 × 400 / 700 = 85.714 long.
    # 5: 150 from the start is 14.286 into the upset run: 14.286 × 625 / 400 = 22.32 of raw bar beyond 100.
    steps = (
        a_step("draw_out", where={"on": "bar", "datum": "end", "length": 60}, target=square(10)),
        a_step(
            "upset", where={"on": "bar", "datum": "start", "offset": 100, "length": 40}, target=square(25)
        ),
        a_step("punch", where=[at(datum="start", offset=300)], size=4),
        a_step("taper", where={"on": "bar", "datum": "start", "length": 50}, end_section=square(10)),
        a_step("bend", where=at(datum="start", offset=150), angle=30, inside_radius=25),
    )
    assert marked_out(*steps) == [
        (50, "Taper (step 4)"),
        (100, "Upset (step 2)"),
        (122.32, "Bend (step 5)"),
        (140, "Upset (step 2)"),
        (240, "Draw out (step 1)"),
        (258.6, "Punch (step 3)"),
    ]


def test_a_fold_welded_over_a_place_lies_over_two_places_of_the_bar():
    # 20 × 5 × 200: the turn takes π × 5 / 2 = 7.854, its middle is 136.073 from the start, so that flap and
    # seat are 63.927 each, from 72.146 on; the weld is 63.927 × 200 / 180 = 71.03 long. In its middle lie the
    # middles of the seat, 72.146 + 31.964 = 104.11, and of the flap, 136.073 + 31.964 = 168.04.
    part = a_part(
        a_step("fold_back", on="bar", flap=60),
        a_step("weld_fold", on="bar", dressed={"shape": "flat", "width": 20, "thickness": 9}),
        a_step("punch", where=[at(datum="start", offset=72.146 + 71.03 / 2)], size=8),
        length=200,
    )
    part["stock"]["section"] = {"shape": "flat", "width": 20, "thickness": 5}
    (replayed,) = replay(read(a_document(part)), nominal=True).parts
    holes = [one.at for one in bar_marks(replayed) if "Punch (step 3)" in one.said]
    assert holes == pytest.approx([104.11, 168.04], abs=0.02)
