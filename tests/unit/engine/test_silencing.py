"""Findings let stand: what of it a document keeps, and what a replay makes of it."""

import pytest

from procedures.engine.document import read, write
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay

from .documents import a_document, a_part, a_step, drawn_out


def with_silenced(silenced, *steps):
    document = a_document(a_part(*(steps or (drawn_out(),))))
    document["parts"][0]["steps"][0]["silenced"] = silenced
    return document


def a_hole_closed(**silenced):
    document = a_document(
        a_part(
            a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 30}], size=6),
            a_step(
                "flatten",
                heats=1,
                where={"on": "bar", "datum": "end", "length": 60},
                thickness=10,
                bite=20,
            ),
            length=500,
        )
    )
    document["parts"][0]["steps"][1]["silenced"] = silenced
    return replay(read(document)).parts[0].frames[1]


def test_reasons_are_read_and_written_again():
    document = read(with_silenced({"order.hole_closes": "Meant so."}))
    stored = write(document)["parts"][0]["steps"][0]
    assert stored["silenced"] == {"order.hole_closes": "Meant so."}
    assert read(write(document)) == document


def test_a_step_without_reasons_is_stored_without_them():
    assert "silenced" not in write(read(a_document(a_part(drawn_out()))))["parts"][0]["steps"][0]


@pytest.mark.parametrize(
    ("silenced", "said"),
    [
        (["order.hole_closes"], "object of reasons"),
        ({"hole": "So."}, "not the code of a finding"),
        ({"Order.hole": "So."}, "not the code of a finding"),
        ({"order.hole_closes": ""}, "must not be empty"),
        ({"order.hole_closes": "  "}, "must not be empty"),
        ({"order.hole_closes": "x" * 201}, "at most 200"),
        ({"order.hole_closes": "one\ntwo"}, "Control characters"),
        ({"order.hole_closes": 3}, "Words are needed"),
        ({f"order.hole_{'abcdefghij'[n % 10] * (n // 10 + 1)}": "So." for n in range(41)}, "At most 40"),
    ],
)
def test_what_is_no_reason_is_refused(silenced, said):
    with pytest.raises(DocumentError, match=said) as refused:
        read(with_silenced(silenced))
    assert refused.value.path.startswith("parts/0/steps/0/silenced")


def test_a_silenced_caution_stays_with_its_reason_and_is_not_among_the_cautions():
    frame = a_hole_closed(**{"order.hole_closes": "Meant so."})
    (found,) = [one for one in frame.findings if one.code == "order.hole_closes"]
    assert found.silenced == "Meant so."
    assert found not in frame.of_level("caution")


def test_a_reason_for_another_finding_silences_nothing_and_that_is_said():
    frame = a_hole_closed(**{"order.hole_after_twist": "Meant so.", "order.hole_closes": "Flat boss."})
    (idle,) = [one for one in frame.of_level("note") if one.code == "step.silenced_in_vain"]
    assert "not found at present: Meant so. (order.hole_after_twist)" in idle.text()
    assert "Flat boss." not in idle.text()
    frame = a_hole_closed(**{"order.hole_clsoes": "Meant so."})
    assert "order.hole_closes" in [one.code for one in frame.of_level("caution")]
    assert "step.silenced_in_vain" in [one.code for one in frame.findings]


def test_a_reason_that_silences_nothing_is_forgotten_at_one_press():
    frame = a_hole_closed(**{"order.hole_after_twist": "Meant so.", "order.hole_closes": "Flat boss."})
    (idle,) = [one for one in frame.findings if one.code == "step.silenced_in_vain"]
    (change,) = idle.mending(frame.key).changes
    assert change.fields == {"silenced": {"order.hole_closes": "Flat boss."}}
    assert "step.silenced_in_vain" not in [
        one.code for one in a_hole_closed(**change.fields["silenced"]).findings
    ]


def test_a_reason_that_is_used_is_not_said_to_be_idle():
    frame = a_hole_closed(**{"order.hole_closes": "Flat boss."})
    assert not [one.code for one in frame.findings if one.code.startswith("step.silenced")]


def test_a_stop_is_never_silenced_and_that_is_said():
    document = with_silenced({"draw_out.target_not_thinner": "I can.", "order.hole": "So."}, drawn_out(25))
    replayed = replay(read(document))
    assert [one.code for _, one in replayed.stops] == ["draw_out.target_not_thinner"]
    assert not replayed.is_complete
    (said,) = replayed.parts[0].frames[0].of_level("note")  # what is stopped may have more to say later
    assert said.code == "step.silenced_stop"
    assert "draw_out.target_not_thinner" in said.text()


def test_nothing_is_idle_at_a_step_that_is_not_reached():
    stopped = drawn_out(25)
    later = {**drawn_out(12), "silenced": {"order.hole": "So."}}
    frames = replay(read(a_document(a_part(stopped, later)))).parts[0].frames
    assert frames[1].status == "not_reached"
    assert not frames[1].findings


def test_a_replay_that_goes_on_from_an_earlier_one_finds_what_a_new_one_does():
    # what the rules say at the first step depends on the last one: marks it uses, tongs it names
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])
    drawn = drawn_out(12, 60, heats=1)
    by_mark = {**drawn, "params": {**drawn["params"], "where": {"on": "bar", "datum": "mark", "mark": "A"}}}
    first, then = (read(a_document(a_part(marked, one))) for one in (drawn, by_mark))
    old = replay(first)
    assert "mark.never_used" in [one.code for one in old.parts[0].frames[0].findings]
    new = replay(then, earlier=old)
    assert "mark.never_used" not in [one.code for one in new.parts[0].frames[0].findings]
    again = replay(first, earlier=new)
    for found, wanted in zip(again.parts[0].frames, old.parts[0].frames, strict=True):
        assert found.findings == wanted.findings
        assert found.own == wanted.own
