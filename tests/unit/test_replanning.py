"""Re-planning as texts: the same answer for the site and the phone."""

import json

import pytest

from calculators.number_texts import SPACE
from procedures.replanning import Planner, asked_of, replanned
from tests.unit.engine.documents import a_document, a_part, drawn_out

RUN = 60 * 400 / 144


def asked_for(*measured, **more):
    return replanned(
        {"document": a_document(a_part(drawn_out())), "part": "bar", "measured": measured, **more}
    )


def the_run(**typed):
    return {"step": "s1", "kind": "run", "branch": "bar", **typed}


def test_answer_can_be_sent_as_it_is():
    answer = asked_for(the_run(length="160"))
    assert json.loads(json.dumps(answer)) == answer


def test_sizes_are_told_in_words_and_in_mm():
    answer = asked_for(the_run(length="160"))
    (finished,) = answer["finished"]
    assert finished["label"] == "Whole length"
    assert (finished["planned"], finished["now"]) == (f"406.7{SPACE}mm", f"400{SPACE}mm")
    assert finished["planned_mm"] == pytest.approx(240 + RUN, abs=1e-6)
    assert not finished["near"]
    assert [one["id"] for one in answer["ways"]] == ["draw_out", "accept"]
    assert answer["ways"][0]["near"]


def test_inch_reader_types_and_reads_inches():
    answer = asked_for(the_run(length="6-5/16"), units="inch")
    (finished,) = answer["finished"]
    assert finished["now_mm"] == pytest.approx(240 + 6.3125 * 25.4, abs=1e-6)
    assert '"' in finished["now"] or "in" in finished["now"]


@pytest.mark.parametrize("typed", ["about 3", "nan", "-5", "1e999", "0", "9" * 90, "<script>", "2 x"])
def test_what_is_no_size_is_told_at_its_field_and_left_out(typed):
    answer = asked_for(the_run(length=typed, section=""), the_run(length="160"))
    assert [(one["index"], one["field"]) for one in answer["faults"]] == [(0, "length")]
    assert answer["finished"][0]["now"] == f"400{SPACE}mm"


def test_of_one_measurement_a_good_size_counts_though_the_other_is_none():
    answer = asked_for(the_run(length="160", section="square"))
    assert [one["field"] for one in answer["faults"]] == ["section"]
    assert answer["finished"][0]["now"] == f"400{SPACE}mm"


def test_nothing_measured_is_the_plan():
    answer = asked_for(the_run(length="", section=None))
    assert answer["faults"] == answer["ways"] == answer["findings"] == []
    assert all(one["near"] for one in answer["finished"])


def test_too_many_measurements_are_refused_in_words():
    answer = asked_for(*[the_run(length="160")] * 201)
    assert "200" in answer["faults"][-1]["message"]


def test_part_that_is_not_there_is_an_error():
    with pytest.raises(KeyError):
        replanned({"document": a_document(a_part(drawn_out())), "part": "none"})


def test_what_can_be_measured_is_said_with_what_it_should_be():
    planner = Planner(a_document(a_part(drawn_out())))
    run, whole = planner.asked("bar")["s1"]
    assert (run.label, run.length, run.section) == ("Worked part", f"166.7{SPACE}mm", f"□12{SPACE}mm")
    assert (whole.label, whole.length, whole.section) == ("Whole length", f"406.7{SPACE}mm", "")
    frame = planner.planned.parts[0].frames[0]
    assert asked_of(frame, planner.units) == [run, whole]
    assert planner.asked("none") == {}
