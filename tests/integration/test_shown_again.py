"""What a process remembers of a draft never shows in place of what the draft is now."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators.wording import INCH, METRIC
from procedures import actions, editing
from procedures.views import kept
from procedures.views.bench import Bench
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .showing import a_draft, person

pytestmark = pytest.mark.django_db


class Request:
    """As much of a request as the bench reads."""

    def __init__(self, units):
        self.user = person()
        self.units = units
        self.GET = {}


def rows(procedure, units=METRIC):
    return Bench(Request(units), procedure, "bar", "s1").rows


def change(procedure, what, key):
    by = person()
    if what == "undo":
        return actions.undo(procedure=procedure, by=by)[0]
    try:
        if what == "move":
            return actions.move_step(procedure=procedure, part="bar", step=key, to=0, by=by)
        if what == "delete":
            return actions.delete_step(procedure=procedure, part="bar", step=key, by=by)
        if what == "copy":
            return actions.duplicate_step(procedure=procedure, part="bar", step=key, by=by)[0]
        procedure.refresh_from_db()
        base = editing.step_digest(editing.step_of(procedure.document, "bar", key))
        fields = {"heats": int(what)}
        return actions.edit_step(procedure=procedure, part="bar", step=key, fields=fields, base=base, by=by)
    except (actions.Refused, editing.NoSuchPlace):
        return procedure


changes = st.lists(
    st.tuples(
        st.sampled_from(["0", "2", "move", "delete", "copy", "undo"]),
        st.sampled_from(["s1", "s2", "s3", "s4"]),
    ),
    max_size=5,
)


@given(changes)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_rows_with_a_memory_are_the_rows_without(changes):
    draft = a_draft(a_document(a_part(drawn_out(18), drawn_out(16), drawn_out(14), drawn_out(12))))
    rows(draft)
    for what, key in changes:
        draft = change(draft, what, key)
        remembered = rows(draft), rows(draft, INCH)
        kept.forget()
        assert (rows(draft), rows(draft, INCH)) == remembered
        assert kept.recalled(draft) is not None


def test_memory_is_of_one_version(alice):
    draft = a_draft()
    rows(draft)
    assert kept.recalled(draft) is not None
    changed = change(draft, "2", "s1")
    assert kept.recalled(changed) is None


def test_only_so_many_drafts_are_remembered(monkeypatch):
    monkeypatch.setattr(kept, "MOST", 2)
    drafts = [a_draft() for _ in range(3)]
    for draft in drafts:
        rows(draft)
    assert [kept.recalled(one) is not None for one in drafts] == [False, True, True]
