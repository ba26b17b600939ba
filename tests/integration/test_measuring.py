"""What a measurement makes of the rest, asked of the site: with script and without."""

import json
import re

import pytest

from procedures.replanning import replanned

from .showing import a_draft, published

pytestmark = pytest.mark.django_db

SHORT = [{"step": "s2", "kind": "run", "branch": "bar", "length": "150"}]


def ask(client, slug: str, measured, **more):
    given = {"measured": measured if isinstance(measured, str) else json.dumps(measured), **more}
    return client.get(f"/p/{slug}/measured/bar/", given, headers={"accept": "application/json"})


def test_script_gets_the_same_as_the_engine_gives(client):
    hook = published()
    for units in ("metric", "inch"):
        client.cookies["units"] = units
        for view in ({}, {"view": "nominal"}):
            given = [{**SHORT[0], "length": "150 mm"}]
            expected = replanned(
                {
                    "document": hook.latest.document,
                    "part": "bar",
                    "measured": given,
                    "units": units,
                    "nominal": bool(view),
                }
            )
            assert ask(client, hook.slug, given, **view).json() == json.loads(json.dumps(expected))


def test_screen_asks_for_what_can_be_measured(client):
    html = client.get(f"/p/{published().slug}/follow/bar/2/").content.decode()
    assert 'name="run.bar.length"' in html
    assert 'name="run.bar.section"' in html
    assert 'name="whole.bar.length"' in html
    assert re.search(r'action="/p/[^"]+/measured/bar/"', html)
    assert "Hot enough to work for about" in html


def test_page_without_script_says_what_becomes_of_the_rest(client):
    hook = published()
    address = f"/p/{hook.slug}/measured/bar/"
    html = client.get(
        address, {"step": "s2", "run.bar.length": "150", "run.bar.section": ""}
    ).content.decode()
    assert "Leave it as it is and go on." in html
    assert "Draw it out until it is" in html
    assert f'href="/p/{hook.slug}/follow/bar/2/"' in html


def test_page_says_what_is_wrong_with_what_was_typed(client):
    given = {"step": "s2", "run.bar.length": "<b>long</b>"}
    html = client.get(f"/p/{published().slug}/measured/bar/", given).content.decode()
    assert 'role="alert"' in html
    assert "<b>long</b>" not in html


@pytest.mark.parametrize("given", ["", "{", "{}", "[1]", "null", "[" * 5000, "[" + '{"a":1},' * 4000 + "{}]"])
def test_question_that_does_not_read_is_refused_in_words(client, given):
    response = ask(client, published().slug, given)
    assert response.status_code == 400
    assert "do not read" in response.content.decode()


@pytest.mark.parametrize(
    "one",
    [
        {},
        {"step": 3, "kind": [], "branch": {}, "length": []},
        {"step": "s2", "kind": "run", "branch": "none", "length": "5"},
        {"step": "s2", "kind": "run", "branch": "bar", "length": "1e400"},
        {"step": "s2", "kind": "run", "branch": "bar", "length": 150},
    ],
)
def test_strange_measurements_are_answered(client, one):
    assert ask(client, published().slug, [one]).status_code == 200


def test_part_that_is_not_there_and_drafts_of_others_are_not_found(client, charlie):
    hook, draft = published(), a_draft()
    assert client.get(f"/p/{hook.slug}/measured/none/").status_code == 404
    for who in (client, charlie):
        assert ask(who, draft.slug, SHORT).status_code == 404


def test_cold_step_has_no_time_in_the_heat(client):
    html = client.get(f"/p/{published().slug}/follow/bar/1/").content.decode()
    assert "Out of the fire" not in html
