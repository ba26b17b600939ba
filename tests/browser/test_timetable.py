"""A teacher who has not seen the page plans a class of eight with a shared power hammer, and prints it."""

import io

import pypdfium2
import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

READ = "/p/coat-hook-the-first-evening/"
PLANNED = READ + "timetable/?students=8&pieces=2&power_hammer=on"


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("address", [READ + "timetable/", PLANNED + "&rows=places"])
def test_page_is_accessible_and_fits_its_window(request, window, scheme, address, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    assert page.goto(address).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


def test_class_of_eight_with_a_shared_power_hammer_is_planned_and_printed(page: Page):
    page.goto(READ)
    page.get_by_role("link", name="Timetable", exact=True).click()
    expect(page.get_by_text("Reckoned for a usual class, until you say what yours is")).to_be_visible()
    page.get_by_role("spinbutton", name="Students").fill("8")
    page.get_by_label("Pieces each").fill("2")
    page.get_by_label("There is a power hammer").check()
    page.locator("[name=begins]").fill("2026-12-01T18:30")
    page.get_by_role("button", name="Make the timetable").click()

    expect(page.get_by_role("heading", name="8 students, 2 pieces each, need about")).to_be_visible()
    expect(page.get_by_role("heading", name="The power hammer holds the class up")).to_be_visible()
    expect(page.get_by_role("rowheader", name="One more power hammer")).to_be_visible()
    expect(page.get_by_role("img", name="Timetable, a row for each student")).to_be_visible()
    expect(page.get_by_text("no reason to hurry hot work")).to_be_visible()
    expect(page.get_by_role("spinbutton", name="Students")).to_be_hidden()  # folded away
    expect(page.get_by_text("8 students, 2 pieces each, in 3")).to_be_visible()

    page.get_by_role("link", name="By place").click()
    expect(page.get_by_role("img", name="Timetable, a row for each place")).to_be_visible()
    address = page.get_by_role("link", name="Print it").get_attribute("href")
    made = page.request.get(page.url.partition("/p/")[0] + address, timeout=60_000)
    assert made.headers["content-type"] == "application/pdf"
    text = pypdfium2.PdfDocument(io.BytesIO(made.body()))[0].get_textpage().get_text_range()
    assert "18:50" in text or "18:30" in text
    with page.expect_download() as kept:
        page.get_by_role("link", name="For a calendar").click()
    assert kept.value.suggested_filename.endswith("timetable.ics")


def test_shop_without_an_anvil_is_told_why_and_what_would_do(page: Page):
    page.goto(READ + "timetable/")
    page.get_by_label("Anvils").fill("0")
    page.keyboard.press("Enter")
    expect(page.get_by_text("There is no anvil, and the work needs one.")).to_be_visible()
    expect(page.get_by_label("Anvils")).to_be_visible()
    page.get_by_label("Anvils").fill("3")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="8 students, a piece each")).to_be_visible()
