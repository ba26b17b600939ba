"""Every address of revisions, comparisons, adaptations and offers, for everybody, whatever there is."""

import pytest
from django.urls import reverse

from procedures import actions
from procedures.models import Offer

from .authoring import typed
from .conftest import at_the_browser
from .showing import a_draft, published, retitled

pytestmark = pytest.mark.django_db

READ = [
    ("revisions", []),
    ("revision", [1]),
    ("bibtex", [1]),
    ("csl", [1]),
    ("figures", [1]),
    ("compare", []),
    ("adapt", []),
]
OWN = [("withdraw", [1]), ("unpublish", []), ("offers", [])]
LINEAGE = [("original", []), ("offer_back", [])]
SIGN_IN = "/accounts/login/"


def address(name, procedure, more):
    return reverse(f"procedures:{name}", args=[procedure.slug, *more])


def statuses(name, procedure, more, *clients):
    return [one.get(address(name, procedure, more)).status_code for one in clients]


@pytest.mark.parametrize(("name", "more"), READ)
def test_draft_is_read_by_its_owner_alone(client, alice, charlie, name, more):
    draft = a_draft()
    assert statuses(name, draft, more, client, charlie) == [404, 404]
    nothing = {"revision", "bibtex", "csl", "figures", "adapt"}
    assert statuses(name, draft, more, alice) == [404 if name in nothing else 200]


@pytest.mark.parametrize(("name", "more"), READ)
def test_what_is_public_is_read_by_everybody(client, alice, charlie, name, more):
    hook = published()
    first = 302 if name == "adapt" else 200  # who adapts signs in
    assert statuses(name, hook, more, client, charlie, alice) == [first, 200, 200]


@pytest.mark.parametrize(("name", "more"), READ)
def test_withdrawn_procedure_leaves_a_stone_everywhere(client, alice, charlie, name, more):
    hook = published()
    actions.unpublish(procedure=hook, reason="The eye tears.", by=alice.user)
    for stranger in (client, charlie):
        gone = stranger.get(address(name, hook, more))
        assert gone.status_code == 410
        assert "The eye tears." in gone.content.decode()
    assert statuses(name, hook, more, alice) == [200]


@pytest.mark.parametrize(("name", "more"), READ[1:5])
def test_withdrawn_revision_leaves_a_stone_and_the_next_stays(client, alice, charlie, name, more):
    hook = published()
    retitled(hook, "Another hook")
    actions.publish(procedure=hook, by=alice.user)
    first = hook.revisions.get(number=1)
    actions.withdraw_revision(procedure=hook, revision=first, reason="It tears.", by=alice.user)
    assert statuses(name, hook, more, client, charlie, alice) == [410, 410, 200]
    assert statuses(name, hook, [2], client, charlie, alice) == [200, 200, 200]


@pytest.mark.parametrize(("name", "more"), OWN)
def test_owners_pages_are_the_owners(client, alice, charlie, name, more):
    hook = published()
    assert statuses(name, hook, more, charlie, alice) == [404, 200]
    assert client.get(address(name, hook, more)).url.startswith(SIGN_IN)
    assert charlie.post(address(name, hook, more), {"reason": "Mine."}).status_code == 404
    assert client.post(address(name, hook, more), {"reason": "Mine."}).url.startswith(SIGN_IN)
    hook.refresh_from_db()
    assert hook.is_public


@pytest.mark.parametrize(("name", "more"), LINEAGE)
def test_lineage_is_worked_at_by_the_owner_of_the_adaptation_alone(client, alice, charlie, name, more):
    hook = published()
    copy = actions.adapt(revision=hook.latest, by=charlie.user)
    assert statuses(name, copy, more, charlie, alice) == [200, 404]
    assert client.get(address(name, copy, more)).url.startswith(SIGN_IN)
    assert statuses(name, hook, more, alice, charlie) == [404, 404]


def test_offer_is_seen_by_its_two_sides_whatever_was_withdrawn_since(client, alice, charlie):
    hook = published()
    copy = actions.adapt(revision=hook.latest, by=charlie.user)
    typed(charlie, copy, "s2", param__target="10 sq")
    copy.refresh_from_db()
    offer = actions.offer_back(procedure=copy, names={"changed/bar/s2"}, note="Try it.", by=charlie.user)
    seen = [offer.get_absolute_url()]
    everybody = (alice, charlie, at_the_browser("bob"))
    assert [one.get(seen[0]).status_code for one in everybody] == [200, 200, 404]
    assert client.get(seen[0]).url.startswith(SIGN_IN)
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert [one.get(seen[0]).status_code for one in everybody] == [200, 200, 404]
    assert Offer.objects.get().to == hook


def test_name_of_a_draft_is_told_to_nobody_by_what_was_offered(alice, charlie):
    """The author's draft may be called otherwise than what is published: who offers does not learn it."""
    hook = published()
    copy = actions.adapt(revision=hook.latest, by=charlie.user)
    typed(charlie, copy, "s2", param__target="10 sq")
    copy.refresh_from_db()
    offer = actions.offer_back(procedure=copy, names={"changed/bar/s2"}, note="Try it.", by=charlie.user)
    retitled(hook, "A secret name")
    for page in (offer.get_absolute_url(), address("offers", copy, []), address("original", copy, [])):
        assert "secret" not in charlie.get(page).content.decode()
