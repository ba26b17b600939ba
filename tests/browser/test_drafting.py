"""From a drawing: by keyboard at 390 px, without script, and on to the printed strip and the cutting list."""

import io
import re

import pypdfium2
import pytest
from playwright.sync_api import Page, expect

PAGE = "/new/from-a-drawing/"
MOST_TABS = 90
FOCUSED = """() => {
  const here = document.activeElement;
  const label = here.labels && here.labels[0] ? here.labels[0].innerText : "";
  return (label || here.innerText || here.value || "").trim().replace(/\\s+/g, " ");
}"""


def reach(page: Page, words: str) -> None:
    """Press Tab until what has the focus begins with these words."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED).lower().startswith(words.lower()):
            return
    pytest.fail(f"{MOST_TABS} presses of Tab do not reach {words!r}")


def type_in(page: Page, label: str, text: str) -> None:
    reach(page, label)
    page.keyboard.press("Control+a")
    page.keyboard.type(text)


def answered(page: Page) -> None:
    """Wait until what was typed is answered: a page left before logs that as an error."""
    page.wait_for_timeout(700)  # ms: the form waits for a pause in the typing
    expect(page.locator("form.htmx-request")).to_have_count(0)


def press(page: Page, words: str) -> None:
    reach(page, words)
    answered(page)
    page.keyboard.press("Enter")


def add(page: Page, feature: str) -> None:
    answered(page)
    page.get_by_label("Feature to add").select_option(label=feature)
    page.get_by_role("button", name="Add at the end").click()


def pdf_text(page: Page, address: str) -> str:
    made = page.request.get(page.url.partition("/p/")[0] + address)
    assert made.headers["content-type"] == "application/pdf"
    return "".join(
        one.get_textpage().get_text_range() for one in pypdfium2.PdfDocument(io.BytesIO(made.body()))
    )


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
@pytest.mark.parametrize("query", ["", "?f0=eye&f0-inside_diameter=nan"])
def test_page_is_accessible_and_fits_its_window(request, window, scheme, query, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    page.goto(PAGE + query)
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


@pytest.mark.django_db(transaction=True)
def test_part_is_described_by_keyboard_on_a_phone(phone: Page):
    phone.goto(PAGE)
    type_in(phone, "Width", "24")
    expect(phone.locator(".drafting__bar")).to_have_text(re.compile("173"))  # 50 × 24 × 5 of □12: 7 mm more
    type_in(phone, "Thickness", "nan")
    expect(phone.locator("#after-f0-thickness")).not_to_be_empty()
    phone.keyboard.press("Control+a")
    phone.keyboard.type("5")
    expect(phone.locator("#after-f0-thickness")).to_be_empty()
    press(phone, "Remove hook")
    expect(phone.locator("legend")).to_have_count(3)
    expect(phone.get_by_label("Width")).to_have_value("24")
    reach(phone, "Feature to add")
    phone.keyboard.type("Taper")
    press(phone, "Add at the end")
    expect(phone.locator("legend").last).to_have_text("4 Taper")
    phone.get_by_label("Length", exact=True).last.fill("60")
    phone.get_by_label("To the section").fill("point")
    expect(phone.locator(".drafting__bar")).to_be_visible()
    press(phone, "Up")
    expect(phone.locator("legend").nth(2)).to_have_text("3 Taper")
    expect(phone.get_by_label("To the section")).to_have_value("point")


@pytest.mark.django_db(transaction=True)
def test_it_works_without_script(browser, live_server):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(live_server.url + PAGE + "?title=")
    add(page, "Stem")
    page.get_by_label("Length", exact=True).fill("60")
    page.get_by_label("The bar").fill("10 sq")
    add(page, "Taper")
    expect(page.get_by_label("Length", exact=True).first).to_have_value("60")
    page.get_by_label("Length", exact=True).last.fill("54")
    page.get_by_label("To the section").fill("point")
    page.get_by_label("To the section").press("Enter")
    expect(page.locator(".drafting__bar")).to_have_text(re.compile(r"78.mm$"))  # 60 + 54 / 3
    context.close()


@pytest.mark.django_db(transaction=True)
def test_smith_who_knows_only_finished_sizes_prints_the_strip_and_the_cutting_list(page: Page):
    page.goto("/accounts/signup/")
    page.get_by_label("Email").fill("wren@example.org")
    page.get_by_label("Username").fill("wren")
    page.get_by_label("Password", exact=True).fill("Anvil-and-horn-77")
    page.get_by_label("Password (again)").fill("Anvil-and-horn-77")
    page.keyboard.press("Enter")
    page.get_by_role("link", name="New procedure").click()
    page.get_by_role("link", name="Describe the part").click()
    page.get_by_role("link", name="begin with nothing").click()

    page.get_by_label("What it is").fill("Tent peg")
    page.get_by_label("How many").fill("12")
    page.get_by_label("The bar").fill("10 sq")
    add(page, "Eye")
    page.get_by_label("Inside diameter").fill("25")
    add(page, "Stem")
    page.get_by_label("Length", exact=True).fill("200")
    add(page, "Taper")
    page.get_by_label("Length", exact=True).last.fill("60")
    page.get_by_label("To the section").fill("2 sq")
    answered(page)
    page.get_by_role("button", name="Reckon").last.click()

    # π (25 + 10) + 200 + 60 × (100 + 20 + 4) / 300 = 334.8, and a little for the fire
    expect(page.locator(".drafting__bar")).to_have_text(re.compile(r"33[45]\.\d.mm$"))
    expect(page.get_by_role("heading", name="A first sequence of steps")).to_be_visible()
    page.get_by_role("button", name="Make it my draft").click()
    expect(page).to_have_url(re.compile("/p/tent-peg/edit/"))

    page.get_by_role("link", name="Read", exact=True).click()
    assert "strip" in pdf_text(page, "/p/tent-peg/full-size/full-size.pdf?draft&pattern=piece:strip").lower()
    page.get_by_role("link", name="Cutting list", exact=True).first.click()
    expect(page.get_by_label("How many")).to_have_value("12")
    page.get_by_role("button", name="Lay it out").click()
    expect(page.get_by_text("No plan takes less new bar: proven.")).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator(".cutting__bars")).to_be_visible()
