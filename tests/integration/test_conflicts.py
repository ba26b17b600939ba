"""Two windows on one draft: neither overwrites the other without being asked."""

import pytest
from django.urls import reverse

from procedures import actions, editing
from procedures.actions import EditConflict

from .authoring import HTMX, bench_of, stored, the_form, typed, words
from .showing import a_draft, retitled

pytestmark = pytest.mark.django_db


def test_second_window_sees_both_versions_and_what_it_typed(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook, "s2"), "step-form")
    typed(alice, hook, "s2", param__target="10 sq")
    response = alice.post(second.action, second.fields | {"param-target": "9 sq"})
    assert response.status_code == 409
    assert "□9" in words(response)
    assert "□10" in words(response)
    assert "you in another window" in words(response)
    assert the_form(response.content.decode(), "step-form").fields["param-target"] == "9 sq"
    assert stored(hook, "s2")["params"]["target"]["side"] == 10


def test_keeping_mine_saves_over_the_other(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook, "s2"), "step-form")
    typed(alice, hook, "s2", param__target="10 sq")
    response = alice.post(second.action, second.fields | {"param-target": "9 sq"}, headers=HTMX)
    assert response.status_code == 409
    html = response.content.decode()
    over = html.split('name="over" value="')[1].split('"')[0]
    assert (
        alice.post(second.action, second.fields | {"param-target": "9 sq", "over": over}).status_code == 302
    )
    assert stored(hook, "s2")["params"]["target"]["side"] == 9


def test_keeping_mine_is_asked_again_when_the_other_goes_on(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook, "s2"), "step-form")
    typed(alice, hook, "s2", param__target="10 sq")
    html = alice.post(second.action, second.fields | {"param-target": "9 sq"}).content.decode()
    over = html.split('name="over" value="')[1].split('"')[0]
    typed(alice, hook, "s2", param__target="8 sq")
    response = alice.post(second.action, second.fields | {"param-target": "9 sq", "over": over})
    assert response.status_code == 409
    assert stored(hook, "s2")["params"]["target"]["side"] == 8


def test_both_windows_coming_to_the_same_is_no_conflict(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook, "s2"), "step-form")
    typed(alice, hook, "s2", param__target="10 sq")
    assert alice.post(second.action, second.fields | {"param-target": "10 sq"}).status_code == 302


def test_changes_of_other_steps_do_not_conflict(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook, "s2"), "step-form")
    typed(alice, hook, "s1", note="Another step.")
    assert alice.post(second.action, second.fields | {"param-target": "9 sq"}).status_code == 302
    assert stored(hook, "s1")["note"] == "Another step."


def test_photos_of_a_step_do_not_conflict_with_its_form(alice):
    hook = a_draft()
    base = editing.step_digest(stored(hook, "s2"))
    hook.document["parts"][0]["steps"][1]["photos"] = [{"digest": "0" * 64, "alt": "The end."}]
    hook.save()
    actions.edit_step(
        procedure=hook, part="bar", step="s2", fields={"note": "New."}, base=base, by=alice.user
    )
    step = stored(hook, "s2")
    assert step["note"] == "New."
    assert len(step["photos"]) == 1


def test_part_changed_in_another_window_is_a_conflict(alice):
    hook = a_draft()
    second = the_form(bench_of(alice, hook), "part-form")
    alice.post(second.action, second.fields | {"length": "310"})
    response = alice.post(second.action, second.fields | {"length": "320"})
    assert response.status_code == 409
    assert "310" in words(response)
    assert stored(hook)["parts"][0]["stock"]["length"] == 310


def test_details_changed_in_another_window_are_a_conflict(alice):
    hook = a_draft()
    address = reverse("procedures:settings", args=[hook.slug])
    second = the_form(
        alice.get(address).content.decode().replace("<form ", f'<form action="{address}" '), "details-form"
    )
    retitled(hook, "A better hook")
    response = alice.post(address, second.fields | {"title": "Another hook"})
    assert response.status_code == 409
    assert "A better hook" in words(response)
    assert 'value="Another hook"' in response.content.decode()
    assert stored(hook)["title"] == "A better hook"


def test_action_refuses_a_stale_base(alice):
    hook = a_draft()
    with pytest.raises(EditConflict) as caught:
        actions.edit_step(procedure=hook, part="bar", step="s2", fields={"note": "x"}, base="", by=alice.user)
    assert caught.value.mine["note"] == "x"
    assert caught.value.theirs["key"] == "s2"
