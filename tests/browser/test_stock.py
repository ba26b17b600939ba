"""A smith who knows only the finished sizes comes to a printed mark-out strip and a cutting list."""

import io
import re

import pypdfium2
import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

from procedures.engine.document import read
from procedures.models import Procedure

READ = "/p/coat-hook-the-first-evening/"
ASKED = READ + "stock/?part=hook&want=length%3Ahook&size=190&find=marks%2Fmarks%2F0%2Foffset"


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("address", [ASKED, READ + "cutting-list/?count-hook=30&rack-0=900"])
def test_page_is_accessible_and_fits_its_window(request, window, scheme, address, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    assert page.goto(address).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


def test_smith_who_knows_the_finished_size_prints_the_strip_and_the_cutting_list(page: Page):
    page.goto(READ)
    page.get_by_role("link", name="Stock", exact=True).click()
    page.get_by_label("What must come out").select_option(label="Length of hook")
    page.get_by_label("How large").first.fill("190")
    page.get_by_role("button", name="Work it back").click()

    # The bar is cut off at a mark, so its length settles nothing; the page says so, and what would.
    expect(page.get_by_text("step 4, cut off, settles it")).to_be_visible()
    page.get_by_role("link", name="the distance of mark C, in step 1").click()
    expect(page.locator(".stock__value")).to_have_text(re.compile(r"^102\.\d.mm$"))
    expect(page.get_by_text("Worked forward again through every step it comes to")).to_contain_text("190")

    strip = page.get_by_role("link", name="Mark-out strip at full size").get_attribute("href")
    made = page.request.get(page.url.partition("/p/")[0] + strip)
    assert made.headers["content-type"] == "application/pdf"
    assert "strip" in pypdfium2.PdfDocument(io.BytesIO(made.body()))[0].get_textpage().get_text_range()

    page.get_by_role("link", name="Cutting list of this bar").click()
    page.get_by_label("How many").fill("30")
    page.get_by_label("Offcuts on the rack").fill("900; 2 x 450")
    page.get_by_role("button", name="Lay it out").click()
    expect(page.get_by_text("No plan takes less new bar: proven.")).to_be_visible()
    expect(page.locator(".cutting__bars").get_by_text("from the rack")).to_have_count(2)
    page.emulate_media(media="print")
    expect(page.locator(".cutting__form")).to_be_hidden()
    expect(page.locator(".cutting__bars")).to_be_visible()


def test_it_works_without_script(browser, live_server):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(live_server.url + READ + "stock/")
    page.get_by_label("How large").first.fill("190")
    page.get_by_label("What is not known").select_option(label="The distance of mark C, in step 1, mark out")
    page.get_by_role("button", name="Work it back").click()
    expect(page.locator(".stock__value")).to_have_text(re.compile(r"^102\.\d.mm$"))
    context.close()


def test_owner_puts_the_bar_into_the_draft(page: Page, sign_in):
    procedure = Procedure.objects.get(slug="coat-hook-the-first-evening")
    sign_in(page, procedure.owner)
    page.goto(ASKED)
    page.get_by_role("button", name="Put it into the draft").click()
    expect(page.get_by_text("The bar is in the draft now.")).to_be_visible()
    procedure.refresh_from_db()
    part = read(procedure.document).part("hook")
    assert part.steps[0].params["marks"][0]["offset"] == pytest.approx(102, abs=0.2)
