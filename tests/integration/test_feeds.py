"""Feeds: Atom as RFC 4287 wants it, only what everybody may read, and 304 where nothing changed."""

from __future__ import annotations

from datetime import datetime

import feedparser
import pytest
from django.test import Client
from django.urls import reverse
from lxml import etree

from procedures import actions
from procedures.models import Collection, Guild, Procedure

from .conftest import at_the_browser
from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db
ATOM = "{http://www.w3.org/2005/Atom}"


def collected(*procedures: Procedure, status: str = "public") -> Collection:
    made = actions.make_collection(title="Hooks", status=status, by=person())
    for one in procedures:
        actions.collect(collection=made, procedure=one, by=person())
    return made


def on_a_shelf() -> Guild:
    guild = actions.found_guild(name="The Anvil", by=person())
    held = published(a_hook(title="A guild's hook"))
    actions.put_on_shelf(procedure=held, guild=guild, by=person())
    return guild


def every_feed() -> dict[str, str]:
    one = published()
    return {
        "all": reverse("procedures:news_feed"),
        "smith": reverse("procedures:smith_feed", args=["alice"]),
        "guild": reverse("procedures:guild_feed", args=[on_a_shelf().slug]),
        "procedure": reverse("procedures:procedure_feed", args=[one.slug]),
        "collection": reverse("procedures:collection_feed", args=[collected(one).slug]),
    }


def texts(root: etree._Element, name: str) -> list[str]:
    return [one.text or "" for one in root.findall(f"{ATOM}{name}")]


def validate(content: bytes) -> etree._Element:
    """What RFC 4287 asks, sections 4.1.1 and 4.1.2 and those of each element; a failure names the rule."""
    root = etree.fromstring(content)
    assert root.tag == f"{ATOM}feed"
    entries = root.findall(f"{ATOM}entry")
    for element in (root, *entries):
        for once in ("id", "title", "updated"):
            assert len(texts(element, once)) == 1, f"exactly one {once}"
        for at_most_once in ("published", "rights", "subtitle", "summary", "content", "generator"):
            assert len(texts(element, at_most_once)) <= 1, at_most_once
        for date in (*texts(element, "updated"), *texts(element, "published")):
            assert datetime.fromisoformat(date).tzinfo is not None, "RFC 3339 with a zone (3.3)"
            assert "T" in date
        assert element.find(f"{ATOM}id").text.startswith("tag:"), "an absolute IRI (4.2.6)"
        has_author = element.find(f"{ATOM}author/{ATOM}name") is not None
        assert has_author or root.find(f"{ATOM}author/{ATOM}name") is not None, "an author (4.1.2)"
        links = element.findall(f"{ATOM}link")
        assert all(one.get("href", "").startswith("http") for one in links)
        alternates = [one for one in links if one.get("rel", "alternate") == "alternate"]
        assert len(alternates) == 1, "an alternate link stands for the content (4.1.2)"
        for text in element.findall(f"{ATOM}summary"):
            assert text.get("type") in ("text", "html")
    selves = [one for one in root.findall(f"{ATOM}link") if one.get("rel") == "self"]
    assert len(selves) == 1, "a feed should say where it is (4.1.1)"
    ids = [texts(one, "id")[0] for one in (root, *entries)]
    assert len(ids) == len(set(ids)), "ids are unique (4.1.1)"
    return root


def entries_of(client: Client, address: str) -> list[str]:
    return [one.title for one in feedparser.parse(client.get(address).content).entries]


def test_every_feed_is_valid(client):
    for name, address in every_feed().items():
        response = client.get(address)
        assert response["Content-Type"] == "application/atom+xml; charset=utf-8", name
        validate(response.content)
        read = feedparser.parse(response.content)
        assert not read.bozo, (name, read.get("bozo_exception"))
        assert read.version == "atom10"
        assert read.entries[0].link.startswith("http://testserver/p/")
        assert read.feed.links[0].href == f"http://testserver{read_page(name)}" or name not in PAGES
        assert any(one.rel == "self" and one.href.endswith(address) for one in read.feed.links)


PAGES = {"all": "/procedures/", "smith": "/smiths/alice/"}


def read_page(name: str) -> str:
    return PAGES.get(name, "")


def test_feed_without_entries_is_valid_and_stays_the_same(client):
    address = reverse("procedures:news_feed")
    first = client.get(address)
    assert validate(first.content).findall(f"{ATOM}entry") == []
    assert client.get(address).content == first.content


def test_each_revision_is_an_entry_with_its_lasting_name(client):
    one = published()
    retitled(one, "A better hook")
    second = actions.publish(procedure=one, note="A better title.", by=person())
    address = reverse("procedures:procedure_feed", args=[one.slug])
    read = feedparser.parse(client.get(address).content)
    assert [entry.title for entry in read.entries] == ["A better hook, revision 2", "A hook, revision 1"]
    assert read.entries[0].id == f"tag:testserver,{second.published_at.date()}:r/{second.code}"
    assert "What changed: A better title." in read.entries[0].summary
    assert read.entries[0].rights == "CC-BY-4.0"
    assert read.entries[0].author == "alice"


def test_words_of_a_document_are_text_in_a_feed(client):
    hostile = '<script>alert(1)</script> <img src=x onerror="alert(1)"> & ]]>'
    one = published(a_hook(title="<b>A hook</b> & more", summary=hostile))
    address = reverse("procedures:procedure_feed", args=[one.slug])
    root = validate(client.get(address).content)
    entry = root.find(f"{ATOM}entry")
    assert texts(entry, "title") == ["<b>A hook</b> & more, revision 1"]  # of type text, so it is no markup
    summary = entry.find(f"{ATOM}summary").text
    assert "<script>" not in summary
    assert "<img" not in summary
    assert "&lt;script&gt;" in summary


def test_nothing_changed_is_304_and_asks_little(client, django_assert_max_num_queries):
    for name, address in every_feed().items():
        first = client.get(address)
        with django_assert_max_num_queries(2):
            again = client.get(address, headers={"If-None-Match": first["ETag"]})
        assert (again.status_code, again.content) == (304, b""), name
        assert again["ETag"] == first["ETag"]
        dated = client.get(address, headers={"If-Modified-Since": first["Last-Modified"]})
        assert dated.status_code == 304, name


def test_change_is_told(client):
    one = published()
    address = reverse("procedures:news_feed")
    first = client.get(address)
    retitled(one, "A better hook")
    actions.publish(procedure=one, by=person())
    again = client.get(address, headers={"If-None-Match": first["ETag"]})
    assert again.status_code == 200
    assert "A better hook, revision 2" in entries_of(client, address)


def test_withdrawal_is_told_at_once(client):
    one = published()
    address = reverse("procedures:news_feed")
    first = client.get(address)
    actions.unpublish(procedure=one, reason="It tears.", by=person())
    again = client.get(address, headers={"If-None-Match": first["ETag"]})
    assert again.status_code == 200
    assert entries_of(client, address) == []


@pytest.mark.parametrize("status", ["draft", "unlisted", "guild", "withdrawn", "hidden"])
def test_what_is_not_public_is_in_no_feed(client, status):
    published(a_hook(title="A public hook"))
    guild = actions.found_guild(name="The Anvil", by=person())
    secret = a_draft(a_hook(title="A secret hook"))
    actions.put_on_shelf(procedure=secret, guild=guild, by=person())
    if status != "draft":
        asked = "public" if status in ("withdrawn", "hidden") else status
        actions.publish(procedure=secret, status=asked, guild=guild, by=person())
    if status == "withdrawn":
        actions.unpublish(procedure=secret, reason="It tears.", by=person())
    if status == "hidden":
        Procedure.objects.filter(pk=secret.pk).update(hidden="2027-03-09T12:00Z")
    held = collected(secret) if status != "draft" else collected()
    owner = at_the_browser("alice")
    for address in (
        reverse("procedures:news_feed"),
        reverse("procedures:smith_feed", args=["alice"]),
        reverse("procedures:guild_feed", args=[guild.slug]),
        reverse("procedures:collection_feed", args=[held.slug]),
    ):
        for browser in (client, owner):
            answer = browser.get(address)
            assert answer.status_code == 200
            assert b"secret" not in answer.content.lower(), (address, status)
    own = client.get(reverse("procedures:procedure_feed", args=[secret.slug]))
    assert own.status_code == (410 if status in ("withdrawn", "hidden") else 404)
    assert client.get(reverse("procedures:procedure_feed", args=[secret.slug])).status_code != 200


def test_private_collection_has_no_feed_for_others(client):
    held = collected(published(), status="private")
    address = reverse("procedures:collection_feed", args=[held.slug])
    assert client.get(address).status_code == 404
    assert at_the_browser("charlie").get(address).status_code == 404
    answer = at_the_browser("alice").get(address)
    assert answer.status_code == 200
    assert "private" in answer["Cache-Control"]


def test_frozen_item_is_told_at_its_revision(client):
    one = published()
    made = actions.make_collection(title="Hooks", status="public", by=person())
    actions.collect(collection=made, procedure=one, revision=one.latest, by=person())
    retitled(one, "A better hook")
    actions.publish(procedure=one, by=person())
    assert entries_of(client, reverse("procedures:collection_feed", args=[made.slug])) == [
        "A hook, revision 1"
    ]


def test_pages_tell_of_their_feeds(client):
    feeds = every_feed()
    one = Procedure.objects.get(title="A hook")
    pages = {
        "smith": reverse("procedures:smith", args=["alice"]),
        "guild": Guild.objects.get().get_absolute_url(),
        "procedure": one.get_absolute_url(),
        "collection": Collection.objects.get().get_absolute_url(),
        "all": "/",
    }
    for name, page in pages.items():
        root = etree.HTML(client.get(page).content)
        told = root.xpath("//link[@rel='alternate'][@type='application/atom+xml']/@href")
        assert feeds[name] in told, name
        assert feeds["all"] in told
