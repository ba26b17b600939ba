"""What is published is adapted with its lineage and credit; later changes of the original are taken over."""

import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from procedures import actions, editing, queries
from procedures.actions import Refused
from procedures.models import Adaptation, Photo, Procedure
from procedures.queries.procedures import LONGEST_LINE
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .authoring import step_keys, stored, typed, words
from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db


def page(procedure, name, *more):
    return reverse(f"procedures:{name}", args=[procedure.slug, *more])


def adapted(client, procedure, **fields):
    """The procedure that someone makes of another by the button."""
    response = client.post(page(procedure, "adapt"), fields)
    assert response.status_code == 302
    return Procedure.objects.latest("pk")


def changed(client, procedure, **values):
    """Change the drawing out of the hook and publish that."""
    typed(client, procedure, "s2", **values)
    procedure.refresh_from_db()
    revision = actions.publish(procedure=procedure, by=client.user)
    procedure.refresh_from_db()
    return revision


def take(client, procedure, name, number=2):
    return client.post(page(procedure, "original"), {"number": number, "take": name}, follow=True)


# -- copying -----------------------------------------------------------------------------------------


def test_copy_is_a_draft_of_ones_own_with_its_author_credited(alice, charlie, client):
    hook = published(a_hook(credits=["Ada of the fens"]))
    asked = words(charlie.get(page(hook, "adapt")))
    assert "alice is credited in it" in asked
    assert "as long as its author is credited" in asked
    copy = adapted(charlie, hook)
    assert (copy.owner, copy.status, copy.title) == (charlie.user, "draft", "A hook")
    assert copy.document["credits"] == ["Ada of the fens", "alice: A hook, revision 1"]
    assert copy.document["parts"] == hook.latest.document["parts"]
    assert client.get(f"/p/{copy.slug}/").status_code == 404


def test_lineage_stands_on_both_pages(alice, charlie, client):
    hook = published()
    copy = adapted(charlie, hook)
    assert "Adapted from this" not in words(client.get(f"/p/{hook.slug}/"))
    retitled(copy, "A longer hook")
    copy.refresh_from_db()
    actions.publish(procedure=copy, by=charlie.user)
    text = words(client.get(f"/p/{copy.slug}/"))
    assert "Adapted from “A hook”, revision 1 , by alice (CC-BY-4.0)" in text
    html = client.get(f"/p/{hook.slug}/").content.decode()
    assert "A longer hook , by charlie" in words(html)
    address = re.search(rf'href="([^"]+other={copy.slug})"', html)[1].replace("&amp;", "&")
    assert "A longer hook, revision 1, by charlie" in words(client.get(address))


def test_credit_is_kept_down_the_line(alice, charlie, client):
    hook = published()
    first = adapted(charlie, hook)
    actions.publish(procedure=first, by=charlie.user)
    second = actions.adapt(revision=first.revisions.get(), by=person("bob"))
    assert second.document["credits"] == ["alice: A hook, revision 1", "charlie: A hook, revision 1"]
    actions.publish(procedure=second, by=person("bob"))
    text = words(client.get(f"/p/{second.slug}/"))
    assert "Adapted from “A hook”, revision 1 , by charlie" in text
    assert "which was adapted from “A hook”, revision 1 , by alice" in text


def test_very_revision_that_was_asked_for_is_copied(alice, charlie):
    hook = published()
    changed(alice, hook, param__target="10 sq")
    assert "revision 1 as a draft" in words(charlie.get(page(hook, "adapt"), {"revision": "1"}))
    copy = adapted(charlie, hook, revision="1")
    assert stored(copy, "s2")["params"]["target"]["side"] == 12
    assert copy.adaptation.number == 1


def test_who_is_not_signed_in_signs_in_first_and_drafts_are_not_adapted(client, charlie, alice):
    hook, draft = published(), a_draft()
    assert client.post(page(hook, "adapt")).url.startswith("/accounts/login/?next=")
    assert charlie.post(page(draft, "adapt")).status_code == 404
    assert alice.post(page(draft, "adapt")).status_code == 404
    for revision in ("9", "x", "-1"):
        assert charlie.post(page(hook, "adapt"), {"revision": revision}).status_code == 404
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert charlie.post(page(hook, "adapt")).status_code == 410
    owner = alice.post(page(hook, "adapt"))
    assert owner.status_code == 422
    assert "Only what is published can be adapted." in words(owner)


def test_photos_go_along(alice, charlie):
    hook = published()
    digest = "ab" * 32
    Photo.objects.create(procedure=hook, digest=digest, width=800, height=600, size=5, uploader=alice.user)
    Photo.objects.create(procedure=hook, digest="cd" * 32, width=800, height=600, size=5)
    shown = {**stored(hook, "s2"), "photos": [{"digest": digest, "alt": "The hook"}]}
    document = editing.with_step(hook.document, "bar", "s2", lambda _: shown)
    Procedure.objects.filter(pk=hook.pk).update(document=document)
    hook.refresh_from_db()
    actions.publish(procedure=hook, by=alice.user)
    copy = adapted(charlie, hook)
    assert [one.digest for one in copy.photos.all()] == [digest]


def test_own_procedure_becomes_a_variant_without_crediting_oneself(alice):
    hook = published()
    assert "variant" in words(alice.get(page(hook, "adapt")))
    copy = adapted(alice, hook)
    assert copy.document.get("credits", []) == []
    assert copy.adaptation.source == hook.latest


def test_procedure_with_all_credits_taken_says_why_it_cannot_be_adapted(charlie):
    hook = published(a_hook(credits=[f"Smith {number}" for number in range(40)]))
    response = charlie.post(page(hook, "adapt"))
    assert response.status_code == 422
    assert "credits 40 names already" in words(response)
    assert Procedure.objects.count() == 1


# -- what is owed ------------------------------------------------------------------------------------


def settings_of(procedure, **changes):
    document = stored(procedure)
    return {
        "base": editing.details_digest(document),
        "title": document["title"],
        "level": "beginner",
        "licence": document.get("licence", "CC-BY-4.0"),
        "credits": "\n".join(document.get("credits", [])),
        "fire": "average",
    } | changes


@pytest.mark.parametrize(
    ("licence", "other", "allowed"),
    [
        ("CC-BY-SA-4.0", "CC-BY-4.0", False),
        ("CC-BY-SA-4.0", "CC0-1.0", False),
        ("CC-BY-4.0", "CC0-1.0", False),
        ("CC-BY-4.0", "CC-BY-SA-4.0", True),
        ("CC0-1.0", "CC-BY-SA-4.0", True),
    ],
)
def test_licence_of_the_original_binds_its_adaptations(charlie, licence, other, allowed):
    copy = adapted(charlie, published(a_hook(licence=licence)))
    response = charlie.post(page(copy, "settings"), settings_of(copy, licence=other))
    assert response.status_code == (302 if allowed else 422)
    if not allowed:
        assert f"The original is under {licence}" in words(response)
        assert stored(copy)["licence"] == licence


def test_credits_owed_cannot_be_taken_out(charlie):
    copy = adapted(charlie, published())
    response = charlie.post(page(copy, "settings"), settings_of(copy, credits=""))
    assert response.status_code == 422
    assert "Missing: alice: A hook, revision 1." in words(response)
    assert (
        charlie.post(
            page(copy, "settings"), settings_of(copy, credits="Mine\nalice: A hook, revision 1")
        ).status_code
        == 302
    )


def test_credit_to_the_public_domain_may_be_taken_out(charlie):
    copy = adapted(charlie, published(a_hook(licence="CC0-1.0")))
    assert charlie.post(page(copy, "settings"), settings_of(copy, credits="")).status_code == 302


def test_publishing_refuses_what_does_not_keep_what_it_owes(charlie):
    copy = adapted(charlie, published())
    Procedure.objects.filter(pk=copy.pk).update(document={**copy.document, "credits": []})
    response = charlie.post(page(copy, "publish"))
    assert response.status_code == 422
    assert "The original's credits must stay." in words(response).replace("&#x27;", "'")
    assert copy.revisions.count() == 0


# -- forged and looped -------------------------------------------------------------------------------


def test_lineage_in_a_file_is_refused(charlie):
    forged = a_document(a_part(drawn_out())) | {"lineage": {"source": "somebody-else"}}
    file = SimpleUploadedFile("forged.json", json.dumps(forged).encode())
    response = charlie.post(reverse("procedures:take_in"), {"file": file})
    assert response.status_code == 422
    assert "lineage" in words(response)
    assert Procedure.objects.count() == 0


def test_what_is_taken_in_from_a_file_has_no_lineage(alice, charlie):
    hook = published()
    copy = actions.create_procedure(document=hook.latest.document, by=charlie.user)
    assert queries.adaptation_of(copy) is None
    assert queries.lineage_of(copy) == []


def test_line_that_goes_in_a_circle_ends(client, alice):
    """Only a hand in the database makes one: an adaptation is always a new procedure."""
    one, other = published(a_hook(title="One")), published(a_hook(title="Other"))
    for procedure, source in (
        (one, other),
        (other, one),
    ):
        Adaptation.objects.create(
            procedure=procedure, source=source.latest, caught_up=source.latest, title=source.title, number=1,
            author="alice", licence="CC-BY-4.0",
        )  # fmt: skip
    assert [step.title for step in queries.lineage_of(one)] == ["Other", "One"]
    assert client.get(f"/p/{one.slug}/").status_code == 200


def test_long_line_is_told_up_to_a_length(client, alice):
    hook = published()
    for _ in range(LONGEST_LINE + 3):
        hook = actions.adapt(revision=hook.revisions.first(), by=alice.user)
        actions.publish(procedure=hook, by=alice.user)
    assert len(queries.lineage_of(hook)) == LONGEST_LINE
    assert client.get(f"/p/{hook.slug}/").status_code == 200


def test_original_that_is_deleted_or_withdrawn_is_still_named(alice, charlie, client):
    hook = published()
    copy = adapted(charlie, hook)
    actions.publish(procedure=copy, by=charlie.user)
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert "no longer published" in words(charlie.get(page(copy, "original")))
    assert "by alice" in words(client.get(f"/p/{copy.slug}/"))
    actions.delete_procedure(procedure=hook, by=alice.user)
    assert "“A hook”, revision 1, which is gone, by alice" in words(client.get(f"/p/{copy.slug}/"))
    assert "no longer published" in words(charlie.get(page(copy, "original")))
    assert charlie.get(page(copy, "offer_back")).status_code == 404


# -- what the original changed -----------------------------------------------------------------------


def test_change_of_the_original_is_shown_and_taken_over_and_undone(alice, charlie):
    hook = published()
    copy = adapted(charlie, hook)
    assert "Nothing was published of the original since" in words(charlie.get(page(copy, "original")))
    changed(alice, hook, param__target="10 sq")
    text = words(charlie.get(page(copy, "original")))
    assert "Step 2: Draw out Changed" in text
    assert "□10 mm" in text
    response = take(charlie, copy, "changed/bar/s2")
    assert "Taken over." in words(response)
    assert "Yours has it" in words(response)
    assert stored(copy, "s2")["params"]["target"]["side"] == 10
    assert copy.edits.get(number=copy.head).label == "From the original: Draw out changed"
    charlie.post(page(copy, "undo"))
    assert stored(copy, "s2")["params"]["target"]["side"] == 12


def test_my_own_changes_stay_and_a_conflict_is_told(alice, charlie):
    hook = published()
    copy = adapted(charlie, hook)
    typed(charlie, copy, "s2", param__target="11 sq", note="My own words.")
    changed(alice, hook, param__target="10 sq", tongs="V-bit tongs")
    text = words(charlie.get(page(copy, "original")))
    assert "Conflict." in text
    assert "Both sides changed target section" in text
    assert "What you changed of the same" in text
    take(charlie, copy, "changed/bar/s2")
    mine = stored(copy, "s2")
    assert (mine["params"]["target"]["side"], mine["note"], mine["tongs"]) == (
        10,
        "My own words.",
        "V-bit tongs",
    )


def test_added_step_and_bar_are_taken_over(alice, charlie):
    hook = published()
    copy = adapted(charlie, hook)
    actions.insert_step(procedure=hook, part="bar", operation="planish", after="s1", by=alice.user)
    Procedure.objects.get(pk=hook.pk)
    new = a_step(
        "draw_out", where={"on": "bar", "datum": "end", "length": 20}, target={"shape": "square", "side": 11}
    )
    document = editing.with_step_after(
        Procedure.objects.get(pk=hook.pk).document, "bar", {**new, "key": "s9"}, "s2"
    )
    document = editing.without_step(document, "bar", step_keys(hook)[1])
    part = {**document["parts"][0], "quantity": 3}
    Procedure.objects.filter(pk=hook.pk).update(document={**document, "parts": [part]})
    hook.refresh_from_db()
    actions.publish(procedure=hook, by=alice.user)
    text = words(charlie.get(page(copy, "original")))
    assert "Its bar was changed" in text
    assert "Step 3: Draw out Added" in text
    take(charlie, copy, "added/bar/s9")
    take(charlie, copy, "bar/bar/")
    assert step_keys(copy) == ["s1", "s2", "s9"]
    assert stored(copy)["parts"][0]["quantity"] == 3


def test_being_done_with_it_leaves_the_rest(alice, charlie):
    hook = published()
    copy = adapted(charlie, hook)
    changed(alice, hook, param__target="10 sq")
    charlie.post(page(copy, "original"), {"number": "2", "caught_up": "1"})
    assert "Nothing was published of the original since revision 2" in words(
        charlie.get(page(copy, "original"))
    )
    assert stored(copy, "s2")["params"]["target"]["side"] == 12


@pytest.mark.parametrize("number", ["", "x", "99", "1e3", "9" * 30])
def test_change_or_revision_that_is_not_there_is_refused_in_words(alice, charlie, number):
    hook = published()
    copy = adapted(charlie, hook)
    before = stored(copy)
    response = take(charlie, copy, "changed/bar/s2", number)
    assert response.status_code == 200
    assert "Say up to which" in words(response) or "no longer published" in words(response)
    assert "no longer one" in words(take(charlie, copy, "changed/bar/nothing", 1))
    assert stored(copy) == before


def test_only_its_owner_sees_and_takes_over(alice, charlie, client):
    hook = published()
    copy = adapted(charlie, hook)
    for name in ("original", "offer_back", "offers"):
        assert alice.get(page(copy, name)).status_code == 404
        assert client.get(page(copy, name)).url.startswith("/accounts/login/")
    assert alice.post(page(copy, "original"), {"number": "1", "take": "changed/bar/s2"}).status_code == 404
    assert alice.get(page(hook, "original")).status_code == 404  # it was adapted from nothing


def test_action_refuses_what_is_not_public(alice):
    hook = published()
    revision = hook.latest
    actions.unpublish(procedure=hook, by=alice.user)
    revision.procedure.refresh_from_db()
    with pytest.raises(Refused):
        actions.adapt(revision=revision, by=person("bob"))
