"""At the anvil on a phone: heats, clocks, measurements and notes, kept by the phone alone, signal or none."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

HOOK = "/p/coat-hook-the-first-evening/"
TAPER = f"{HOOK}follow/hook/2/"
LEAST = 64  # px of anything pressed with a glove on


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


def test_heats_are_counted_and_survive_a_reload(phone: Page, assert_accessible):
    phone.goto(TAPER)
    count = phone.locator(".js-heats")
    for _ in range(3):
        phone.get_by_role("button", name="Heat taken").tap()
    expect(count).to_have_text("3")
    phone.get_by_role("button", name="Take back").tap()
    expect(count).to_have_text("2")
    phone.reload()
    expect(count).to_have_text("2")
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")  # Back and Next lie over what is scrolled past
    assert_accessible(phone)
    for button in phone.locator(".anvil button:visible").all():
        assert button.bounding_box()["height"] >= LEAST


def test_the_cold_end_fills_the_screen_and_any_key_takes_it_away(phone: Page):
    phone.clock.install()
    phone.goto(TAPER)
    phone.get_by_role("button", name="Out of the fire").tap()
    phone.clock.fast_forward(5_000)
    expect(phone.locator(".js-clock")).to_have_text(re.compile(r"0:\d\d"))
    phone.clock.fast_forward(60_000)
    sign = phone.locator(".alarm")
    expect(sign).to_contain_text("Back to the fire")
    box = sign.bounding_box()
    assert (box["width"], box["height"]) == (390, 844)
    phone.keyboard.press(" ")
    expect(sign).to_have_count(0)
    expect(phone).to_have_url(re.compile("/hook/2/$"))  # the key did nothing else


def test_a_clock_goes_on_through_a_reload_and_a_sleep(phone: Page):
    phone.clock.install()
    phone.goto(TAPER)
    phone.get_by_role("button", name="Soak in the fire").tap()
    phone.clock.fast_forward(20_000)
    phone.reload()
    expect(phone.locator(".js-soak-clock")).to_have_text(re.compile("0:(39|40)"))
    phone.clock.fast_forward(45_000)  # as a phone that slept: one tick, late
    expect(phone.locator(".alarm")).to_contain_text("Soaked")


def test_a_clock_set_back_makes_no_heat_longer(phone: Page):
    phone.clock.install(time=1_800_000_000)
    phone.goto(TAPER)
    phone.get_by_role("button", name="Soak in the fire").tap()
    phone.clock.set_system_time(1_700_000_000)
    phone.clock.run_for(1_000)
    expect(phone.locator(".js-soak-clock")).to_have_text(re.compile("0:5|1:00"))
    phone.clock.run_for(61_000)
    expect(phone.locator(".alarm")).to_contain_text("Soaked")


def test_a_measurement_says_what_becomes_of_the_rest(phone: Page, assert_accessible):
    phone.goto(TAPER)
    expect(phone.locator(".js-heat")).to_be_visible()  # its scripts have started
    phone.get_by_label(re.compile("^Length, planned")).first.fill("60")
    phone.get_by_role("button", name="What becomes of the rest").tap()
    answer = phone.locator(".anvil__answer")
    expect(answer).to_contain_text("Ways to go on")
    expect(answer.get_by_role("listitem").first).to_be_visible()
    assert_accessible(phone)
    phone.get_by_label(re.compile("^Length, planned")).first.fill("about so")
    phone.get_by_role("button", name="What becomes of the rest").tap()
    expect(phone.locator(".field__error")).to_be_visible()
    expect(phone.get_by_label(re.compile("^Length, planned")).first).to_have_value("about so")


def test_notes_are_kept_at_their_step(phone: Page):
    phone.goto(TAPER)
    phone.get_by_role("button", name="Short").tap()
    phone.get_by_label("In your words").fill("<b>tip</b> burnt in the second heat")
    phone.get_by_role("button", name="Keep the note").tap()
    log = phone.get_by_role("list", name="Noted at this step").get_by_role("listitem")
    expect(log).to_have_text(["Short", "<b>tip</b> burnt in the second heat"])
    phone.reload()
    expect(log).to_have_count(2)
    phone.goto(f"{HOOK}follow/hook/3/")
    expect(phone.get_by_label("In your words")).to_be_visible()
    expect(log).to_have_count(0)


def test_browser_that_keeps_no_log_says_so(phone: Page):
    phone.add_init_script(
        "Object.defineProperty(window, 'indexedDB', {get() { throw new Error('refused'); }})"
    )
    phone.goto(TAPER)
    phone.get_by_role("button", name="Heat taken").tap()
    expect(phone.get_by_role("alert")).to_contain_text("keeps no log here")


def test_all_of_it_works_on_what_is_kept_without_signal(phone: Page):
    phone.goto(f"{HOOK}follow/hook/0/")
    phone.get_by_role("button", name=re.compile("Keep on this phone")).tap()
    expect(phone.get_by_text("it works without signal")).to_be_visible(timeout=60_000)
    phone.get_by_role("link", name="Open what is kept").tap()
    phone.wait_for_function("navigator.serviceWorker.controller")
    phone.context.set_offline(True)
    phone.reload()
    screen = phone.locator(".shop__screen:visible")
    for number in range(2):
        expect(screen).to_have_id(f"hook-{number}")
        screen.get_by_role("link", name="Next").tap()
    expect(screen).to_have_id("hook-2")
    screen.get_by_role("button", name="Heat taken").tap()
    expect(screen.locator(".js-heats")).to_have_text("1")
    screen.get_by_label(re.compile("^Length, planned")).first.fill("60")
    screen.get_by_role("button", name="What becomes of the rest").tap()
    expect(screen.locator(".anvil__answer")).to_contain_text("Ways to go on", timeout=60_000)
    offline = screen.locator(".anvil__answer").inner_text()
    phone.context.set_offline(False)
    phone.goto(TAPER)
    expect(phone.locator(".js-heat")).to_be_visible()
    phone.get_by_label(re.compile("^Length, planned")).first.fill("60")
    phone.get_by_role("button", name="What becomes of the rest").tap()
    expect(phone.locator(".anvil__answer")).to_contain_text("Ways to go on")
    assert phone.locator(".anvil__answer").inner_text() == offline
