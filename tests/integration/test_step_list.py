"""The list of steps: inserting, moving, duplicating, deleting; and the parts."""

import pytest
from django.urls import reverse

from procedures import actions
from procedures.actions import Refused
from procedures.engine.catalogue import catalogue
from procedures.engine.document import MOST_STEPS
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .authoring import HTMX, bench_of, step_keys, stored, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db


def three_steps():
    return a_draft(a_document(a_part(drawn_out(18), drawn_out(16), drawn_out(14))))


def address(procedure, name, step="", **more):
    return reverse(f"procedures:{name}", args=[procedure.slug, "bar", *([step] if step else [])])


def insert(client, procedure, operation, after):
    return client.post(address(procedure, "insert_step"), {"operation": operation, "after": after})


@pytest.mark.parametrize("after", ["", "s1", "s2", "s3"])
def test_step_is_inserted_anywhere(alice, after):
    draft = three_steps()
    response = insert(alice, draft, "planish", after)
    assert response.url.endswith("?part=bar&step=s4")
    keys = ["s1", "s2", "s3"]
    keys.insert(keys.index(after) + 1 if after else 0, "s4")
    assert step_keys(draft) == keys
    step = stored(draft, "s4")
    assert (step["operation"], step["params"]) == ("planish", {})


@pytest.mark.parametrize("operation", catalogue())
def test_every_operation_can_be_inserted_and_opened(alice, operation):
    draft = three_steps()
    insert(alice, draft, operation, "s1")
    html = bench_of(alice, draft, "s4")
    assert catalogue()[operation].title in words(html)


@pytest.mark.parametrize("operation", catalogue())
def test_every_example_can_be_opened_and_saved_unchanged(alice, operation):
    """What an operation may hold, its form shows and gives back as it was."""
    from .authoring import the_form

    for example in catalogue()[operation].examples:
        run = [*example.first, (operation, example.params)]
        steps = [{"operation": name, "params": dict(params)} for name, params in run]
        draft = a_draft(a_document(a_part(*steps)))
        key = f"s{len(run)}"
        before = stored(draft, key)
        form = the_form(bench_of(alice, draft, key), "step-form")
        response = alice.post(form.action, form.fields)
        assert response.status_code == 302, (example.title, words(response))
        assert stored(draft, key)["params"] == before["params"], example.title


def test_unknown_operation_is_not_inserted(alice):
    draft = three_steps()
    insert(alice, draft, "levitate", "s1")
    assert step_keys(draft) == ["s1", "s2", "s3"]


def test_insertion_after_a_step_that_is_gone_is_refused_with_the_reason(alice):
    draft = three_steps()
    response = alice.post(
        address(draft, "insert_step"), {"operation": "planish", "after": "s9"}, headers=HTMX
    )
    assert response.status_code == 422
    assert "There is no step" in words(response)


@pytest.mark.parametrize(
    ("step", "to", "keys"),
    [
        ("s1", "1", ["s2", "s1", "s3"]),
        ("s3", "0", ["s3", "s1", "s2"]),
        ("s1", "99", ["s2", "s3", "s1"]),
        ("s1", "-1", ["s1", "s2", "s3"]),
    ],
)
def test_step_moves(alice, step, to, keys):
    draft = three_steps()
    response = alice.post(address(draft, "move_step", step), {"to": to})
    assert response.url.endswith(f"step={step}")
    assert step_keys(draft) == keys


@pytest.mark.parametrize("to", ["", "up", "1.5", "9" * 30])
def test_place_to_move_to_must_be_a_place(alice, to):
    draft = three_steps()
    assert alice.post(address(draft, "move_step", "s1"), {"to": to}).status_code == 400
    assert step_keys(draft) == ["s1", "s2", "s3"]


def test_step_is_duplicated_after_itself(alice):
    draft = three_steps()
    alice.post(address(draft, "duplicate_step", "s2"))
    assert step_keys(draft) == ["s1", "s2", "s4", "s3"]
    assert stored(draft, "s4")["params"] == stored(draft, "s2")["params"]


def test_step_is_deleted_and_undone(alice):
    draft = three_steps()
    before = stored(draft)
    response = alice.post(address(draft, "delete_step", "s2"), headers=HTMX)
    assert response.status_code == 200
    assert "Undo brings it back" in words(response)
    assert response["HX-Push-Url"].endswith("step=s1")
    assert step_keys(draft) == ["s1", "s3"]
    alice.post(reverse("procedures:undo", args=[draft.slug]))
    assert stored(draft) == before


def test_changes_of_a_step_that_is_gone_are_refused(alice):
    draft = three_steps()
    for name, data in (("move_step", {"to": "0"}), ("duplicate_step", {}), ("delete_step", {})):
        response = alice.post(address(draft, name, "s9"), data, headers=HTMX)
        assert response.status_code == 422
        assert "There is no step" in words(response)


def test_no_more_steps_than_are_replayed(alice):
    steps = [{"key": f"s{n}", "operation": "planish"} for n in range(MOST_STEPS)]
    document = a_document(a_part())
    document["parts"][0]["steps"] = steps
    draft = a_draft(document)
    with pytest.raises(Refused, match="at most"):
        actions.insert_step(procedure=draft, part="bar", operation="planish", after=None, by=alice.user)


def test_picker_finds_operations_by_trade_words(alice):
    draft = three_steps()
    page = alice.get(
        reverse("procedures:edit", args=[draft.slug]), {"part": "bar", "after": "s1", "q": "draw down"}
    )
    text = words(page)
    assert "After step 1, Draw out." in text
    assert "also: draw down" in text
    assert "Centre-punch" not in text
    nothing = alice.get(
        reverse("procedures:edit", args=[draft.slug]), {"part": "bar", "after": "", "q": "zzz"}
    )
    assert "No operation is called “zzz”" in words(nothing)


def test_part_is_added_and_deleted(alice):
    draft = three_steps()
    fields = {"name": "Left arm", "section": "16 sq", "length": "200", "material": "mild_steel"}
    response = alice.post(reverse("procedures:add_part", args=[draft.slug]), fields)
    assert response.url.endswith("?part=left-arm")
    assert [one["key"] for one in stored(draft)["parts"]] == ["bar", "left-arm"]
    alice.post(reverse("procedures:delete_part", args=[draft.slug, "left-arm"]))
    assert [one["key"] for one in stored(draft)["parts"]] == ["bar"]


def test_last_part_stays(alice):
    draft = three_steps()
    response = alice.post(address(draft, "delete_part"), headers=HTMX)
    assert response.status_code == 422
    assert "keeps at least one part" in words(response)


def test_nothing_of_the_draft_changes_what_is_published(alice):
    hook = published()
    alice.post(reverse("procedures:delete_step", args=[hook.slug, "bar", "s2"]))
    hook.refresh_from_db()
    assert len(hook.document["parts"][0]["steps"]) == 1
    assert len(hook.latest.document["parts"][0]["steps"]) == 2
