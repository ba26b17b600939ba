"""What a page says to other programs: JSON-LD after schema.org, Open Graph, oEmbed."""

import json
import re
from datetime import date
from html import unescape
from urllib.parse import urlsplit

import pytest
from django.urls import reverse

from procedures import actions
from procedures.models import Procedure

from .showing import a_hook, published

pytestmark = pytest.mark.django_db
HOST = "http://testserver"

# What Google and schema.org ask of a HowTo, and where each type may stand (schema.org, from memory).
STANDS_IN = {
    "HowToSection": {"position": int, "name": str, "itemListElement": list},
    "HowToStep": {"position": int, "name": str, "url": str, "itemListElement": list},
    "HowToDirection": {"text": str},
    "HowToTip": {"text": str},
    "HowToTool": {"name": str},
    "HowToSupply": {"name": str},
    "Person": {"name": str},
}


def how_to(client, address):
    body = client.get(address).content.decode()
    (block,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', body, re.DOTALL)
    assert "<" not in block
    return json.loads(block)


def things(said):
    if isinstance(said, dict):
        yield said
        said = list(said.values())
    if isinstance(said, list):
        for one in said:
            yield from things(one)


def test_page_is_a_how_to_with_every_step(client):
    hook = published()
    said = how_to(client, hook.get_absolute_url())
    assert (said["@context"], said["@type"], said["name"]) == (
        "https://schema.org",
        "HowTo",
        hook.latest.title,
    )
    assert said["url"] == HOST + hook.get_absolute_url()
    assert said["@id"] == f"{HOST}/r/{hook.latest.code}/"
    assert urlsplit(said["license"]).netloc == "creativecommons.org"
    assert date.fromisoformat(said["datePublished"])
    for one in list(things(said))[1:]:
        for name, kind in STANDS_IN[one["@type"]].items():
            assert one[name], (one["@type"], name)
            assert isinstance(one[name], kind)
    steps = [len(part["steps"]) for part in hook.latest.document["parts"]]
    assert [len(section["itemListElement"]) for section in said["step"]] == steps


def test_how_to_says_what_the_page_says(client):
    hook = published()
    body = " ".join(
        unescape(re.sub("<[^>]+>", "", client.get(hook.get_absolute_url()).content.decode())).split()
    )
    for section in how_to(client, hook.get_absolute_url())["step"]:
        for step in section["itemListElement"]:
            assert " ".join(step["itemListElement"][0]["text"].split()) in body


def test_how_to_follows_the_readers_units(client):
    hook = published()
    client.cookies["units"] = "inch"
    assert " in" in json.dumps(how_to(client, hook.get_absolute_url()), ensure_ascii=False).replace(
        "\u202f", " "
    )


def test_script_in_a_title_stays_text(client):
    title = "</script><script>alert(1)</script> & co"
    hook = published({**a_hook(), "title": title})
    assert how_to(client, hook.get_absolute_url())["name"] == title
    assert b"<script>alert" not in client.get(hook.get_absolute_url()).content


def test_draft_says_nothing_of_itself(alice):
    hook = published()
    body = alice.get(hook.get_absolute_url() + "?draft").content
    assert b"ld+json" not in body
    assert b"og:title" not in body


def test_an_adaptation_names_what_it_is_based_on(client, charlie):
    hook = published()
    own = actions.adapt(revision=hook.latest, by=charlie.user)
    actions.publish(procedure=own, note="", by=charlie.user)
    based = how_to(client, Procedure.objects.get(pk=own.pk).get_absolute_url())["isBasedOn"]
    assert based == {
        "@type": "HowTo",
        "name": hook.latest.title,
        "version": "1",
        "url": f"{HOST}/r/{hook.latest.code}/",
    }


def test_open_graph_and_oembed_are_found_from_the_page(client):
    hook = published()
    body = client.get(hook.get_absolute_url()).content.decode()
    graph = dict(re.findall(r'<meta property="([^"]+)" content="([^"]*)">', body))
    assert graph["og:title"] == hook.latest.title
    assert graph["og:url"] == HOST + hook.get_absolute_url()
    (address,) = re.findall(r'type="application/json\+oembed" href="([^"]+)"', body)
    told = client.get(unescape(address).removeprefix(HOST)).json()
    assert (told["version"], told["type"], told["title"]) == ("1.0", "rich", hook.latest.title)
    assert told["html"].startswith("<blockquote")
    assert told["width"] > 0
    assert told["height"] > 0


def embedded(client, url, **query):
    return client.get(reverse("procedures:oembed"), {"url": url, **query})


def test_oembed_takes_every_address_a_reader_may_have(client):
    hook = published()
    for address in (hook.get_absolute_url(), f"/p/{hook.slug}/r/1/", f"/r/{hook.latest.code}/"):
        assert embedded(client, HOST + address).json()["title"] == hook.latest.title
    small = embedded(client, HOST + hook.get_absolute_url(), maxwidth="200", maxheight="90").json()
    assert (small["width"], small["height"]) == (200, 90)


@pytest.mark.parametrize(
    "url",
    ["", "x", "https://elsewhere.example/p/hook/", "ftp://testserver/p/hook/", "http://testserver/nothing/",
     "http://testserver/runs/", "http://[", "http://testserver/r/aaaaaaaa/", "http://testserver/p/\x00/"],
)  # fmt: skip
def test_oembed_of_anything_else_is_not_found(client, url):
    published()
    assert embedded(client, url).status_code == 404


@pytest.mark.parametrize("room", ["-1", "0", "wide", "nan", "٣", "9" * 40])
def test_oembed_refuses_room_that_is_no_number(client, room):
    hook = published()
    answer = embedded(client, HOST + hook.get_absolute_url(), maxwidth=room)
    assert answer.status_code == 400
    assert "whole numbers" in answer.json()["fault"]


def test_oembed_speaks_json_alone(client):
    hook = published()
    assert embedded(client, HOST + hook.get_absolute_url(), format="xml").status_code == 501


def test_oembed_keeps_to_what_everybody_may_read(alice):
    hook = published()
    address = HOST + hook.get_absolute_url()
    cited = f"{HOST}/r/{hook.latest.code}/"
    alice.post(reverse("procedures:unpublish", args=[hook.slug]), {"reason": "It tears."})
    assert embedded(alice, address).status_code == 404
    assert embedded(alice, cited).status_code == 404
