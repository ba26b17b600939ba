"""Changes of an adaptation offered back to the author, who accepts or declines each; both see its state."""

import pytest
from django.urls import reverse

from procedures import actions
from procedures.models import Offer, OfferedChange, Procedure

from .authoring import stored, typed, words
from .showing import published
from .test_adapting import adapted, page

pytestmark = pytest.mark.django_db

CHANGE = "changed/bar/s2"


def an_adaptation(alice, charlie, **values):
    """Alice's hook, and charlie's copy of it with another target."""
    hook = published()
    copy = adapted(charlie, hook)
    typed(charlie, copy, "s2", **values or {"param__target": "10 sq"})
    copy.refresh_from_db()
    return hook, copy


def offered(charlie, copy, *names, note="It bent less when I tried it."):
    response = charlie.post(page(copy, "offer_back"), {"change": names or [CHANGE], "note": note})
    assert response.status_code == 302
    return Offer.objects.latest("pk")


def answer(client, offer, **data):
    return client.post(offer.get_absolute_url(), data, follow=True)


def test_offer_shows_each_change_and_is_seen_by_both(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    text = words(charlie.get(page(copy, "offer_back")))
    assert "Step 2: Draw out Changed" in text
    offer = offered(charlie, copy)
    assert (offer.to, offer.by) == (hook, charlie.user)
    for client in (alice, charlie):
        seen = words(client.get(offer.get_absolute_url()))
        assert "It bent less when I tried it." in seen
        assert "□10 mm" in seen
    assert "From charlie" in words(alice.get(page(hook, "offers")))
    assert "Draw out changed: open" in words(alice.get(page(hook, "offers")))
    assert "To “A hook”" in words(charlie.get(page(copy, "offers")))


def test_accepted_change_is_in_the_authors_draft_with_a_credit_and_can_be_undone(alice, charlie, client):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    assert "It is in your draft." in words(answer(alice, offer, accept=CHANGE))
    assert stored(hook, "s2")["params"]["target"]["side"] == 10
    assert hook.document["credits"] == ["charlie: changes"]
    labels = list(hook.edits.order_by("number").values_list("label", flat=True))
    assert labels[-2:] == ["Offered by charlie: Draw out changed", "Credit: charlie"]
    assert "□12" in words(client.get(f"/p/{hook.slug}/"))  # published by nobody yet
    assert "Accepted." in words(charlie.get(offer.get_absolute_url()))
    alice.post(page(hook, "undo"))
    alice.post(page(hook, "undo"))
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_declined_change_says_why(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    answer(alice, offer, decline=CHANGE, reason="Too thin for a coat.")
    assert stored(hook, "s2")["params"]["target"]["side"] == 12
    text = words(charlie.get(offer.get_absolute_url()))
    assert "Declined. Too thin for a coat." in text
    assert "answered already" in words(answer(alice, offer, accept=CHANGE))
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_changes_are_answered_one_by_one(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    actions.delete_step(procedure=copy, part="bar", step="s1", by=charlie.user)
    offer = offered(charlie, copy, CHANGE, "removed/bar/s1")
    answer(alice, offer, decline="removed/bar/s1")
    answer(alice, offer, accept=CHANGE)
    assert {one.name: one.state for one in offer.changes.all()} == {
        "removed/bar/s1": "declined",
        CHANGE: "accepted",
    }
    assert [one["key"] for one in stored(hook)["parts"][0]["steps"]] == ["s1", "s2"]


def test_authors_own_later_change_is_a_conflict_and_the_rest_of_it_stays(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    typed(alice, hook, "s2", param__target="11 sq", note="Mine.")
    assert "Conflict." in words(alice.get(offer.get_absolute_url()))
    assert "Conflict." not in words(charlie.get(offer.get_absolute_url()))  # the draft is alice's alone
    assert "Mine." not in words(charlie.get(offer.get_absolute_url()))
    answer(alice, offer, accept=CHANGE)
    step = stored(hook, "s2")
    assert (step["params"]["target"]["side"], step["note"]) == (10, "Mine.")


def test_offer_is_of_what_was_ticked_as_it_was_then(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    typed(charlie, copy, "s2", param__target="8 sq")
    answer(alice, offer, accept=CHANGE)
    assert stored(hook, "s2")["params"]["target"]["side"] == 10


def test_offer_taken_back_cannot_be_accepted(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    answer(charlie, offer, take_back="1")
    assert "Taken back on" in words(alice.get(offer.get_absolute_url()))
    assert "was taken back" in words(answer(alice, offer, accept=CHANGE))
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_who_offered_cannot_answer_and_the_author_cannot_take_back(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    assert "Only the author answers" in words(answer(charlie, offer, accept=CHANGE))
    answer(charlie, offer, decline=CHANGE)
    answer(alice, offer, take_back="1")
    answer(alice, offer)
    offer.refresh_from_db()
    assert offer.taken_back is None
    assert offer.changes.get().state == OfferedChange.State.OPEN
    assert stored(hook, "s2")["params"]["target"]["side"] == 12


def test_stranger_sees_no_offer(alice, charlie, client):
    _, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    from .conftest import at_the_browser

    bob = at_the_browser("bob")
    assert bob.get(offer.get_absolute_url()).status_code == 404
    assert bob.post(offer.get_absolute_url(), {"accept": CHANGE}).status_code == 404
    assert client.get(offer.get_absolute_url()).url.startswith("/accounts/login/")
    assert alice.get("/offers/99999999999999999999/").status_code == 404


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"note": "Nothing ticked."}, "Tick at least one change"),
        ({"change": ["changed/bar/nothing"], "note": "Forged."}, "Tick at least one change"),
        ({"change": [CHANGE]}, "Say what you changed and why"),
        ({"change": [CHANGE], "note": "x" * 1001}, "1000"),
    ],
)
def test_offer_that_says_nothing_is_refused(alice, charlie, data, said):
    _, copy = an_adaptation(alice, charlie)
    response = charlie.post(page(copy, "offer_back"), data)
    assert response.status_code == 422
    assert said in words(response)
    assert not Offer.objects.exists()


def test_too_many_open_offers_are_refused(alice, charlie):
    _, copy = an_adaptation(alice, charlie)
    for _ in range(5):
        offered(charlie, copy)
    response = charlie.post(page(copy, "offer_back"), {"change": [CHANGE], "note": "Once more."})
    assert "5 offers wait for an answer" in words(response)


def test_nothing_can_be_offered_to_what_is_withdrawn(alice, charlie):
    hook, copy = an_adaptation(alice, charlie)
    offer = offered(charlie, copy)
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert charlie.get(page(copy, "offer_back")).status_code == 404
    for client in (alice, charlie):
        assert client.get(offer.get_absolute_url()).status_code == 200


def test_offer_goes_with_the_adaptation(alice, charlie):
    _, copy = an_adaptation(alice, charlie)
    offered(charlie, copy)
    actions.delete_procedure(procedure=Procedure.objects.get(pk=copy.pk), by=charlie.user)
    assert not Offer.objects.exists()


def test_script_in_a_note_is_text(alice, charlie):
    _, copy = an_adaptation(alice, charlie, note="<script>alert(1)</script>")
    offer = offered(charlie, copy, note="<script>alert(2)</script>")
    answer(alice, offer, decline=CHANGE, reason="<script>alert(3)</script>")
    for address in (offer.get_absolute_url(), page(offer.to, "offers")):
        assert "<script>alert" not in alice.get(address).content.decode()
    assert "<script>alert" not in charlie.get(page(copy, "offer_back")).content.decode()


def test_offers_page_of_a_procedure_that_has_none(alice):
    assert "Nothing was offered yet." in words(
        alice.get(reverse("procedures:offers", args=[published().slug]))
    )
