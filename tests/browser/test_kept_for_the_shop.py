"""A procedure kept on the phone: it opens and turns without network, and what failed to be kept says so."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect

from procedures import actions, editing
from procedures.models import Procedure

HOOK = "/p/coat-hook-the-first-evening/"
READY = f"{HOOK}follow/hook/0/"
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


def keep(page: Page, *, engine: bool = False) -> None:
    page.goto(READY)
    page.get_by_role("checkbox", name=re.compile("reckoning")).set_checked(engine)
    page.get_by_role("button", name=re.compile("Keep on this phone")).tap()
    expect(page.get_by_text("it works without signal")).to_be_visible(timeout=30_000)


def test_size_is_told_before_anything_is_kept(phone: Page):
    phone.goto(READY)
    press = phone.get_by_role("button", name=re.compile("Keep on this phone"))
    expect(press).to_have_text(re.compile(r"\d+(\.\d)? (kB|MB)"))
    assert press.bounding_box()["height"] >= 64
    assert phone.evaluate("caches.keys()") == []


def test_what_is_kept_opens_and_turns_without_network(phone: Page, assert_accessible):
    keep(phone)
    phone.get_by_role("link", name="Open what is kept").tap()
    expect(phone.get_by_role("heading", level=1, name="Hook", exact=True)).to_be_visible()
    phone.wait_for_function("navigator.serviceWorker.controller")
    phone.context.set_offline(True)
    phone.reload()
    assert_accessible(phone)
    seen = [phone.locator(".shop__screen:visible").get_attribute("id")]
    total = phone.locator(".shop__screen").count()
    while len(seen) < total:
        read_first = phone.get_by_role("link", name="Read: on to the step")
        if read_first.count():
            read_first.tap()
        phone.get_by_role("link", name="Next").tap()
        expect(phone.locator(".shop__screen:visible")).not_to_have_id(seen[-1])
        seen.append(phone.locator(".shop__screen:visible").get_attribute("id"))
    assert seen == [f"hook-{number}" for number in range(total)]
    fonts = "Array.from(document.fonts).filter(one => one.status === 'loaded').length"
    assert phone.evaluate(fonts) > 0
    phone.keyboard.press("ArrowLeft")
    expect(phone.locator(".shop__screen:visible")).to_have_id(seen[-2])
    phone.reload()
    expect(phone.locator(".shop__screen:visible")).to_have_id(seen[-2])
    phone.goto(phone.url.split("#")[0])
    expect(phone.locator(".shop__screen:visible")).to_have_id(seen[-2])  # remembered, without an address


def test_any_page_without_network_leads_to_what_is_kept(phone: Page):
    keep(phone)
    phone.reload()
    phone.wait_for_function("navigator.serviceWorker.controller")
    phone.context.set_offline(True)
    phone.goto("/procedures/")
    entry = phone.locator(".kept__entry")
    expect(entry).to_have_count(1)
    expect(entry).to_contain_text("Revision 1")
    entry.get_by_role("link").first.tap()
    expect(phone.locator(".shop__screen:visible")).to_have_count(1)


def test_network_lost_at_any_moment_of_keeping_says_so_and_a_retry_ends_it(phone: Page):
    phone.add_init_script(
        """window.left = Infinity;
        const real = window.fetch;
        const lost = () => Promise.reject(new TypeError("lost"));
        window.fetch = (...what) => (window.left-- > 0 ? real(...what) : lost());"""
    )
    phone.goto(READY)
    press = phone.get_by_role("button", name=re.compile("Keep on this phone"))
    for let_through in (0, 1, 2, 9, 30):
        expect(press).to_be_visible()
        phone.evaluate("left => { window.left = left; }", let_through)
        press.tap()
        expect(phone.get_by_role("alert")).to_contain_text("Not kept: the network was lost")
        assert phone.evaluate("import('forgesite/shop/kept').then(one => one.all())") == []
    keep(phone)


def test_no_room_on_the_phone_is_said_and_leaves_nothing(phone: Page):
    phone.add_init_script(
        "Cache.prototype.put = () => Promise.reject(new DOMException('full', 'QuotaExceededError'))"
    )
    phone.goto(READY)
    phone.get_by_role("button", name=re.compile("Keep on this phone")).tap()
    expect(phone.get_by_role("alert")).to_contain_text("not enough room")
    assert [one for one in phone.evaluate("caches.keys()") if "shop" in one] == []


def test_browser_that_keeps_nothing_says_so(phone: Page):
    phone.add_init_script("delete Navigator.prototype.serviceWorker")
    phone.goto(READY)
    expect(phone.get_by_text("keeps nothing here")).to_be_visible()


def test_removed_from_the_phone_nothing_is_left(phone: Page):
    keep(phone)
    phone.get_by_role("button", name="Remove it from this phone").tap()
    expect(phone.get_by_role("button", name=re.compile("Keep on this phone"))).to_be_visible()
    left = "caches.open('forgesite files').then(one => one.keys()).then(all => all.length)"
    assert phone.evaluate(left) == 0


def test_newer_revision_and_a_withdrawn_one_are_told(phone: Page):
    keep(phone)
    procedure = Procedure.objects.get(slug="coat-hook-the-first-evening")
    base = editing.details_digest(procedure.document)
    actions.edit_details(procedure=procedure, details={"title": "Coat hook"}, base=base, by=procedure.owner)
    actions.publish(procedure=procedure, by=procedure.owner)
    phone.goto("/shop/")
    expect(phone.get_by_role("link", name="There is a newer revision, 2")).to_be_visible()


def test_kept_one_that_is_withdrawn_still_opens_and_says_so(browser, live_server):
    context = browser.new_context(base_url=live_server.url, **PHONE)
    page = context.new_page()
    keep(page)
    procedure = Procedure.objects.get(slug="coat-hook-the-first-evening")
    actions.unpublish(procedure=procedure, by=procedure.owner)
    page.goto("/shop/")
    expect(page.get_by_role("link", name="It is no longer published")).to_be_visible()
    page.locator(".kept__title").tap()
    expect(page.locator(".shop__screen:visible")).to_have_count(1)
    context.close()


def test_nothing_personal_is_kept(phone: Page, sign_in, django_user_model):
    owner = django_user_model.objects.get(username="smith")
    sign_in(phone, owner)
    keep(phone)
    kept = phone.evaluate(
        """async () => {
          const found = [];
          for (const name of await caches.keys()) {
            const cache = await caches.open(name);
            for (const request of await cache.keys()) {
              const type = (await cache.match(request)).headers.get("content-type");
              if (type.includes("html")) found.push(await (await cache.match(request)).text());
            }
          }
          return found;
        }"""
    )
    assert len(kept) == 2
    for html in kept:
        assert "Sign out" not in html
        assert "csrf" not in html.lower()
