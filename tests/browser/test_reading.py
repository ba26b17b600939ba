"""Reading and following the demo in a real browser: on a desk, on a telephone, by key, without script."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

HOOK = "/p/coat-hook-the-first-evening/"
PAGES = [
    "/procedures/",
    HOOK,
    f"{HOOK}?view=nominal",
    f"{HOOK}follow/hook/0/",
    f"{HOOK}follow/hook/6/",
    f"{HOOK}stages/hook/3/",
]
LEAST = 64  # px of anything pressed with a glove on


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


@pytest.mark.parametrize("address", PAGES)
def test_page_is_accessible_by_night(phone, address, assert_accessible):
    phone.emulate_media(color_scheme="dark")
    phone.goto(address)
    assert_accessible(phone)


def test_keys_and_thumb_turn_the_screens(phone: Page):
    phone.goto(f"{HOOK}follow/")
    expect(phone).to_have_url(re.compile("/hook/0/$"))
    phone.wait_for_load_state("networkidle")
    for key, number in (("ArrowRight", 1), (" ", 2), ("ArrowLeft", 1), ("PageDown", 2), ("PageUp", 1)):
        phone.keyboard.press(key)
        expect(phone).to_have_url(re.compile(f"/hook/{number}/$"))
        phone.wait_for_load_state("networkidle")
    phone.get_by_role("link", name="Next").tap()
    expect(phone).to_have_url(re.compile("/hook/2/$"))
    phone.get_by_role("link", name="Back").tap()
    expect(phone).to_have_url(re.compile("/hook/1/$"))


def test_back_and_next_are_in_the_thumbs_reach_and_large(phone: Page):
    phone.goto(f"{HOOK}follow/hook/2/")
    for name in ("Back", "Next"):
        box = phone.get_by_role("link", name=name).bounding_box()
        assert box["height"] >= LEAST
        assert box["y"] + box["height"] <= 844
        assert box["y"] > 844 * 2 / 3
    assert phone.get_by_role("link", name="Leave").bounding_box()["height"] >= LEAST


def test_numbers_are_read_at_arms_length(phone: Page):
    phone.goto(f"{HOOK}follow/hook/2/")
    size = "element => parseFloat(getComputedStyle(element).fontSize)"
    assert phone.locator(".figures__after").first.evaluate(size) >= 40
    assert phone.locator(".follow__words").first.evaluate(size) >= 24


def test_text_at_twice_the_size_does_not_push_the_page_sideways(phone: Page):
    for address in (f"{HOOK}follow/hook/2/", f"{HOOK}follow/hook/0/", HOOK):
        phone.goto(address)
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert phone.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address


def test_place_survives_a_reload_and_is_offered_on_the_page(phone: Page):
    phone.goto(f"{HOOK}follow/hook/4/")
    phone.goto(HOOK)
    phone.get_by_role("link", name="Resume at step 4").tap()
    expect(phone).to_have_url(re.compile("/hook/4/$"))


def test_follows_and_prints_without_script(browser, live_server):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    page = context.new_page()
    page.goto(HOOK)
    page.get_by_role("link", name="Print", exact=True).click()
    expect(page.get_by_role("button", name="Shop card")).to_be_visible()
    page.go_back()
    page.get_by_role("link", name="Follow at the anvil").click()
    for _ in range(10):
        read_first = page.get_by_role("link", name="Read: on to the step")
        if read_first.count():
            read_first.click()
        page.get_by_role("link", name="Next").click()
    page.get_by_role("link", name="Finish").click()
    expect(page).to_have_url(re.compile(f"{HOOK}$"))
    context.close()


def test_piece_changes_where_it_stands(page: Page):
    page.goto(HOOK)
    part = page.get_by_label("Hook, stage by stage")
    slider = part.get_by_role("slider")
    last = int(slider.get_attribute("max"))
    part.get_by_role("link", name="Back").click()
    expect(part.locator(".stage")).to_have_attribute("data-number", str(last - 1))
    slider.press("Home")
    expect(part).to_contain_text("The bar as it comes")
    expect(slider).to_have_attribute("aria-valuetext", re.compile("The bar as it comes"))
    for number in range(1, 4):
        slider.press("ArrowRight")
        expect(part.locator(".stage")).to_have_attribute("data-number", str(number))
    expect(page).to_have_url(re.compile(f"{HOOK}$"))
    part.get_by_role("button", name="Run through").click()
    expect(part.locator(".stage")).to_have_attribute("data-number", "4")
    part.get_by_role("button", name="Stop").click()
    expect(part.get_by_role("button", name="Run through")).to_be_visible()


def test_nothing_runs_by_itself_for_who_wants_less_motion(page: Page):
    page.emulate_media(reduced_motion="reduce")
    page.goto(f"{HOOK}stages/hook/1/")
    expect(page.get_by_role("button", name="Show")).to_be_hidden()  # so the script has run
    expect(page.get_by_role("button", name="Run through")).to_be_hidden()
    page.get_by_role("link", name="Next").click()
    expect(page.locator(".stage")).to_have_attribute("data-number", "2")


def test_stages_are_stepped_through_without_script(browser, live_server):
    context = browser.new_context(java_script_enabled=False, base_url=live_server.url)
    page = context.new_page()
    page.goto(HOOK)
    page.get_by_label("Hook, stage by stage").get_by_role("link", name="Back").click()
    expect(page.locator(".stage__drawing svg:visible")).to_have_count(1)
    page.get_by_role("slider").press("Home")
    page.get_by_role("button", name="Show").click()
    expect(page).to_have_url(re.compile("/stages/hook/0/$"))
    context.close()
