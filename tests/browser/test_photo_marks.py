"""Marks on a photo, placed by keyboard, by mouse and by finger; and typed where there is no script."""

import io
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageDraw
from playwright.sync_api import Browser, Page, expect

from procedures import actions, photos
from procedures.models import Procedure
from tests.integration.showing import a_hook, person

pytestmark = pytest.mark.django_db(transaction=True)

BOXES = """() => [".over-photo", ".photo__image"].map((name) => {
  const box = document.querySelector(name).getBoundingClientRect();
  return [box.left, box.top, box.width, box.height];
})"""
SHOTS = os.environ.get("FORGESITE_SHOTS", "")  # a folder to leave pictures in, to be looked at


def a_photo() -> SimpleUploadedFile:
    """A bar across a dark ground, with a bright corner: hard for lines of one shade."""
    picture = Image.new("RGB", (1200, 800), "#241f1c")
    draw = ImageDraw.Draw(picture)
    draw.rectangle((100, 360, 1100, 440), fill="#f7a143")
    draw.rectangle((800, 0, 1200, 300), fill="#ffffff")
    held = io.BytesIO()
    picture.save(held, "JPEG")
    return SimpleUploadedFile("bar.jpg", held.getvalue())


@pytest.fixture
def hook(settings: Any, tmp_path: Path) -> Procedure:
    settings.MEDIA_ROOT = tmp_path
    made = actions.create_procedure(document=a_hook(), by=person("alice"))
    return actions.attach_photo(
        procedure=made,
        part="bar",
        step="s2",
        prepared=photos.prepare(a_photo()),
        alt="The bar across the anvil.",
        caption="",
        by=person("alice"),
    )


def address(hook: Procedure) -> str:
    return f"/p/{hook.slug}/steps/bar/s2/photos/{hook.photos.get().digest}/marks/"


def marks(hook: Procedure) -> list[dict[str, Any]]:
    hook.refresh_from_db()
    return hook.document["parts"][0]["steps"][1]["photos"][0].get("annotations", [])


def open_marks(page: Page, hook: Procedure) -> None:
    page.goto(address(hook))
    expect(page.get_by_role("button", name="Arrow", exact=True)).to_be_visible()


def spot(page: Page, x: float, y: float) -> tuple[float, float]:
    """A place of the photo, in per cent, on the screen."""
    surface = page.locator(".js-surface")
    surface.scroll_into_view_if_needed()
    box = surface.bounding_box()
    assert box
    return box["x"] + box["width"] * x / 100, box["y"] + box["height"] * y / 100


def shot(page: Page, name: str) -> None:
    if SHOTS:
        page.screenshot(path=f"{SHOTS}/{name}.png", full_page=True)


def test_marks_are_placed_by_keyboard_alone(
    page: Page, hook: Procedure, sign_in: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    sign_in(page, person("alice"))
    open_marks(page, hook)
    said = page.locator(".js-said")
    page.get_by_role("button", name="Arrow", exact=True).focus()
    page.keyboard.press("Enter")
    expect(said).to_contain_text("Arrow 1: press on the photo, or move with the arrow keys")
    for _ in range(2):
        page.keyboard.press("Shift+ArrowLeft")  # 35 to 25
    page.keyboard.press("ArrowUp")  # 35 to 34
    expect(said).to_have_text("25 % across, 34 % down")
    page.keyboard.press("Enter")
    expect(said).to_contain_text("Now the tip")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("textbox", name="Words")).to_be_focused()
    page.keyboard.type("hold here")
    expect(page.locator(".over-photo")).to_contain_text("hold here")
    assert_accessible(page)

    page.get_by_role("button", name="Circle").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Escape")
    expect(said).to_have_text("Nothing added.")
    expect(page.get_by_role("button", name="Circle")).to_be_focused()

    page.get_by_role("button", name="Label").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    page.keyboard.type("the bar")
    page.keyboard.press("Enter")  # saves
    expect(page.get_by_text("The marks on the photo are saved.")).to_be_visible()
    assert marks(hook) == [
        {"kind": "arrow", "points": [[0.25, 0.34], [0.61, 0.6]], "text": "hold here"},
        {"kind": "label", "points": [[0.35, 0.35]], "text": "the bar"},
    ]
    assert_accessible(page)

    open_marks(page, hook)
    handle = page.get_by_role("button", name="Arrow 1, the tip")
    handle.focus()
    page.keyboard.press("Shift+ArrowDown")
    expect(page.get_by_role("button", name="Arrow 1, the tip: 61 % across, 65 % down")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Arrow 1, the tip: 61 % across, 60 % down")).to_be_focused()
    page.keyboard.press("Delete")
    expect(said).to_contain_text("Arrow 1 removed")
    expect(page.get_by_role("button", name="Label 1, the words")).to_be_focused()
    page.get_by_role("combobox", name="Kind").last.select_option("dimension")
    expect(
        page.get_by_role("button", name="Dimension 1, the other end: 55 % across, 55 % down")
    ).to_be_visible()
    page.get_by_role("button", name="Save the marks").click()
    expect(page.get_by_text("The marks on the photo are saved.")).to_be_visible()
    assert marks(hook) == [{"kind": "dimension", "points": [[0.35, 0.35], [0.55, 0.55]], "text": "the bar"}]


def test_marks_are_drawn_and_dragged_by_mouse(
    page: Page, hook: Procedure, sign_in: Callable[..., None]
) -> None:
    sign_in(page, person("alice"))
    open_marks(page, hook)
    page.get_by_role("button", name="Circle").click()
    page.mouse.move(*spot(page, 40, 40))
    page.mouse.down()
    page.mouse.move(*spot(page, 50, 55), steps=3)
    page.mouse.move(*spot(page, 60, 70), steps=3)
    page.mouse.up()
    page.keyboard.type("scarf")
    page.get_by_role("button", name="Dimension").click()
    page.mouse.click(*spot(page, 10, 80))
    page.mouse.click(*spot(page, 90, 80))
    page.keyboard.press("Tab")
    page.keyboard.type("250")
    expect(page.locator(".over-photo")).to_contain_text("250")
    page.mouse.move(*spot(page, 90, 80))
    page.mouse.down()
    page.mouse.move(*spot(page, 95, 85), steps=4)
    page.mouse.up()
    shot(page, "marks-desktop")
    page.get_by_role("button", name="Save the marks").click()
    expect(page.get_by_text("The marks on the photo are saved.")).to_be_visible()
    circle, dimension = marks(hook)
    assert circle["text"] == "scarf"
    assert circle["points"][0] == pytest.approx([0.4, 0.4], abs=0.005)
    assert circle["points"][1] == pytest.approx([0.6, 0.7], abs=0.005)
    assert dimension["length"] == 250
    assert dimension["points"][0] == pytest.approx([0.1, 0.8], abs=0.005)
    assert dimension["points"][1] == pytest.approx([0.95, 0.85], abs=0.005)


def test_marks_are_placed_by_finger_on_a_phone(
    phone: Page, hook: Procedure, sign_in: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    sign_in(phone, person("alice"))
    open_marks(phone, hook)
    phone.get_by_role("button", name="Arrow", exact=True).tap()
    for x, y in ((20, 20), (70, 50)):
        phone.touchscreen.tap(*spot(phone, x, y))
    phone.keyboard.type("turn it often")
    handle = phone.get_by_role("button", name="Arrow 1, the tip")
    box = handle.bounding_box()
    assert box
    assert min(box["width"], box["height"]) >= 44
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    expect(phone.locator(".over-photo")).to_contain_text("turn it often")
    shot(phone, "marks-phone")
    assert_accessible(phone)
    phone.get_by_role("button", name="Save the marks").tap()
    expect(phone.get_by_text("The marks on the photo are saved.")).to_be_visible()
    (arrow,) = marks(hook)
    assert arrow["points"][0] == pytest.approx([0.2, 0.2], abs=0.01)
    assert arrow["points"][1] == pytest.approx([0.7, 0.5], abs=0.01)


def test_what_is_wrong_is_said_and_nothing_typed_is_lost(
    page: Page, hook: Procedure, sign_in: Callable[..., None], assert_accessible: Callable[[Page], None]
) -> None:
    sign_in(page, person("alice"))
    open_marks(page, hook)
    page.get_by_role("button", name="Label").click()
    page.mouse.click(*spot(page, 50, 20))
    page.get_by_role("textbox", name="Words").last.fill("x" * 100)
    page.get_by_role("button", name="Save the marks").click()
    expect(page.locator(".field__error")).to_contain_text("100 characters long")
    expect(page.get_by_role("textbox", name="Words").last).to_have_value("x" * 100)
    assert_accessible(page)
    assert marks(hook) == []


def test_rows_alone_do_it_without_script(
    browser: Browser, live_server: Any, hook: Procedure, sign_in: Callable[..., None]
) -> None:
    context = browser.new_context(
        base_url=live_server.url, java_script_enabled=False, viewport={"width": 390, "height": 844}
    )
    page = context.new_page()
    sign_in(page, person("alice"))
    page.goto(address(hook))
    page.get_by_role("textbox", name="Words").fill("hold here")
    for label, value in (("Across", "20"), ("Down", "30"), ("Second, across", "50"), ("Second, down", "60")):
        page.get_by_role("textbox", name=re.compile(f"^{label}")).fill(value)
    page.get_by_role("button", name="One more row").click()
    assert page.get_by_role("textbox", name="Words").first.input_value() == "hold here"
    shot(page, "marks-plain")
    page.get_by_role("button", name="Save the marks").click()
    page.get_by_text("The marks on the photo are saved.").wait_for()
    context.close()
    assert marks(hook) == [{"kind": "arrow", "points": [[0.2, 0.3], [0.5, 0.6]], "text": "hold here"}]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_read_page_and_phone_page_show_them(
    page: Page, phone: Page, hook: Procedure, scheme: str, assert_accessible: Callable[[Page], None]
) -> None:
    from procedures.engine.annotation import Annotation

    actions.annotate_photo(
        procedure=hook,
        part="bar",
        step="s2",
        digest=hook.photos.get().digest,
        annotations=[
            Annotation("arrow", ((0.3, 0.2), (0.45, 0.46)), "hold here"),
            Annotation(
                "circle",
                ((0.7, 0.38), (0.95, 0.62)),
                "the scarf, which the second heat must leave as sharp as the first",
            ),
            Annotation("dimension", ((0.1, 0.7), (0.6, 0.7)), "", 250.0),
            Annotation("label", ((0.85, 0.15),), "the wall"),
        ],
        base=actions.marks_digest({}),
        by=person("alice"),
    )
    actions.publish(procedure=hook, by=person("alice"))
    for window, name in ((page, "desktop"), (phone, "phone")):
        window.emulate_media(color_scheme=scheme)
        for path in (f"/p/{hook.slug}/", f"/p/{hook.slug}/follow/bar/2/"):
            window.goto(path)
            photo = window.locator(".photo__image")
            photo.scroll_into_view_if_needed()
            over, below = window.evaluate(BOXES)
            assert over == pytest.approx(below, abs=0.5)
            assert window.evaluate("document.documentElement.scrollWidth") <= window.viewport_size["width"]
            shot(window, f"{'follow' if 'follow' in path else 'read'}-{name}-{scheme}")
            window.evaluate("scrollTo(0, 0)")  # axe takes what is scrolled under a bar for too small
            assert_accessible(window)
