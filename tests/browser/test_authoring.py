"""Authoring in a real browser: by key alone, on a telephone, without script, in two windows at once."""

import re

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command
from playwright.sync_api import Page, expect

from procedures.models import Procedure

HOOK = "/p/coat-hook-the-first-evening/"
PLACES = [
    "/new/",
    f"{HOOK}edit/",
    f"{HOOK}edit/?part=hook&at=bar",
    f"{HOOK}edit/?part=hook&step=marks",
    f"{HOOK}edit/?part=hook&step=plate",
    f"{HOOK}edit/?part=hook&after=plate",
    f"{HOOK}settings/",
    f"{HOOK}publish/",
    f"{HOOK}delete/",
    f"{HOOK}parts/",
]


@pytest.fixture(autouse=True)
def smith(transactional_db):
    call_command("load_demo", verbosity=0)
    return get_user_model().objects.get(username="smith")


@pytest.fixture
def desk(page: Page, sign_in, smith) -> Page:
    sign_in(page, smith)
    return page


@pytest.fixture
def pocket(phone: Page, sign_in, smith) -> Page:
    sign_in(phone, smith)
    return phone


def saved(page: Page, said: str = "Saved"):
    expect(page.locator("#bench-saved")).to_have_text(said)


def typed(page: Page, label: str, text: str) -> None:
    """Type into a field and leave it; then wait until that is saved."""
    field = page.get_by_role("textbox", name=label, exact=True).first
    with page.expect_response(lambda one: one.request.method == "POST"):
        field.fill(text)
        field.blur()


@pytest.mark.parametrize("window", ["desk", "pocket"])
@pytest.mark.parametrize("address", PLACES)
def test_page_is_accessible_and_fits_its_window(request, window, address, assert_accessible):
    page = request.getfixturevalue(window)
    assert page.goto(address).status == 200
    page.wait_for_load_state("networkidle")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)


def test_bench_is_accessible_by_night(desk, assert_accessible):
    desk.emulate_media(color_scheme="dark")
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    desk.wait_for_load_state("networkidle")
    assert_accessible(desk)


def test_hook_is_authored_by_key_alone_from_an_empty_page_to_a_printed_card(desk: Page):
    keys = desk.keyboard

    def tab_to(name: str, role: str = "button", most: int = 60) -> None:
        """Press Tab until the thing of this name has the focus."""
        wanted = desk.get_by_role(role, name=name, exact=True).first
        for _ in range(most):
            if wanted.evaluate("one => one === document.activeElement"):
                return
            keys.press("Tab")
        pytest.fail(f"{name} is not reached by the Tab key")

    desk.goto("/new/")
    for label, text in (
        ("Title", "Peg by key"),
        ("Section", "12 sq"),
        ("Length", "200"),
        ("The part is called", "Peg"),
    ):
        tab_to(label, "textbox")
        keys.press("ControlOrMeta+a")
        keys.type(text)
    tab_to("Begin")
    keys.press("Enter")
    expect(desk).to_have_url(re.compile("/p/peg-by-key/edit/"))

    desk.wait_for_load_state("networkidle")
    tab_to("Insert the first step", "link")
    keys.press("Enter")
    expect(desk.get_by_label("Operation", exact=True)).to_be_focused()
    keys.type("draw down")
    expect(desk.get_by_role("button", name=re.compile("^Mark out"))).to_be_hidden()  # the search has answered
    expect(desk.locator(".operation__title").first).to_have_text("Draw out")
    keys.press("Tab")
    keys.press("Enter")
    expect(desk.get_by_role("heading", name="Step 1: Draw out")).to_be_visible()
    expect(desk.locator("#step-form")).to_contain_text("Where is needed")

    for label, text in (("Length mm", "60"), ("Target section", "8 sq")):
        tab_to(label, "textbox")
        keys.type(text)
    saved(desk)
    expect(desk.locator("#line-s1")).to_contain_text("□8")
    expect(desk.locator("#bench-summary")).to_be_empty()
    expect(desk.locator("#bench-piece svg").first).to_be_visible()

    desk.get_by_role("link", name="Publish").focus()
    keys.press("Enter")
    tab_to("Publish")
    keys.press("Enter")
    expect(desk.get_by_text("Published as revision 1.")).to_be_visible()
    card = desk.request.get("/p/peg-by-key/card.pdf")
    assert card.ok
    assert card.body().startswith(b"%PDF")


def test_peg_is_authored_on_a_telephone(pocket: Page):
    pocket.goto("/new/")
    pocket.get_by_label("Title", exact=True).fill("Peg in the pocket")
    pocket.get_by_label("Section", exact=True).fill("ø10")
    pocket.get_by_label("Length", exact=True).fill("150")
    pocket.get_by_role("button", name="Begin").tap()
    pocket.get_by_role("link", name="Add a step").tap()
    pocket.get_by_label("Operation", exact=True).fill("taper")
    pocket.get_by_role("button", name=re.compile("^Taper")).tap()
    expect(pocket.get_by_role("heading", name="Step 1: Taper")).to_be_visible()
    expect(pocket.locator("#step-list")).to_be_hidden()
    typed(pocket, "Length mm", "40")
    typed(pocket, "Section at the thin end", "ø4")
    saved(pocket)
    expect(pocket.locator("#bench-numbers")).to_contain_text("ø4")
    pocket.locator(".author__small").scroll_into_view_if_needed()
    expect(pocket.locator(".author__small svg")).to_be_visible()
    pocket.get_by_role("link", name="All steps").tap()
    expect(pocket.locator("#line-s1")).to_be_visible()
    expect(pocket.locator("#line-s1")).to_contain_text("ø4")
    pocket.get_by_role("link", name=re.compile("The bar")).tap()
    expect(pocket.get_by_role("heading", name="The bar")).to_be_visible()


def test_numbers_and_drawings_follow_while_typing_and_the_field_is_left_alone(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=taper")
    desk.wait_for_load_state("networkidle")
    before = desk.locator("#bench-piece").inner_html()
    field = desk.get_by_label("Length mm", exact=True).first
    field.focus()
    field.evaluate("one => { one.dataset.same = 'yes' }")
    desk.keyboard.press("ControlOrMeta+a")
    desk.keyboard.type("50")
    saved(desk)
    expect(desk.locator("#bench-undo")).to_contain_text("Taper")
    expect(field).to_have_attribute("data-same", "yes")
    expect(field).to_be_focused()
    expect(desk.locator("#bench-piece")).not_to_contain_text("never")
    desk.wait_for_load_state("networkidle")
    assert desk.locator("#bench-piece").inner_html() != before


def test_nonsense_is_said_beside_the_field_and_kept(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    typed(desk, "Thickness", "thin")
    field = desk.get_by_label("Thickness", exact=True)
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value("thin")
    expect(field).to_have_accessible_description(re.compile("“thin”"))
    expect(desk.locator("#bench-saved")).to_contain_text("Not saved")
    typed(desk, "Thickness", "4.5")
    expect(field).not_to_have_attribute("aria-invalid", "true")
    saved(desk)


def test_undo_and_redo_by_key_survive_a_reload(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    typed(desk, "Thickness", "4.5")
    typed(desk, "Thickness", "5")
    desk.reload()
    desk.locator("#bench-panel").focus()
    desk.keyboard.press("ControlOrMeta+z")
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("4")
    desk.keyboard.press("ControlOrMeta+Shift+z")
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("5")


def test_undo_key_in_a_field_is_the_fields_own(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    typed(desk, "Thickness", "4.5")
    tongs = desk.get_by_label("Tongs", exact=True)
    before = tongs.input_value()
    tongs.focus()
    desk.keyboard.type("xy")
    saved(desk)
    desk.keyboard.press("ControlOrMeta+z")
    expect(tongs).not_to_have_value(f"{before}xy")
    saved(desk)
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("4.5")


def test_steps_are_moved_by_button_key_and_grip_and_keep_the_focus(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    desk.wait_for_load_state("networkidle")
    number = desk.locator(".author__step-head .step__number")
    expect(number).to_have_text("5")
    desk.get_by_role("button", name="Move down").focus()
    for place in ("6", "7"):
        desk.keyboard.press("Enter")
        expect(number).to_have_text(place)
        expect(desk.get_by_role("button", name="Move down")).to_be_focused()
    desk.keyboard.press("Alt+ArrowUp")
    expect(number).to_have_text("6")
    grip = desk.locator("#grip-plate")
    grip.focus()
    desk.keyboard.press("ArrowUp")
    expect(number).to_have_text("5")
    expect(grip).to_be_focused()


def test_step_is_dragged_to_another_place(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=marks")
    desk.wait_for_load_state("networkidle")
    rows = desk.locator("#rows > li")
    second, first = desk.locator("#grip-taper").bounding_box(), desk.locator("#grip-marks").bounding_box()
    desk.mouse.move(second["x"] + 10, second["y"] + 10)
    desk.mouse.down()
    desk.mouse.move(first["x"] + 10, first["y"] + 60, steps=5)
    desk.mouse.move(first["x"] + 10, first["y"] + 4, steps=8)
    desk.mouse.up()
    saved(desk, "Moved: it is step 1 now")
    assert [rows.nth(index).get_attribute("data-key") for index in range(2)] == ["taper", "marks"]


def test_click_on_another_step_while_a_value_is_being_saved_loses_neither(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=marks")
    desk.wait_for_load_state("networkidle")
    desk.get_by_label("Distance mm").first.fill("40")
    desk.locator("#link-plate").click()  # leaves the field, which saves it, and the rows are swapped
    expect(desk.get_by_role("heading", name="Step 5: Flatten")).to_be_visible()
    expect(desk).to_have_url(re.compile("step=plate"))
    marks = Procedure.objects.get(slug=HOOK.split("/")[2]).document["parts"][0]["steps"][0]["params"]["marks"]
    assert marks[0]["offset"] == 40


def test_two_windows_show_both_versions(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    other = desk.context.new_page()
    other.goto(desk.url)
    typed(other, "Thickness", "4.5")
    typed(desk, "Thickness", "5")
    conflict = desk.get_by_role("alert", name="Two versions")
    expect(conflict).to_contain_text("5 mm")
    expect(conflict).to_contain_text("4.5 mm")
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("5")
    desk.get_by_role("button", name="Keep mine").click()
    expect(conflict).to_be_hidden()
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("5")
    other.reload()
    expect(other.get_by_label("Thickness", exact=True)).to_have_value("5")


def test_what_was_typed_while_the_site_was_away_is_saved_when_it_is_back(
    browser, live_server, smith, sign_in
):
    context = browser.new_context(base_url=live_server.url)  # not watched: what cannot be reached is an error
    sign_in(context, smith)
    desk = context.new_page()
    desk.goto(f"{HOOK}edit/?part=hook&step=plate")
    desk.wait_for_load_state("networkidle")
    desk.route("**/steps/**", lambda route: route.abort())
    desk.get_by_label("Thickness", exact=True).fill("4.5")
    expect(desk.locator("#bench-saved")).to_contain_text("cannot be reached")
    desk.unroute("**/steps/**")
    typed(desk, "Tongs", "other tongs")
    saved(desk)
    desk.reload()
    expect(desk.get_by_label("Thickness", exact=True)).to_have_value("4.5")
    context.close()


def test_back_goes_to_the_step_before(desk: Page):
    desk.goto(f"{HOOK}edit/?part=hook&step=marks")
    desk.wait_for_load_state("networkidle")
    desk.locator("#link-plate").click()
    expect(desk.get_by_role("heading", name="Step 5: Flatten")).to_be_visible()
    desk.go_back()
    expect(desk.get_by_role("heading", name="Step 1: Mark out")).to_be_visible()
    expect(desk).to_have_url(re.compile("step=marks"))


def test_authoring_works_without_script(browser, live_server, smith, sign_in):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    sign_in(context, smith)
    page = context.new_page()
    page.goto(f"{HOOK}edit/?part=hook&step=plate")
    page.get_by_label("Thickness", exact=True).fill("thin")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("“thin”").first).to_be_visible()
    expect(page.get_by_label("Thickness", exact=True)).to_have_value("thin")
    page.get_by_label("Thickness", exact=True).fill("4.5")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("#bench-numbers")).to_contain_text("4.5")
    page.get_by_role("button", name="Move up").click()
    expect(page.locator(".author__step-head .step__number")).to_have_text("4")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".author__step-head .step__number")).to_have_text("5")
    page.get_by_role("link", name="Insert after").click()
    page.get_by_role("button", name=re.compile("^Twist")).click()
    expect(page.get_by_role("heading", name="Step 6: Twist")).to_be_visible()
    page.get_by_role("button", name="Delete", exact=True).click()
    expect(page.get_by_role("heading", name="Step 5: Flatten")).to_be_visible()
    context.close()
