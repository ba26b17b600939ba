"""The main job from an empty page to a printed card, by keyboard alone on a screen 390 px wide."""

import re
from collections.abc import Callable

import pypdfium2
import pytest
from playwright.sync_api import Page, expect

MOST_TABS = 80
FOCUSED = """() => {
  const here = document.activeElement;
  const label = here.labels && here.labels[0] ? here.labels[0].innerText : "";
  if (here.type === "radio") return "(choice)";
  return (here.getAttribute("aria-label") || label || here.innerText || here.value || "").trim();
}"""


def reach(page: Page, words: str) -> None:
    """Press Tab until what has the focus begins with these words."""
    for _ in range(MOST_TABS):
        if page.evaluate(FOCUSED).lower().startswith(words.lower()):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"{MOST_TABS} presses of Tab do not reach {words!r}")


def type_in(page: Page, label: str, text: str) -> None:
    reach(page, label)
    page.keyboard.press("Control+a")
    page.keyboard.type(text)


def press(page: Page, words: str) -> None:
    reach(page, words)
    enter(page)


def enter(page: Page) -> None:
    page.keyboard.press("Enter")
    saved(page)


def saved(page: Page) -> None:
    """Wait until what was typed is on the server."""
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(700)  # ms: the form waits for a pause in the typing
    page.wait_for_load_state("networkidle")


def add_step(page: Page, after: str, operation: str) -> None:
    press(page, after)
    expect(page.get_by_label("Operation")).to_be_focused()
    page.keyboard.type(operation)
    page.wait_for_load_state("networkidle")
    press(page, operation)
    expect(page.get_by_role("heading", name=re.compile(operation))).to_be_visible()


def card_text(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


@pytest.mark.django_db(transaction=True)
def test_a_newcomer_authors_and_prints_a_nail_by_keyboard_on_a_phone(
    phone: Page, assert_accessible: Callable[[Page], None]
) -> None:
    phone.goto("/accounts/signup/")
    type_in(phone, "Email", "wren@example.org")
    type_in(phone, "Username", "wren")
    type_in(phone, "Password", "Anvil-and-horn-77")
    phone.keyboard.press("Tab")
    phone.keyboard.type("Anvil-and-horn-77")
    enter(phone)
    expect(phone.get_by_text("Sign out")).to_be_visible()

    press(phone, "New procedure")
    type_in(phone, "Title", "Long nail")
    type_in(phone, "Section", "10 sq")
    type_in(phone, "Length", "200")
    enter(phone)
    expect(phone).to_have_url(re.compile("/p/long-nail/edit/"))
    assert_accessible(phone)

    # □10, the last 18 to a true point: three times as long
    add_step(phone, "Add a step", "Point")
    type_in(phone, "Length", "18")
    type_in(phone, "Tip", "0")
    saved(phone)
    bench = phone.locator("main")
    expect(bench).to_contain_text("236")  # 200 - 18 + 3 × 18
    assert_accessible(phone)

    # a step that cannot be done is said beside the field, and what was typed stays
    add_step(phone, "Insert after", "Draw out")
    reach(phone, "Measured")
    phone.keyboard.type("from the start")
    type_in(phone, "Length", "50")
    type_in(phone, "Target section", "12 sq")
    saved(phone)
    expect(bench).to_contain_text("holds more metal")
    type_in(phone, "Target section", "twelve square")
    saved(phone)
    expect(phone.get_by_role("textbox", name="Target section")).to_have_value("twelve square")
    expect(bench).to_contain_text("twelve square")
    type_in(phone, "Target section", "8 sq")
    saved(phone)
    expect(bench).not_to_contain_text("holds more metal")

    # undo and redo reach further back than this page, and survive a reload
    phone.reload()
    press(phone, "Undo")
    saved(phone)
    press(phone, "Redo")
    saved(phone)
    expect(phone.get_by_role("textbox", name="Target section")).to_have_value(re.compile("8"))

    # the steps change places by keyboard
    press(phone, "Move up")
    saved(phone)
    expect(phone.get_by_role("heading", name="Draw out")).to_contain_text("Step 1")

    press(phone, "Publish")
    press(phone, "Publish")
    saved(phone)
    phone.goto("/p/long-nail/")
    expect(phone.get_by_role("heading", name="Long nail")).to_be_visible()
    assert_accessible(phone)

    # 50 of □10 drawn to □8 is 78.1; with the point 200 + 28.1 + 36 = 264.1, less what the fire takes
    pdf = phone.request.get("/p/long-nail/card.pdf?size=A5&orientation=portrait")
    assert pdf.headers["content-type"] == "application/pdf"
    words = card_text(pdf.body())
    assert "Long nail" in words
    assert "Draw out" in words
    assert "78.1" in words

    phone.goto("/p/long-nail/follow/")
    assert_accessible(phone)
    phone.keyboard.press("ArrowRight")
    expect(phone.get_by_text("1 of 2")).to_be_visible()
    press(phone, "Next")
    expect(phone.get_by_text("2 of 2")).to_be_visible()
    assert_accessible(phone)
