"""The draft: the order of its steps, its marks, what it says of itself."""

import pytest

from procedures.drafting.drafting import drafted
from procedures.engine.document import read, write
from procedures.engine.replay import replay
from procedures.engine.scale import ScaleHabit

from .describing import POINT, described, flat, square, stem

HOOK = [
    ("flat", {"width": 20, "thickness": 5, "length": 50}),
    ("hole", {"distance": 20, "size": 6}),
    stem(60),
    ("twist", {"length": 60, "turns": 1}),
    stem(40),
    ("bend", {"inside_radius": 12}),
    stem(40),
    ("knob", {"section": square(14), "length": 12}),
    stem(40),
    ("scroll", {"inner": 7, "outer": 25, "turns": 1, "tip": square(3)}),
]
AVERAGE = ScaleHabit()


def order(draft):
    return [one.operation for one in draft.document.parts[0].steps]


def test_steps_come_in_a_smiths_order():
    assert order(drafted(described(*HOOK, scale=AVERAGE))) == [
        "cut_off",
        "mark_out",
        "upset",  # before anything thin is beside it
        "flatten",
        "punch",  # when its run has its section, and before the thin tip
        "taper",
        "twist",
        "scroll",
        "bend",  # last: it blocks what lies beyond
    ]


def test_nothing_is_cautioned_of_its_own_order():
    codes = [finding.code for _, finding in drafted(described(*HOOK, scale=AVERAGE)).cautions]
    assert not [one for one in codes if one.startswith(("order.", "access.", "holding.", "shape."))]


def test_lengths_come_out_exact_with_scale_too():
    draft = drafted(described(*HOOK, scale=AVERAGE))
    assert all(size.off < 1e-6 for row in draft.rows for size in row.sizes if not size.why)
    lengths = [size for row in draft.rows for size in row.sizes if size.label == "Length"]
    assert len(lengths) == 7
    assert max(one.off for one in lengths) < 1e-6


def test_size_that_a_later_heat_takes_from_says_so():
    twist = drafted(described(*HOOK, scale=AVERAGE)).rows[3]
    section = next(one for one in twist.sizes if one.label == "Section")
    assert 0 < section.off < 0.5
    assert "Scale" in section.why


def test_bars_are_the_sum_of_the_features_and_the_saw():
    draft = drafted(described(*HOOK, scale=AVERAGE))
    assert draft.bars["typical"] == pytest.approx(sum(one.typical for one in draft.rows) + 2)
    assert draft.bars["low"] < draft.bars["typical"] < draft.bars["high"]


def test_bar_already_cut_is_not_sawn():
    assert "cut_off" not in order(drafted(described(*HOOK, kerf=0.0)))


def test_only_marks_that_are_used_are_put_and_their_letters_have_no_gaps():
    steps = drafted(described(*HOOK)).document.parts[0].steps
    marks = [one["name"] for one in steps[1].params["marks"]]
    assert marks == [chr(ord("A") + number) for number in range(len(marks))]


def test_draft_reads_back_and_replays_as_it_was():
    draft = drafted(described(*HOOK, scale=AVERAGE, title="Hook", quantity=6))
    again = read(write(draft.document))
    assert again.title == "Hook"
    assert again.parts[0].quantity == 6
    assert replay(again).is_complete
    assert replay(again).parts[0].final.root.length == pytest.approx(draft.part.final.root.length)


def test_short_piece_has_its_tongs_named_and_long_work_its_heats():
    short = drafted(described(stem(60), ("taper", {"length": 54, "to": POINT}), scale=AVERAGE))
    assert short.document.parts[0].steps[-1].tongs
    long = drafted(described(stem(60), stem(900, section=square(9)), scale=AVERAGE))
    drawn = next(one for one in long.document.parts[0].steps if one.operation == "draw_out")
    assert drawn.heats > 2  # one stretch of the fire after another


def test_runs_of_one_section_are_drawn_in_one_step():
    run = [
        stem(60),
        stem(50, section=square(9)),
        ("twist", {"length": 60, "turns": 1}),
        stem(60, section=flat(18, 4)),
    ]
    steps = order(drafted(described(*run)))
    assert steps.count("draw_out") == 1
