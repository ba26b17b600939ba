"""A real headless Chromium against the site as it is served.

`page` is a desktop window, `phone` a 390 × 844 touch screen; both fail the test when the page logs an
error, breaks the content policy or asks for a file that is not there. `sign_in(page, user)` spares a
test the sign-in form; `assert_accessible(page)` runs axe.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, Response, sync_playwright

from forgesite.bootstrap import find_browser

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DESKTOP: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}
PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = find_browser()
    assert path, "the browser tests need a Chromium: python3 manage.py test installs it or says how"
    with sync_playwright() as driver, driver.chromium.launch(executable_path=path, args=FLAGS) as chromium:
        # Playwright keeps an event loop running in this thread, which Django takes for async code;
        # nothing of Django's runs in that loop, so its guard is switched off while the browser is open.
        os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
        yield chromium
        del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@contextmanager
def watched_page(browser: Browser, address: str, kind: dict[str, Any]) -> Iterator[Page]:
    """A page whose own errors fail the test when it ends."""
    context = browser.new_context(base_url=address, locale="en-GB", timezone_id="UTC", **kind)
    context.set_default_timeout(10_000)  # ms
    complaints: list[str] = []
    page = context.new_page()
    page.on("pageerror", lambda error: complaints.append(f"script error: {error}"))
    page.on("console", lambda entry: complaints.append(entry.text) if is_complaint(entry) else None)
    page.on("response", lambda response: complaints.append(response.url) if is_missing(response) else None)
    try:
        yield page
    finally:
        context.close()
    assert not complaints, "\n".join(complaints)


def is_complaint(entry: Any) -> bool:
    # A refused form (409, 422) is logged as a failed load too; is_missing() looks after real ones.
    return entry.type == "error" and not entry.text.startswith("Failed to load resource")


def is_missing(response: Response) -> bool:
    return response.status >= 500 or (response.status == 404 and response.request.resource_type != "document")


@pytest.fixture
def page(browser: Browser, live_server: Any, transactional_db: None) -> Iterator[Page]:
    with watched_page(browser, live_server.url, DESKTOP) as page:
        yield page


@pytest.fixture
def phone(browser: Browser, live_server: Any, transactional_db: None) -> Iterator[Page]:
    with watched_page(browser, live_server.url, PHONE) as page:
        yield page


@pytest.fixture
def sign_in(live_server: Any) -> Callable[[Page | BrowserContext, Any], None]:
    def sign_in(window: Page | BrowserContext, user: Any) -> None:
        client = Client()
        client.force_login(user, backend=settings.AUTHENTICATION_BACKENDS[0])
        context = window.context if isinstance(window, Page) else window
        value = client.cookies[settings.SESSION_COOKIE_NAME].value
        context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": value, "url": live_server.url}])

    return sign_in


@pytest.fixture
def assert_accessible() -> Callable[[Page], None]:
    def assert_accessible(page: Page) -> None:
        # Left to itself axe copies style sheets into the page, which the content policy refuses.
        options = {"runOnly": {"type": "tag", "values": WCAG}, "preload": False}
        found = Axe().run(page, options=options)
        assert found.violations_count == 0, found.generate_report()

    return assert_accessible
