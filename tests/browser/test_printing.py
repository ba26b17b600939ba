"""The pages of print choices in a real browser: desk, telephone, by night, and what they ask for."""

from urllib.parse import parse_qs, urlsplit

import pytest
from django.core.management import call_command

SLUG = "coat-hook-the-first-evening"
PAGES = [f"/p/{SLUG}/print/", f"/handout/?p={SLUG}"]


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("address", PAGES)
def test_page_is_accessible_and_fits_its_window(request, window, address, assert_accessible):
    page = request.getfixturevalue(window)
    assert page.goto(address).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)
    page.emulate_media(color_scheme="dark")
    assert_accessible(page)


def asked_for(page, name: str) -> dict[str, list[str]]:
    """The query of the print that a button asks for; the print itself is not made."""
    page.route("**/*.pdf?*", lambda route: route.fulfill(status=204))
    with page.expect_request("**/*.pdf?*") as asked:
        page.get_by_role("button", name=name).press("Enter")
    return parse_qs(urlsplit(asked.value.url).query)


def test_choices_go_into_the_address_of_the_card(page):
    page.goto(PAGES[0])
    page.get_by_label("A5").check()
    page.get_by_label("Left").check()
    page.get_by_label("With photos").check()
    query = asked_for(page, "Shop card")
    assert (query["size"], query["hand"], query["photos"]) == (["A5"], ["left"], ["on"])
    assert "notes" not in query


def test_a_search_keeps_what_was_ticked_and_typed(page):
    page.goto(PAGES[1])
    page.get_by_label("Teacher").fill("Ida Farrow")
    page.get_by_label("Find procedures").fill("bracket")
    page.get_by_role("button", name="Find").click()
    page.get_by_label("Hat bracket").check()
    query = asked_for(page, "Make the handout")
    assert query["p"][0] == SLUG
    assert len(query["p"]) == 2
    assert query["teacher"] == ["Ida Farrow"]
