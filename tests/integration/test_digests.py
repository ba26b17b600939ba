"""Following, and the mail of what is new: to whom it goes, what is in it, and how it is stopped."""

from __future__ import annotations

import re
from datetime import timedelta
from io import StringIO
from urllib.parse import urlsplit

import pytest
from allauth.account.models import EmailAddress
from django.core import mail
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.models import DigestWish, Follow, Guild, Membership, Procedure, Revision, SavedSearch

from .conftest import at_the_browser
from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db


def follow(browser: Client, kind: str, key: str, **more: str) -> int:
    return browser.post(reverse("procedures:follow_thing", args=[kind, key]), more).status_code


def subscriber(name: str = "charlie", *, often: str = "daily", verified: bool = True):
    who = person(name)
    EmailAddress.objects.create(user=who, email=who.email, primary=True, verified=verified)
    actions.wish_digest(often=often, by=who)
    DigestWish.objects.update(told=timezone.now() - timedelta(days=8))
    return who


def sent() -> list[str]:
    """Run the command; return the texts of all mail it sent."""
    mail.outbox.clear()
    call_command("send_digests", stdout=StringIO())
    return [one.body for one in mail.outbox]


def followed(who, *things) -> None:
    """Follow things, since long ago."""
    for one in things:
        actions.follow(thing=one, by=who)
    Follow.objects.update(since=timezone.now() - timedelta(days=30))


# -- following ---------------------------------------------------------------------------------------


def test_followed_and_no_longer_from_where_one_is(charlie):
    one = published()
    page = one.get_absolute_url()
    assert (
        reverse("procedures:follow_thing", args=["procedure", one.slug]) in charlie.get(page).content.decode()
    )
    assert follow(charlie, "procedure", one.slug, next=page) == 302
    assert Follow.objects.get().procedure == one
    assert ">Following<" in charlie.get(page).content.decode()
    assert "A hook" in charlie.get(reverse("procedures:following")).content.decode()
    follow(charlie, "procedure", one.slug, off="1")
    assert not Follow.objects.exists()


def test_twice_is_once(charlie):
    published()
    for _ in range(2):
        follow(charlie, "person", "alice")
    assert Follow.objects.count() == 1


def test_unfollow_on_the_list(charlie, alice):
    published()
    follow(charlie, "person", "alice")
    address = reverse("procedures:drop_follow", args=[Follow.objects.get().pk])
    alice.post(address)
    assert Follow.objects.count() == 1, "another's follow stays"
    charlie.post(address)
    assert not Follow.objects.exists()


def test_followed_sees_a_number_and_no_names(charlie, alice):
    one = published()
    follow(charlie, "procedure", one.slug)
    follow(charlie, "person", "alice")
    for page in (one.get_absolute_url(), reverse("procedures:smith", args=["alice"])):
        told = alice.get(page).content.decode()
        assert "Followed by 1" in told
        assert "charlie" not in told
        assert "Followed by" not in at_the_browser("bob").get(page).content.decode()


def test_where_following_leads_back_is_on_this_site(charlie):
    one = published()
    response = charlie.post(
        reverse("procedures:follow_thing", args=["procedure", one.slug]), {"next": "//evil.example/"}
    )
    assert response.url == reverse("procedures:following")


@pytest.mark.parametrize("kind", ["procedure", "guild", "person", "class", "none"])
def test_what_one_may_not_see_is_not_followed(charlie, kind):
    draft = a_draft()
    guild = actions.found_guild(name="The closed anvil", by=person())
    Guild.objects.update(listed=False)
    keys = {"procedure": draft.slug, "guild": guild.slug, "person": "nobody"}
    assert follow(charlie, kind, keys.get(kind, "x")) == 404
    assert not Follow.objects.exists()


def test_nobody_follows_themselves(alice):
    follow(alice, "person", "alice")
    assert not Follow.objects.exists()


def test_who_is_shut_out_follows_nothing_of_whom_they_annoyed(charlie):
    one = published()
    follow(charlie, "procedure", one.slug)
    follow(charlie, "person", "alice")
    actions.shut_out(person=charlie.user, by=person())
    assert not Follow.objects.exists(), "shutting out ends it"
    follow(charlie, "procedure", one.slug)
    follow(charlie, "person", "alice")
    assert not Follow.objects.exists()


def test_stranger_signs_in_first(client):
    published()
    assert follow(client, "person", "alice") == 302
    assert not Follow.objects.exists()


def test_list_asks_the_same_whatever_is_followed(charlie, django_assert_num_queries):
    followed(charlie.user, published())
    address = reverse("procedures:following")
    charlie.get(address)
    with django_assert_num_queries(5):
        charlie.get(address)
    followed(charlie.user, *(published(a_hook(title=f"Hook {one}")) for one in "ABCDE"), person())
    with django_assert_num_queries(5):
        charlie.get(address)


# -- the mail ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["procedure", "person", "guild"])
def test_new_revision_is_told(kind):
    who = subscriber()
    guild = actions.found_guild(name="The Anvil", by=person())
    one = published()
    actions.put_on_shelf(procedure=one, guild=guild, by=person())
    followed(who, {"procedure": one, "person": person(), "guild": guild}[kind])
    assert len(sent()) == 1
    retitled(one, "A better hook")
    actions.publish(procedure=one, note="Longer.", by=person())
    DigestWish.objects.update(told=timezone.now() - timedelta(days=2))
    Revision.objects.filter(number=1).update(published_at=timezone.now() - timedelta(days=3))
    [text] = sent()
    assert "A better hook, revision 2, by alice" in text
    assert "Longer." in text
    assert "revision 1" not in text
    assert mail.outbox[0].to == ["charlie@example.org"]


def test_each_is_told_once_and_nothing_comes_while_nothing_is_new():
    who = subscriber()
    followed(who, person())
    assert sent() == []
    published()
    assert len(sent()) == 1
    assert sent() == []
    DigestWish.objects.update(told=timezone.now() - timedelta(days=1))
    Revision.objects.update(published_at=timezone.now() - timedelta(days=3))
    assert sent() == []


@pytest.mark.parametrize(
    ("often", "days", "comes"),
    [
        ("never", 30, False),
        ("daily", 0.5, False),
        ("daily", 1, True),
        ("weekly", 3, False),
        ("weekly", 7, True),
    ],
)
def test_how_often(often, days, comes):
    who = subscriber(often=often)
    followed(who, person())
    published()
    DigestWish.objects.update(told=timezone.now() - timedelta(days=days))
    assert len(sent()) == comes


def test_address_that_nobody_confirmed_gets_nothing():
    followed(subscriber(verified=False), person())
    published()
    assert sent() == []


def test_account_that_is_closed_gets_nothing():
    who = subscriber()
    followed(who, person())
    published()
    who.is_active = False
    who.save()
    assert sent() == []


@pytest.mark.parametrize("became", ["draft", "hidden", "guild", "unlisted", "withdrawn revision"])
def test_only_what_one_may_still_read(became):
    who = subscriber()
    followed(who, person())
    one = published(a_hook(title="Zwiesel"))
    published(a_hook(title="Another"))
    if became == "draft":
        actions.unpublish(procedure=one, reason="It tears.", by=person())
    elif became == "withdrawn revision":
        actions.withdraw_revision(procedure=one, revision=one.latest, reason="It tears.", by=person())
    elif became == "hidden":
        Procedure.objects.filter(pk=one.pk).update(hidden=timezone.now())
    else:
        guild = actions.found_guild(name="The Anvil", by=person())
        Procedure.objects.filter(pk=one.pk).update(status=became, guild=guild)
    [text] = sent()
    assert "Another" in text
    assert "Zwiesel" not in text


def test_guilds_procedure_is_told_to_its_members():
    who = subscriber()
    guild = actions.found_guild(name="The Anvil", by=person())
    Membership.objects.create(guild=guild, user=who, role="member")
    followed(who, guild)
    one = a_draft(a_hook(title="Zwiesel"))
    actions.publish(procedure=one, status="guild", guild=guild, by=person())
    [text] = sent()
    assert "Zwiesel" in text
    Membership.objects.filter(user=who).delete()
    DigestWish.objects.update(told=timezone.now() - timedelta(days=8))
    assert sent() == []


def test_unlisted_one_is_told_where_it_is_itself_followed():
    who = subscriber()
    one = a_draft(a_hook(title="Zwiesel"))
    actions.publish(procedure=one, status="unlisted", by=person())
    followed(who, one)
    [text] = sent()
    assert "Zwiesel" in text


def test_own_work_is_no_news_to_oneself():
    who = subscriber()
    guild = actions.found_guild(name="The Anvil", by=who)
    followed(who, guild)
    one = published(owner="charlie")
    actions.put_on_shelf(procedure=one, guild=guild, by=who)
    assert sent() == []


def test_what_was_there_before_one_followed_is_not_new():
    published()
    Revision.objects.update(published_at=timezone.now() - timedelta(days=1))
    who = subscriber()
    actions.follow(thing=person(), by=who)
    assert sent() == []


def test_searches_that_find_something_new_are_told():
    who = subscriber()
    SavedSearch.objects.create(owner=who, name="Hooks to hang", query="q=hook")
    SavedSearch.objects.create(owner=who, name="Anchors", query="q=anchor")
    published()
    [text] = sent()
    assert "Hooks to hang" in text
    assert "finds 1 new" in text
    assert "Anchors" not in text


def test_words_are_text_in_either_form():
    who = subscriber()
    followed(who, person())
    published(a_hook(title="<b>A hook</b> & more"))
    [text] = sent()
    assert "<b>A hook</b> & more" in text
    [(html, kind)] = mail.outbox[0].alternatives
    assert kind == "text/html"
    assert "&lt;b&gt;A hook&lt;/b&gt; &amp; more" in html
    assert "<b>" not in html


def test_mail_server_out_of_order_loses_nothing(settings):
    who = subscriber()
    followed(who, person())
    published()
    settings.EMAIL_BACKEND = "tests.integration.test_digests.OutOfOrder"
    call_command("send_digests", stdout=StringIO())
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    assert len(sent()) == 1


class OutOfOrder:
    """A mail server that refuses."""

    def __init__(self, **more: object) -> None:
        pass

    def send_messages(self, messages: object) -> int:
        raise ConnectionRefusedError


# -- how often, and stopping it ----------------------------------------------------------------------


def test_how_often_is_chosen_on_the_account_page(charlie):
    address = reverse("procedures:digest")
    assert address in charlie.get(reverse("procedures:export_account")).content.decode()
    assert charlie.post(address, {"often": "hourly"}).status_code == 422
    assert not DigestWish.objects.exists()
    charlie.post(address, {"often": "weekly"})
    assert DigestWish.objects.get().often == "weekly"
    assert "confirm yours first" in charlie.get(address).content.decode()


def test_one_press_stops_it(client, settings):
    settings.ADDRESS = "https://forge.example"
    who = subscriber()
    followed(who, person())
    published()
    [text] = sent()
    headers = mail.outbox[0].extra_headers
    [link] = re.findall(r"<(.*)>", headers["List-Unsubscribe"])
    assert headers["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    assert link.startswith("https://forge.example/")
    assert link in text
    path = urlsplit(link).path
    assert "Send me no more" in client.get(path).content.decode()
    assert DigestWish.objects.get().often == "daily", "looking stops nothing"
    strict = Client(enforce_csrf_checks=True)  # a mail program has no cookie of ours
    response = strict.post(path, {"List-Unsubscribe": "One-Click"})
    assert response.status_code == 200
    assert DigestWish.objects.get().often == "never"


@pytest.mark.parametrize("token", ["1", "1:forged", "x:y:z", "%00"])
def test_forged_link_stops_nothing(client, token):
    subscriber()
    assert client.post(f"/digest/stop/{token}/").status_code == 404
    assert DigestWish.objects.get().often == "daily"
