"""Replaying: frames in order, stops that stop, and scale that can be left out."""

import pytest

from calculators.sections import Section
from procedures.engine.document import read
from procedures.engine.markout import bar_marks
from procedures.engine.replay import replay

from .documents import a_document, a_part, a_step, drawn_out


def frames(*steps, draft=False, nominal=False, **more):
    replayed = replay(read(a_document(a_part(*steps), **more), draft=draft), nominal=nominal)
    return replayed.parts[0].frames


def test_each_step_finds_the_piece_the_last_one_left():
    first, second = frames(drawn_out(15), drawn_out(12, 30))
    assert second.before.branches == first.after.branches
    assert second.after.root.length == pytest.approx(240 + 60 * 400 / 225 - 30 + 30 * 225 / 144)


def test_a_stop_ends_the_replay_and_later_steps_are_kept_as_not_reached():
    steps = frames(drawn_out(12), drawn_out(25), drawn_out(10))
    assert [one.status for one in steps] == ["done", "stopped", "not_reached"]
    assert [one.code for one in steps[1].findings] == ["draw_out.target_not_thinner"]
    assert steps[2].after == steps[0].after
    assert steps[2].step.params["target"] == {"shape": "square", "side": 10}


def test_a_step_of_an_unknown_operation_is_a_finding_that_names_it():
    (only,) = frames(a_step("enchant"), draft=True)
    assert only.status == "stopped"
    assert only.findings[0].code == "step.unknown_operation"
    assert "enchant" in only.findings[0].text()


def test_a_step_without_its_parameters_is_a_finding_on_the_field_that_is_missing():
    (only,) = frames(a_step("draw_out"), draft=True)
    assert only.findings[0].code == "step.incomplete"
    assert only.findings[0].field == "where"


def test_a_group_that_is_not_there_is_a_finding_that_says_what_is():
    (only,) = frames(drawn_out(on="arms"))
    assert only.status == "stopped"
    assert only.findings[0].code == "place.no_such_branch"
    assert "There is: bar" in only.findings[0].text()


def test_scale_goes_before_the_shape_and_can_be_left_out():
    # two heats of 0.05 mm a face: □19.8 before it is drawn to □12
    with_scale = frames(drawn_out(heats=2), scale={"forging": 0.05})[0]
    nominal = frames(drawn_out(heats=2), scale={"forging": 0.05}, nominal=True)[0]
    assert with_scale.after.worked[0].length == pytest.approx(60 * 19.8**2 / 144)
    assert nominal.after.worked[0].length == pytest.approx(60 * 400 / 144)
    assert with_scale.lost == pytest.approx(60 * (400 - 19.8**2))
    assert nominal.lost == 0


def test_more_metal_is_lost_in_a_high_estimate_than_in_a_low_one():
    document = read(a_document(a_part(drawn_out(heats=3))))
    lost = [replay(document, estimate=one).parts[0].frames[0].lost for one in ("low", "typical", "high")]
    assert 0 < lost[0] < lost[1] < lost[2]


def test_the_places_of_work_are_marked_on_the_raw_bar():
    # the second range begins 30 mm back from the end of a run drawn from □20 to □15: 30 × 225 / 400 of bar
    document = read(a_document(a_part(drawn_out(15), drawn_out(12, 30))))
    marks = bar_marks(replay(document).parts[0])
    assert [(one.at, one.step) for one in marks] == [
        (pytest.approx(240), 1),
        (pytest.approx(300 - 30 * 225 / 400), 2),
    ]


def test_the_section_after_is_the_one_asked_for():
    (only,) = frames(drawn_out(12))
    assert only.after.root.section_at(300) == Section.square(12)
    assert str(only.instruction).startswith("Draw the last 60")


def test_a_bar_burnt_away_by_scale_is_a_stop_that_says_how_deep_it_goes():
    (only,) = frames(drawn_out(12, heats=200), scale={"forging": 0.1})
    assert [one.code for one in only.findings] == ["scale.burnt_away"]
    assert "20 mm deep" in only.findings[0].text().replace("\u202f", " ")
