"""The page to keep for the shop: all screens of what is published, and the files that go with it."""

import json
import re

import pytest

from procedures import actions

from .showing import a_draft, published, retitled

pytestmark = pytest.mark.django_db


def page_of(slug: str, revision: int = 1, units: str = "metric", view: str = "scale") -> str:
    return f"/shop/{slug}/{revision}/{units}/{view}/"


def test_page_holds_every_screen_as_the_phone_shows_it(client):
    hook = published()
    html = client.get(page_of(hook.slug)).content.decode()
    assert re.findall(r'<section class="shop__screen[^>]* id="([^"]+)"', html) == [
        f"bar-{n}" for n in range(4)
    ]
    single = client.get(f"/p/{hook.slug}/follow/bar/2/").content.decode()
    drawing = re.search(r'<div class="follow__drawing drawing">(.*?</svg>)', single, re.DOTALL)[1]
    assert drawing in html
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))


def test_page_brings_the_document_that_is_replayed(client):
    hook = published()
    html = client.get(page_of(hook.slug, units="inch", view="nominal")).content.decode()
    data = json.loads(re.search(r'<script id="run-of" type="application/json">(.*?)</script>', html)[1])
    assert data["document"] == hook.latest.document
    assert (data["units"], data["nominal"], data["revision"]) == ("inch", True, 1)


def test_page_is_the_same_for_whoever_asks(client, alice, charlie):
    address = page_of(published().slug)
    found = [one.get(address).content.decode() for one in (client, alice, charlie)]
    plain = [re.sub(r'nonce="[^"]+"', "", one) for one in found]
    assert plain[0] == plain[1] == plain[2]


def test_everything_listed_is_there(client):
    hook = published()
    listed = client.get(f"{page_of(hook.slug)}to_keep.json").json()
    assert (listed["revision"], listed["latest"], listed["page"]) == (1, 1, page_of(hook.slug))
    for address in [*listed["files"], *listed["engine"]]:
        if not address.startswith("/static/"):
            assert client.get(address).status_code == 200
    assert any(one.endswith(".woff2") for one in listed["files"])
    assert sum(listed["engine"].values()) > 4e6


def test_list_tells_of_a_newer_revision(client):
    hook = published()
    retitled(hook, "Another hook")
    actions.publish(procedure=hook, by=hook.owner)
    listed = client.get(f"{page_of(hook.slug)}to_keep.json").json()
    assert (listed["revision"], listed["latest"]) == (1, 2)
    assert "Another hook" not in client.get(page_of(hook.slug)).content.decode()


def test_what_is_not_published_is_not_to_be_kept(client, alice):
    draft = a_draft()
    withdrawn = published()
    actions.unpublish(procedure=withdrawn, by=withdrawn.owner)
    answers = ((client, draft, 404), (alice, draft, 404), (client, withdrawn, 410), (alice, withdrawn, 404))
    for who, procedure, status in answers:
        assert who.get(page_of(procedure.slug)).status_code == status
        assert who.get(f"{page_of(procedure.slug)}to_keep.json").status_code == status
    assert 'data-module="shop/keep"' not in alice.get(f"/p/{draft.slug}/follow/bar/0/").content.decode()


@pytest.mark.parametrize(
    "address", ["9/metric/scale", "1/cubits/scale", "1/metric/other", "1/metric/scale/x", "0/inch/nominal"]
)
def test_address_of_nothing_is_not_found(client, address):
    assert client.get(f"/shop/{published().slug}/{address}/").status_code == 404


def test_phone_can_put_the_site_on_its_home_screen(client):
    manifest = client.get("/manifest.webmanifest")
    assert manifest["Content-Type"] == "application/manifest+json"
    assert manifest.json()["start_url"] == "/shop/"
    assert {one["sizes"] for one in manifest.json()["icons"]} == {"192x192", "512x512"}
    assert client.get("/shop/").status_code == 200
    worker = client.get("/sw.js")
    assert worker["Content-Type"] == "text/javascript"
    assert b"respondWith" in worker.content
