"""The front page and the list of procedures."""

import pytest

from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db


def test_empty_site_says_what_to_do(client):
    html = client.get("/").content.decode()
    assert "Nothing is published yet" in html


def test_public_procedures_are_shown_drawn_and_drafts_are_not(client):
    published(a_hook(title="A public hook"))
    a_draft(a_hook(title="A secret hook"))
    for address in ("/", "/procedures/"):
        html = client.get(address).content.decode()
        assert "A public hook" in html
        assert "<svg" in html.split("A public hook")[1]
        assert "A secret hook" not in html


def test_title_shown_is_the_one_published(client):
    procedure = published(a_hook(title="As published"))
    retitled(procedure, "Being rewritten")
    assert "Being rewritten" not in client.get("/procedures/").content.decode()


@pytest.mark.parametrize(
    ("words", "found"), [("hook", True), ("COAT", True), ("coat hook", True), ("gate", False)]
)
def test_search_finds_words_in_any_letters(client, words, found):
    published(a_hook(title="A coat hook"))
    html = client.get("/procedures/", {"q": words}).content.decode()
    assert ("A coat hook</a>" in html) is found
    assert found or "Nothing was found" in html


def test_search_shows_what_was_typed_safely(client):
    html = client.get("/procedures/", {"q": "<b>"}).content.decode()
    assert "&lt;b&gt;" in html
    assert "<b>" not in html


@pytest.mark.parametrize("page", ["2", "nonsense", "-1", "9999999999999"])
def test_page_that_is_not_there_shows_a_page_that_is(client, page):
    published()
    assert client.get("/procedures/", {"page": page}).status_code == 200


def test_queries_do_not_grow_with_the_list(client, django_assert_max_num_queries):
    for number in range(8):
        published(a_hook(title=f"Hook {number}"))
    client.force_login(person())
    with django_assert_max_num_queries(7):
        client.get("/procedures/")
