"""The calculators in a real browser: on a desk, on a telephone, by night, without script."""

import pytest
from playwright.sync_api import Page, expect

PAGES = [
    "/calculators/",
    "/calculators/?q=ring",
    "/calculators/rivet_head/",
    "/calculators/heat_colour/",
    "/calculators/weld_allowance/?section=20+mm+sq&length=xx",
]


@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("address", PAGES)
def test_page_is_accessible_and_fits_its_window(request, window, address, assert_accessible):
    page = request.getfixturevalue(window)
    assert page.goto(address).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


def test_page_is_accessible_by_night(phone: Page, assert_accessible):
    phone.emulate_media(color_scheme="dark")
    phone.goto(PAGES[-1])
    assert_accessible(phone)


def test_text_at_twice_the_size_does_not_push_the_page_sideways(phone: Page):
    for address in (PAGES[0], PAGES[2], PAGES[3]):
        phone.goto(address)
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert phone.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address


def test_answer_follows_as_one_types_and_the_address_with_it(page: Page):
    page.goto("/calculators/ring_blank/")
    page.wait_for_load_state("networkidle")
    inside = page.get_by_label("Inside diameter")
    inside.fill("")
    expect(page.locator("#after-inside_diameter")).to_contain_text("Inside diameter is needed.")
    inside.press_sequentially("100", delay=30)
    expect(page.locator(".calc__value")).to_contain_text("345.6")
    expect(inside).to_be_focused()
    expect(inside).to_have_value("100")
    expect(page).to_have_url("/calculators/ring_blank/?inside_diameter=100+mm&thickness=10+mm")
    inside.fill("many")
    expect(page.locator("#after-inside_diameter .field__error")).to_be_visible()
    expect(inside).to_have_value("many")
    expect(page.locator(".calc__none")).to_be_visible()


def test_answer_comes_without_script(browser, live_server, transactional_db):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    page = context.new_page()
    page.goto("/calculators/ring_blank/")
    page.get_by_label("Inside diameter").fill("4 in")
    page.get_by_role("button", name="Reckon").click()
    assert page.url.endswith("?inside_diameter=4+in&thickness=10+mm")
    assert "350.6" in page.locator(".calc__value").text_content()
    page.get_by_role("button", name="inch").click()
    assert "13 13/16 in" in page.locator(".calc__value").text_content().replace("\u202f", " ")
    context.close()
