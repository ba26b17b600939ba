"""Full size in a real browser: chosen by keyboard and by thumb, without script, and read by everyone."""

import io
import re

import pypdfium2
import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

PAGE = "/p/coat-hook-the-first-evening/full-size/"


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
def test_page_is_accessible_and_fits_its_window(request, window, scheme, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    assert page.goto(PAGE).status == 200
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


def test_reader_chooses_paper_and_patterns_and_prints_them(page: Page):
    page.goto(PAGE)
    count = page.locator(".full-size__count")
    expect(count).to_contain_text("sheets of A4")
    for key in ("strip", "bend-1", "scroll-1", "holes-1"):
        page.locator(f"#hook-{key}").uncheck()
    page.get_by_role("checkbox", name="Bend 1, 165°").check()
    page.get_by_label("Paper").select_option("Letter")
    page.get_by_role("button", name="Count the sheets").click()
    expect(count).to_contain_text("1 sheet of Letter")
    expect(page.get_by_role("checkbox", checked=True)).to_have_count(1)
    with page.expect_request(re.compile(r"full-size\.pdf\?")) as asked:
        page.get_by_role("button", name="Print what is ticked").click()
    made = page.request.get(asked.value.url)
    assert made.headers["content-type"] == "application/pdf"
    assert len(pypdfium2.PdfDocument(io.BytesIO(made.body()))) == 1


def test_piece_can_be_had_as_it_is_after_an_earlier_step(page: Page):
    page.goto(PAGE)
    expect(page.get_by_role("checkbox", name="Bend 1")).to_have_count(1)
    page.get_by_label("As it is").select_option(label="After step 6, punch")
    page.get_by_role("button", name="Show it").click()
    expect(page.get_by_role("checkbox", name="Bend 1")).to_have_count(0)
    expect(page.get_by_role("checkbox", name="Holes")).to_have_count(1)


def test_pattern_is_taken_as_a_file(page: Page):
    page.goto(PAGE)
    with page.expect_download() as taken:
        page.get_by_role("link", name=re.compile("^DXF of Hook: Mark-out strip")).click()
    assert taken.value.suggested_filename == "coat-hook-the-first-evening-hook-strip.dxf"
