"""Undo and redo, as deep as anyone needs, whatever happens in between."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from procedures import actions, editing, queries
from procedures.actions.saving import DEPTH
from procedures.models import Edit

from .authoring import HTMX, bench_of, stored, typed, words
from .showing import a_draft

pytestmark = pytest.mark.django_db


def tongs(procedure, text, by):
    """Name other tongs for the second step."""
    base = editing.step_digest(stored(procedure, "s2"))
    actions.edit_step(procedure=procedure, part="bar", step="s2", fields={"tongs": text}, base=base, by=by)


def long_ago(procedure):
    """Let the last edit be old, so that the next is one of its own."""
    procedure.edits.update(at=timezone.now() - timedelta(minutes=5))


def press(client, procedure, what):
    return client.post(reverse(f"procedures:{what}", args=[procedure.slug]), headers=HTMX)


def test_sixty_edits_are_undone_and_done_again(alice):
    hook = a_draft()
    versions = [stored(hook)]
    for number in range(60):
        tongs(hook, f"tongs {number}", alice.user)
        long_ago(hook)
        versions.append(stored(hook))
    for version in reversed(versions[:-1]):
        assert press(alice, hook, "undo").status_code == 200
        assert stored(hook) == version
    assert "There is nothing to undo" in words(press(alice, hook, "undo"))
    for version in versions[1:]:
        press(alice, hook, "redo")
        assert stored(hook) == version
    assert "There is nothing to do again" in words(press(alice, hook, "redo"))


def test_undo_says_what_it_undid_and_survives_a_reload(alice):
    hook = a_draft()
    typed(alice, hook, "s2", param__target="10 sq")
    html = bench_of(alice, hook, "s2")  # the page loaded anew
    assert "Draw out: target section" in words(html)
    assert "Undone: Draw out: target section" in words(press(alice, hook, "undo"))
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_edit_after_undo_drops_what_could_be_done_again(alice):
    hook = a_draft()
    for text in ("first", "second"):
        tongs(hook, text, alice.user)
        long_ago(hook)
    press(alice, hook, "undo")
    tongs(hook, "third", alice.user)
    hook.refresh_from_db()
    assert queries.history(hook).redo == ""
    press(alice, hook, "redo")
    assert stored(hook, "s2")["tongs"] == "third"
    press(alice, hook, "undo")
    assert stored(hook, "s2")["tongs"] == "first"


def test_one_value_typed_letter_by_letter_is_one_edit(alice):
    hook = a_draft()
    for text in ("1 sq", "11 sq", "11.5 sq"):
        typed(alice, hook, "s2", parts=True, param__target=text)
    assert hook.edits.count() == 2  # the beginning and this
    press(alice, hook, "undo")
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_another_value_or_a_pause_begins_another_edit(alice):
    hook = a_draft()
    typed(alice, hook, "s2", param__target="11 sq")
    typed(alice, hook, "s2", param__where__length="50")
    long_ago(hook)
    typed(alice, hook, "s2", param__where__length="40")
    assert hook.edits.count() == 4


def test_two_people_at_one_value_are_two_edits(alice, charlie):
    hook = a_draft()
    tongs(hook, "hers", alice.user)
    tongs(hook, "his", charlie.user)
    assert hook.edits.count() == 3


def test_history_is_cut_at_its_depth_and_no_earlier(alice):
    hook = a_draft()
    now = timezone.now() - timedelta(hours=1)
    many = [
        Edit(procedure=hook, number=number, document=hook.document, label=f"edit {number}", at=now)
        for number in range(1, DEPTH + 1)
    ]
    Edit.objects.bulk_create(many)
    hook.head = DEPTH
    hook.save()
    tongs(hook, "one more", alice.user)
    numbers = set(hook.edits.values_list("number", flat=True))
    assert numbers == set(range(1, DEPTH + 2))
    for _ in range(DEPTH):
        press(alice, hook, "undo")
    hook.refresh_from_db()
    assert queries.history(hook).undo == ""


def test_title_follows_undo(alice):
    hook = a_draft()
    base = editing.details_digest(hook.document)
    actions.edit_details(procedure=hook, details={"title": "Wrong"}, base=base, by=alice.user)
    press(alice, hook, "undo")
    hook.refresh_from_db()
    assert hook.title == "A hook"


def test_undo_without_script_goes_back_to_where_it_shows(alice):
    hook = a_draft()
    typed(alice, hook, "s2", param__target="10 sq")
    response = alice.post(reverse("procedures:undo", args=[hook.slug]))
    assert response.status_code == 302
    assert response.url.endswith("?part=bar&step=s2")
