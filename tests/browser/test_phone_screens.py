"""The screens as a phone is set to show them: hand, light, size, voice; what is read first; keys, wake."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

HOOK = "/p/coat-hook-the-first-evening/"
READY, TAPER = f"{HOOK}follow/hook/0/", f"{HOOK}follow/hook/2/"
WELD = "/p/pot-stand-with-a-welded-hoop-and-three-riveted-feet/follow/hoop/7/"
LEAST = 64  # px of anything pressed with a glove on


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


def choose(page: Page, *choices: str) -> None:
    page.goto(READY)
    page.get_by_text("How this phone shows it").tap()
    for one in choices:
        page.get_by_role("radio", name=one).check()


def test_left_hand_has_next_at_its_thumb_and_it_is_remembered(phone: Page):
    choose(phone, "Left thumb")
    phone.goto(TAPER)
    following, back = (phone.get_by_role("link", name=one).bounding_box() for one in ("Next", "Back"))
    assert following["x"] == 0
    assert back["x"] > following["x"]
    assert following["y"] + following["height"] == 844


@pytest.mark.parametrize(("light", "ground"), [("Black on white", 255), ("White on black", 0)])
def test_high_contrast_is_there_at_the_first_paint(phone: Page, assert_accessible, light, ground):
    choose(phone, light)
    phone.goto(TAPER, wait_until="commit")
    assert phone.evaluate("document.documentElement.dataset.contrast") == light.lower().replace(" ", "-")
    ground_color = phone.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    assert ground_color == f"rgb({ground}, {ground}, {ground})"
    phone.wait_for_load_state()
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert_accessible(phone)


@pytest.mark.parametrize("size", [(390, 844), (844, 390)])
def test_text_twice_as_large_overlaps_nothing(phone: Page, size):
    choose(phone, "Twice as large")
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    for address in (READY, TAPER, WELD, f"{HOOK}follow/hook/10/"):
        phone.goto(address)
        assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
        assert overlapping(phone) == []


def overlapping(page: Page) -> list[str]:
    """What lies over its neighbour or sticks out of its box, of all that is read and pressed in the step."""
    return page.evaluate(
        """() => {
          const words = (one) => one.textContent.trim();
          const kinds = "p, button, dt, dd, li, label, input";
          const seen = [...document.querySelectorAll(`.follow__step :is(${kinds})`)]
            .filter((one) => one.checkVisibility() && !one.closest("svg, .unseen") && words(one));
          const found = [];
          for (const one of seen) {
            if (one.clientWidth && one.scrollWidth > one.clientWidth + 1) found.push(`wide: ${words(one)}`);
            const box = one.getBoundingClientRect();
            for (const other of seen) {
              if (one === other || one.contains(other) || other.contains(one)) continue;
              const its = other.getBoundingClientRect();
              const across = Math.min(box.right, its.right) - Math.max(box.left, its.left);
              const down = Math.min(box.bottom, its.bottom) - Math.max(box.top, its.top);
              if (across > 2 && down > 2) found.push(`${words(one)} / ${words(other)}`);
            }
          }
          return found;
        }"""
    )


def test_choices_without_storage_last_as_long_as_the_page(phone: Page):
    phone.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('refused'); }")
    choose(phone, "White on black")
    assert phone.evaluate("document.documentElement.dataset.contrast") == "white-on-black"
    phone.reload()
    assert phone.evaluate("document.documentElement.dataset.contrast") is None


def test_screen_is_read_aloud_when_asked_for_and_stops_when_left(phone: Page):
    phone.add_init_script(
        """window.said = [];
        Object.defineProperty(window, "speechSynthesis", {value: {
          getVoices: () => [
            {name: "cloud", lang: "en-GB", localService: false},
            {name: "own", lang: "en-US", localService: true}],
          speak: (one) => said.push(one.text, one.voice?.name), cancel: () => said.push("cancelled")}});
        window.SpeechSynthesisUtterance = function (text) { this.text = text; };"""
    )
    phone.goto(TAPER)
    expect(phone.locator(".aloud")).to_be_hidden()  # off until it is asked for
    choose(phone, "A button on each screen")
    phone.goto(TAPER)
    press = phone.get_by_role("button", name="Read aloud")
    assert press.bounding_box()["height"] >= LEAST
    press.tap()
    said = phone.evaluate("said")
    assert "10 millimetres square becomes" in said[1]
    assert said[2] == "own"  # the phone's own voice before one that needs the network
    expect(phone.get_by_role("button", name="Stop reading")).to_be_visible()
    phone.evaluate("dispatchEvent(new PageTransitionEvent('pagehide'))")
    assert phone.evaluate("said").count("cancelled") == 2


def test_a_weld_is_read_about_first_and_no_key_goes_past_it(phone: Page, assert_accessible):
    phone.goto(WELD)
    expect(phone.get_by_role("heading", name="Stop and think")).to_be_visible()
    expect(phone.get_by_role("heading", level=1)).to_be_hidden()
    expect(phone.get_by_role("link", name="Next")).to_be_hidden()
    read = phone.get_by_role("link", name="Read: on to the step")
    assert read.bounding_box()["y"] + read.bounding_box()["height"] == 844
    assert_accessible(phone)
    phone.keyboard.press("PageDown")
    expect(phone.get_by_role("heading", level=1, name="Weld a ring")).to_be_visible()
    expect(phone).to_have_url(re.compile("/hoop/7/$"))
    expect(phone.get_by_role("heading", name="Stop and think")).to_be_visible()  # below, to be looked up
    phone.reload()
    expect(phone.get_by_role("heading", level=1)).to_be_visible()  # a reload in the heat asks nothing again
    phone.keyboard.press("PageDown")
    expect(phone).to_have_url(re.compile("/hoop/8/$"))


def test_without_script_the_link_leads_down_to_the_step(browser, live_server):
    context = browser.new_context(
        base_url=live_server.url, viewport={"width": 390, "height": 844}, java_script_enabled=False
    )
    page = context.new_page()
    page.goto(WELD)
    box = page.locator(".think").bounding_box()
    assert box["height"] >= 844 - 12 * 16
    expect(page.get_by_role("link", name="Next")).to_be_hidden()
    page.get_by_role("link", name="Read: on to the step").click()
    expect(page.get_by_role("heading", level=1, name="Weld a ring")).to_be_visible()
    expect(page.get_by_role("link", name="Next")).to_be_visible()
    context.close()


@pytest.mark.parametrize(
    ("key", "number"),
    [
        ("PageDown", 3),
        ("ArrowRight", 3),
        (" ", 3),
        ("MediaTrackNext", 3),
        ("PageUp", 1),
        ("ArrowLeft", 1),
        ("MediaTrackPrevious", 1),
    ],
)
def test_pedals_and_headsets_turn_the_screens(phone: Page, key, number):
    phone.goto(TAPER)
    expect(phone.locator(".js-heat")).to_be_visible()  # its scripts have started
    phone.evaluate(
        "key => document.body.dispatchEvent(new KeyboardEvent('keydown', {key, bubbles: true}))", key
    )
    expect(phone).to_have_url(re.compile(f"/hook/{number}/$"))


def test_keys_in_a_field_are_the_fields(phone: Page):
    phone.goto(TAPER)
    note = phone.get_by_label("In your words")
    note.fill("too short")
    for key in ("ArrowLeft", "PageDown", " "):
        note.press(key)
    expect(phone).to_have_url(re.compile("/hook/2/$"))


def test_screen_is_kept_awake_until_it_is_left(phone: Page):
    phone.add_init_script(
        """let held = 0;
        const tell = (by) => { document.documentElement.dataset.held = held += by; };
        navigator.wakeLock.request = async () => {
          tell(1);
          return {released: false, release() { if (!this.released) tell(-1); this.released = true; }};
        };"""
    )
    phone.goto(TAPER)
    expect(phone.locator("html")).to_have_attribute("data-held", "1")
    phone.evaluate("dispatchEvent(new PageTransitionEvent('pagehide'))")
    expect(phone.locator("html")).to_have_attribute("data-held", "0")


@pytest.mark.parametrize("hand", ["right", "left"])
def test_on_its_side_back_and_next_stand_at_the_thumb(phone: Page, assert_accessible, hand):
    if hand == "left":
        choose(phone, "Left thumb")
    phone.set_viewport_size({"width": 844, "height": 390})
    phone.goto(TAPER)
    following, back = (phone.get_by_role("link", name=one).bounding_box() for one in ("Next", "Back"))
    for box in (following, back):
        assert min(box["width"], box["height"]) >= LEAST
        assert box["x"] == 0 if hand == "left" else box["x"] + box["width"] == 844
    assert back["y"] + back["height"] <= following["y"]
    assert following["y"] + following["height"] <= 390
    drawing, figures = (phone.locator(one).bounding_box() for one in (".follow__drawing", ".figures"))
    assert drawing["x"] >= figures["x"] + figures["width"]
    assert overlapping(phone) == []
    assert_accessible(phone)
