"""A piece in the round on the page: it opens when asked, turns by keys and touch, and follows the stages."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from forgesite.bootstrap import find_browser
from tests.integration.showing import published

from .conftest import DESKTOP, PHONE, watched_page

# Drawn without a graphics card, which the other tests do without.
DRAWN = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
VIEW = ".js-solid-view"


@pytest.fixture(scope="module")
def drawing_browser(browser):
    with browser.browser_type.launch(executable_path=find_browser(), args=DRAWN) as chromium:
        yield chromium


@pytest.fixture
def window(drawing_browser, live_server, transactional_db):
    with watched_page(drawing_browser, live_server.url, DESKTOP) as page:
        yield page


@pytest.fixture
def small_window(drawing_browser, live_server, transactional_db):
    with watched_page(drawing_browser, live_server.url, PHONE) as page:
        yield page


def opened(page, hook):
    page.goto(hook.get_absolute_url())
    page.get_by_role("button", name="Turn it in the round").click()
    expect(page.locator(".js-solid-says")).to_have_text("Step 2 of 2.")
    return page.locator(VIEW)


def turned(view):
    """Where it is looked at from: two angles and a distance."""
    return tuple(float(one) for one in view.get_attribute("data-turned").split())


def picture(page):
    return page.locator(f"{VIEW} canvas").screenshot()


def test_nothing_is_loaded_before_it_is_asked_for(window):
    asked: list[str] = []
    window.on("request", lambda request: asked.append(request.url))
    window.goto(published().get_absolute_url())
    window.wait_for_load_state("networkidle")
    assert not [url for url in asked if "three" in url or "solid.glb" in url]
    window.get_by_role("button", name="Turn it in the round").click()
    expect(window.locator(".js-solid-says")).to_have_text("Step 2 of 2.")
    assert len([url for url in asked if "vendor/three" in url]) == 1
    assert len([url for url in asked if "solid.glb" in url]) == 1


def test_keys_turn_it_bring_it_nearer_and_put_it_back(window):
    view = opened(window, published())
    before = picture(window)
    view.focus()
    window.keyboard.press("ArrowLeft")
    first = turned(view)
    window.keyboard.press("ArrowLeft")
    assert turned(view)[0] == pytest.approx(first[0] + 0.175, abs=0.002)
    window.keyboard.press("ArrowUp")
    assert turned(view)[1] > first[1]
    window.keyboard.press("+")
    assert turned(view)[2] == pytest.approx(first[2] / 1.2, rel=0.02)
    after = picture(window)
    assert after != before
    window.keyboard.press("0")
    window.wait_for_timeout(200)  # one frame is enough
    assert picture(window) == before


def test_buttons_do_what_the_keys_do_for_who_cannot_drag(window):
    view = opened(window, published())
    window.get_by_role("button", name="Turn right").click()
    first = turned(view)
    window.get_by_role("button", name="Nearer").click()
    assert turned(view)[2] < first[2]


def test_it_follows_the_stages_beside_it(window):
    hook = published()
    opened(window, hook)
    window.locator("form.stages a[rel=prev]").click()
    expect(window.locator(".js-solid-says")).to_have_text("Step 1 of 2.")
    expect(window.locator(".solid a[data-kind=stl]")).to_have_attribute(
        "href", f"/p/{hook.slug}/steps/bar/1/solid.stl"
    )
    assert "step 1 of 2" in window.locator(f"{VIEW} canvas").get_attribute("aria-label")


def test_it_is_put_down_again(window):
    opened(window, published())
    button = window.get_by_role("button", name="Put it down")
    assert button.get_attribute("aria-expanded") == "true"
    button.click()
    expect(window.locator(".js-solid-shown")).to_be_hidden()
    expect(window.locator(f"{VIEW} canvas")).to_have_count(0)
    window.get_by_role("button", name="Turn it in the round").click()
    expect(window.locator(f"{VIEW} canvas")).to_have_count(1)


def test_open_view_is_accessible(window, assert_accessible):
    opened(window, published())
    assert_accessible(window)


def test_on_a_telephone_a_finger_turns_it_and_nothing_is_wider_than_the_screen(small_window):
    view = opened(small_window, published())
    before = picture(small_window)
    box = view.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = small_window.context.new_cdp_session(small_window)
    session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 6):
        point = {"x": x + 12 * step, "y": y}
        session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    small_window.wait_for_timeout(200)
    assert picture(small_window) != before
    assert small_window.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_browser_that_cannot_draw_it_is_told_so_and_left_the_files(page):
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    page.goto(published().get_absolute_url())
    page.evaluate("console.error = () => {}")  # the library says it too
    page.get_by_role("button", name="Turn it in the round").click()
    expect(page.locator(".js-solid-says")).to_contain_text("cannot show it in the round")
    expect(page.locator(".js-solid-shown")).to_be_hidden()
    expect(page.locator(".solid").get_by_role("link", name="STL")).to_be_visible()
