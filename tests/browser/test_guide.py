"""The operation guide in a real browser: on a desk, on a telephone, by night, without script."""

import pytest
from playwright.sync_api import Page, expect

PAGES = [
    "/operations/",
    "/operations/?q=weld",
    "/operations/?q=tapper",
    "/operations/taper/",
    "/operations/weld_side/",
]


@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("address", PAGES)
def test_page_is_accessible_and_fits_its_window(request, window, address, assert_accessible):
    page = request.getfixturevalue(window)
    assert page.goto(address).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


@pytest.mark.parametrize("address", PAGES[-2:])
def test_page_is_accessible_by_night(phone: Page, address, assert_accessible):
    phone.emulate_media(color_scheme="dark")
    phone.goto(address)
    assert_accessible(phone)


def test_text_at_twice_the_size_does_not_push_the_page_sideways(phone: Page):
    for address in ("/operations/", "/operations/scroll/"):
        phone.goto(address)
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert phone.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address


def test_list_narrows_as_one_types_and_the_address_keeps_what_was_typed(page: Page):
    page.goto("/operations/")
    page.wait_for_load_state("networkidle")
    page.get_by_label("Look one up").press_sequentially("tape", delay=30)
    expect(page.get_by_role("heading", level=3).first).to_have_text("Taper")
    expect(page).to_have_url("/operations/?q=tape")
    page.get_by_label("Look one up").fill("")
    expect(page.get_by_role("heading", name="Preparing")).to_be_visible()
    page.get_by_role("link", name="Twist").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Twist")


def test_search_works_without_script(browser, live_server, transactional_db):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    page = context.new_page()
    page.goto("/operations/")
    page.get_by_label("Look one up").fill("jump up")
    page.get_by_role("button", name="Search").click()
    page.get_by_role("link", name="Upset").first.click()
    assert page.get_by_role("heading", level=1).text_content() == "Upset"
    context.close()
