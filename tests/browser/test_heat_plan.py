"""A smith finds the heat plan, puts in a power hammer, and reads one step's curve."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

READ = "/p/hat-bracket-with-two-scrolled-pegs/"


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
def test_page_is_accessible_and_fits_its_window(request, window, scheme, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    assert page.goto(f"{READ}heats/?step=bracket.arms&losses").status == 200
    # Of the screen: a telephone zooms out of a page that is too wide, and its window grows.
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    assert_accessible(page)


def test_smith_puts_in_a_power_hammer_and_reads_a_step(page: Page):
    page.goto(READ)
    page.get_by_role("link", name="Heat plan", exact=True).click()
    expect(page.get_by_role("heading", name="Reckoned for a usual shop")).to_be_visible()
    taper = page.locator("#plan-bracket-arms .heats__predicted")
    by_hand = int(re.match(r"\d+", taper.inner_text())[0])

    page.get_by_role("link", name="Put in your own").click()
    page.get_by_label("Struck with").select_option(label="Power hammer")
    page.get_by_role("button", name="Plan it for this shop").click()
    expect(page.get_by_text("no energy is given").first).to_be_visible()
    page.get_by_label("Energy of a power hammer blow").fill("162")
    page.get_by_role("button", name="Plan it for this shop").click()
    expect(page.get_by_role("heading", name="Reckoned for your shop")).to_be_visible()
    assert "power_energy=162" in page.url
    assert int(re.match(r"\d+", taper.inner_text())[0]) < by_hand

    page.locator("#plan-bracket-arms").get_by_role("link", name="6 Taper").click()
    expect(page.get_by_role("heading", name="temperature against time")).to_be_visible()
    page.get_by_role("link", name="Stirling").click()
    expect(page.get_by_role("img", name=re.compile("clear orange")).last).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator("#shop")).to_be_hidden()
    expect(page.locator(".heats__curve")).to_be_visible()
