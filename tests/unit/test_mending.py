"""Mends applied to a stored document."""

import pytest

from calculators.wording import say
from procedures.editing import NoSuchPlace
from procedures.engine.mend import InsertStep, Mend, MoveStep, SetStep
from procedures.mending import mended
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out


def a_draft():
    return a_document(a_part(drawn_out(15), drawn_out(12, 30), a_step("inspect"), drawn_out(10, 20)))


def keys(document):
    return [one["key"] for one in document["parts"][0]["steps"]]


def applied(*changes):
    return mended(a_draft(), "bar", Mend(say("Mend it"), changes))


@pytest.mark.parametrize(
    ("change", "order"),
    [
        (MoveStep("s3", "before", "s1"), ["s3", "s1", "s2", "s4"]),
        (MoveStep("s1", "before", "s3"), ["s2", "s1", "s3", "s4"]),
        (MoveStep("s1", "after", "s3"), ["s2", "s3", "s1", "s4"]),
        (MoveStep("s4", "after", "s1"), ["s1", "s4", "s2", "s3"]),
        (MoveStep("s2", "after", "s4"), ["s1", "s3", "s4", "s2"]),
    ],
)
def test_a_step_moves_next_to_another_on_the_side_named(change, order):
    assert keys(applied(change)) == order


@pytest.mark.parametrize(("side", "index"), [("before", 0), ("after", 1)])
def test_a_new_step_is_put_beside_the_one_named_with_all_it_needs(side, index):
    params = {"where": {"on": "bar", "datum": "whole"}}
    document = applied(InsertStep("heat", side, "s1", params, heats=2))
    made = document["parts"][0]["steps"][index]
    assert made == {"key": "s5", "operation": "heat", "version": 1, "params": params, "heats": 2}


def test_a_step_gets_other_values_and_keeps_the_rest():
    document = applied(SetStep("s2", params={"final_length": 90}, fields={"tongs": "V-bit tongs"}))
    step = document["parts"][0]["steps"][1]
    assert step["params"] == {"where": {"on": "bar", "datum": "end", "length": 30}, "final_length": 90}
    assert step["tongs"] == "V-bit tongs"


def test_changes_are_made_together_in_order():
    document = applied(MoveStep("s4", "before", "s1"), SetStep("s4", fields={"heats": 3}))
    assert keys(document) == ["s4", "s1", "s2", "s3"]
    assert document["parts"][0]["steps"][0]["heats"] == 3


def test_a_step_that_is_not_there_is_refused():
    with pytest.raises(NoSuchPlace):
        applied(MoveStep("s9", "before", "s1"))


def test_the_document_itself_stays_as_it_was():
    draft = a_draft()
    mended(draft, "bar", Mend(say("Mend it"), (MoveStep("s3", "before", "s1"),)))
    assert draft == a_draft()
