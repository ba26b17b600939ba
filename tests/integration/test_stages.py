"""The stages of the work: the piece as each step leaves it, with and without script."""

import re

import pytest

from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .showing import a_draft, published

pytestmark = pytest.mark.django_db


def page_of(client, address: str, **headers) -> str:
    response = client.get(address, headers=headers)
    assert response.status_code == 200
    return response.content.decode()


def test_links_lead_from_the_bar_to_the_finished_piece_and_back(client):
    address = f"/p/{published().slug}/stages/bar/"
    html = page_of(client, f"{address}0/")
    assert "The bar as it comes" in html
    seen = ["0"]
    while found := re.search(r'rel="next" href="([^"]+)"', html):
        seen.append(found[1].split("/")[-2])
        html = page_of(client, found[1])
    assert seen == ["0", "1", "2"]
    assert f'rel="prev" href="{address}1/"' in html


def test_form_without_script_leads_to_the_step_asked_for(client):
    address = f"/p/{published().slug}/stages/bar/"
    assert client.get(address, {"step": "2", "view": "nominal"}).url == f"{address}2/?view=nominal"
    assert client.get(address).url == f"{address}0/"


@pytest.mark.parametrize("asked", ["3", "-1", "x", "²", "1" * 30, "0x1", ""])
def test_step_that_is_not_there_is_not_found(client, asked):
    assert client.get(f"/p/{published().slug}/stages/bar/", {"step": asked}).status_code == 404


def test_part_that_is_not_there_is_not_found(client):
    assert client.get(f"/p/{published().slug}/stages/none/1/").status_code == 404
    assert client.get(f"/p/{published().slug}/stages/bar/3/").status_code == 404


def test_script_gets_only_what_changes_and_no_cache_mixes_the_two(client):
    address = f"/p/{published().slug}/stages/bar/2/"
    part = page_of(client, address, HX_Request="true")
    assert part.lstrip().startswith('<div class="stage"')
    assert "<h1" not in part
    assert part in page_of(client, address)
    assert "HX-Request" in client.get(address)["Vary"]


def test_stage_shows_what_the_read_page_shows(client):
    hook = published()
    drawing = re.search(
        r'<div class="drawing--wide">(<svg.*?</svg>)', page_of(client, f"/p/{hook.slug}/stages/bar/2/")
    )
    assert drawing[1] in page_of(client, f"/p/{hook.slug}/")


def test_step_not_reached_says_so(alice):
    impossible = a_step("cut_off", key="s1", at={"on": "bar", "datum": "start", "offset": 9_000})
    draft = a_draft(a_document(a_part(impossible, drawn_out() | {"key": "s2"})))
    html = page_of(alice, f"/p/{draft.slug}/stages/bar/2/")
    assert "Not reached" in html
    assert "An earlier step stops the replay." in html


def test_draft_is_its_owners(client, charlie):
    address = f"/p/{a_draft().slug}/stages/bar/1/"
    assert client.get(address).status_code == 404
    assert charlie.get(address).status_code == 404


def test_owner_steps_through_the_draft_of_what_is_public(alice):
    hook = published()
    assert hook.owner == alice.user
    html = page_of(alice, f"/p/{hook.slug}/stages/bar/1/?draft")
    assert f'href="/p/{hook.slug}/stages/bar/2/?draft"' in html
    assert 'data-query="?draft"' in page_of(alice, f"/p/{hook.slug}/edit/")
