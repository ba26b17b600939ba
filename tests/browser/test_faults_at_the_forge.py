"""What goes wrong beside a forge, in a real browser: nothing entered is lost, doubled or kept quiet about."""

import re

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command
from playwright.sync_api import Page, Route, expect

from procedures import actions
from procedures.models import Procedure, Run, RunEntry

HOOK = "coat-hook-the-first-evening"
SHOP = f"/shop/{HOOK}/1/metric/scale/"
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
ALL_SENT = """async () => {
  const log = await import("forgesite/shop/run");
  const [run] = await log.runs();
  return (await log.entries(run)).filter((one) => !one.sent).length;
}"""


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.fixture
def course():
    teacher = get_user_model().objects.get(username="smith")
    return actions.open_course(procedure=Procedure.objects.get(slug=HOOK), title="Tuesday", by=teacher)


def join(phone: Page, course) -> None:
    phone.goto(f"/join/?code={course.code}")
    phone.get_by_label("Your name").fill("Kim")
    phone.get_by_role("button", name="Take part").tap()
    expect(phone).to_have_url(re.compile("/shop/"), timeout=20_000)
    phone.wait_for_load_state("networkidle")  # its scripts have come


def screen_of(phone: Page, number: int):
    phone.evaluate("anchor => { location.hash = anchor; }", f"hook-{number}")
    screen = phone.locator(".shop__screen:visible")
    expect(screen).to_have_id(f"hook-{number}")
    return screen


def until_sent(phone: Page) -> None:
    for _ in range(80):
        if phone.evaluate(ALL_SENT) == 0:
            return
        phone.wait_for_timeout(250)
    raise AssertionError("not everything was sent")


def entered(phone: Page) -> list[dict]:
    return phone.evaluate(
        """async () => {
          const log = await import("forgesite/shop/run");
          const [run] = await log.runs();
          return log.entries(run);
        }"""
    )


def test_a_reload_in_the_middle_of_a_run_takes_nothing_away(phone: Page):
    phone.goto(SHOP)
    taper = screen_of(phone, 2)
    taper.get_by_role("button", name="Heat taken").tap()
    taper.get_by_label("In your words").fill("a cold shut at the tip")
    taper.get_by_role("button", name="Keep the note").tap()
    expect(taper.locator(".anvil__log li")).to_have_count(1)
    taper.get_by_role("button", name="Out of the fire").tap()
    phone.reload()
    expect(phone.locator(".shop__screen:visible")).to_have_id("hook-2")
    expect(taper.locator(".js-heats")).to_have_text("1")
    expect(taper.locator(".anvil__log li")).to_have_text("a cold shut at the tip")
    expect(taper.locator(".js-clock")).to_have_text(re.compile(r"0:\d\d"))


def test_storage_that_is_full_says_so_and_the_screens_still_turn(phone: Page):
    phone.add_init_script(
        """IDBObjectStore.prototype.add = () => { throw new DOMException("full", "QuotaExceededError"); };
        Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };"""
    )
    phone.goto(SHOP)
    taper = screen_of(phone, 2)
    taper.get_by_role("button", name="Heat taken").tap()
    expect(taper.get_by_role("alert")).to_contain_text("Nothing you enter is kept")
    taper.get_by_role("button", name="Soak in the fire").tap()
    expect(taper.locator(".js-soak-clock")).to_have_text(re.compile("0:5"))  # it lives as long as the page
    taper.get_by_role("link", name="Next").tap()
    expect(phone.locator(".shop__screen:visible")).to_have_id("hook-3")


def test_private_window_that_has_no_stores_at_all_still_shows_every_screen(phone: Page):
    phone.add_init_script(
        """for (const name of ["indexedDB", "localStorage", "sessionStorage", "caches"])
          Object.defineProperty(window, name, {get() { throw new DOMException("denied", "SecurityError"); }});
        delete Navigator.prototype.serviceWorker;"""
    )
    phone.goto(f"/p/{HOOK}/follow/hook/0/")
    expect(phone.get_by_text("keeps nothing here")).to_be_visible()
    phone.goto(SHOP)
    for number in range(11):
        expect(phone.locator(".shop__screen:visible")).to_have_id(f"hook-{number}")
        if number == 2:
            phone.locator(".shop__screen:visible").get_by_role("button", name="Heat taken").tap()
            alert = phone.locator(".shop__screen:visible").get_by_role("alert")
            expect(alert).to_contain_text("keeps no log here")
        if number == 4:  # read about first, which cannot be remembered here
            expect(phone.get_by_role("heading", name="Stop and think")).to_be_visible()
            phone.keyboard.press("PageDown")
        if number < 10:
            phone.keyboard.press("PageDown")


def test_a_clock_set_back_keeps_the_order_of_what_was_entered(phone: Page, course):
    phone.clock.install(time=1_800_000_000)
    join(phone, course)
    taper = screen_of(phone, 2)
    taper.get_by_role("button", name="Short").tap()
    phone.clock.set_system_time(1_700_000_000)
    taper.get_by_role("button", name="Long", exact=True).tap()
    phone.clock.set_system_time(4_000_000_000)
    taper.get_by_role("button", name="Burnt").tap()
    expect(taper.locator(".anvil__log li")).to_have_text(["Short", "Long", "Burnt"])
    phone.clock.run_for(1_000)
    phone.clock.resume()
    until_sent(phone)
    chips = RunEntry.objects.filter(kind="chip").order_by("n")
    assert [one.data["text"] for one in chips] == ["Short", "Long", "Burnt"]


def test_a_procedure_withdrawn_in_the_middle_of_a_run_loses_nothing(browser, live_server, course):
    context = browser.new_context(base_url=live_server.url, **PHONE)
    phone = context.new_page()
    join(phone, course)
    screen_of(phone, 2).get_by_role("button", name="Heat taken").tap()
    until_sent(phone)
    procedure = Procedure.objects.get(slug=HOOK)
    actions.unpublish(procedure=procedure, by=procedure.owner)
    screen = screen_of(phone, 3)
    screen.get_by_role("button", name="Heat taken").tap()
    until_sent(phone)
    stored = Run.objects.get().entries.filter(kind="heat")
    assert sorted(one.number for one in stored) == [2, 3]
    context.close()


def test_network_cut_before_and_after_the_site_took_it_in_doubles_nothing(phone: Page, course):
    join(phone, course)
    until_sent(phone)
    taper = screen_of(phone, 2)
    fate = {"now": "cut before"}

    def cut(route: Route) -> None:
        if fate["now"] == "cut after":
            route.fetch()  # the site has it, and the phone never hears so
        if fate["now"] == "through":
            return route.continue_()
        return route.abort("connectionreset")

    phone.route("**/entries/", cut)
    for fate["now"] in ("cut before", "cut after", "cut after"):
        with phone.expect_event("requestfailed", lambda one: "/entries/" in one.url):
            taper.get_by_role("button", name="Heat taken").tap()
    fate["now"] = "through"
    phone.evaluate("dispatchEvent(new Event('online'))")
    until_sent(phone)
    assert RunEntry.objects.filter(kind="heat").count() == 3
    assert {str(one.pk) for one in RunEntry.objects.all()} == {one["id"] for one in entered(phone)}
    assert Run.objects.count() == 1


def test_two_phones_of_one_name_are_two_runs(phone: Page, browser, live_server, course):
    context = browser.new_context(base_url=live_server.url, **PHONE)
    other = context.new_page()
    for one in (phone, other):
        join(one, course)
        screen_of(one, 2).get_by_role("button", name="Heat taken").tap()
        until_sent(one)
    assert Run.objects.count() == 2
    assert RunEntry.objects.filter(kind="heat").count() == 2
    context.close()


def test_five_thousand_entries_leave_the_page_usable_and_come_in_whole(phone: Page, course):
    join(phone, course)
    phone.evaluate(
        """async () => {
          const log = await import("forgesite/shop/run");
          const [run] = await log.runs();
          const had = (await log.entries(run)).length;
          const opening = indexedDB.open("forgesite");
          const base = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
          const into = base.transaction("entries", "readwrite");
          const one = {run: run.id, part: "hook", step: "taper", number: 2, kind: "heat", sent: false};
          for (let count = had; count < 5000; count += 1)
            into.objectStore("entries").add({...one, id: crypto.randomUUID(), at: Date.now()});
          await new Promise((done) => { into.oncomplete = done; });
          base.close();
        }"""
    )
    phone.reload()
    taper = screen_of(phone, 2)
    expect(taper.locator(".js-heats")).to_have_text(re.compile(r"49\d\d"), timeout=10_000)
    slowest = phone.evaluate(
        """async () => {
          const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
          let slowest = 0;
          for (const number of [3, 2, 3, 2]) {
            const began = performance.now();
            location.hash = `hook-${number}`;
            await new Promise((done) => document.addEventListener("screen:shown", done, {once: true}));
            await painted();
            slowest = Math.max(slowest, performance.now() - began);
          }
          return slowest;
        }"""
    )
    assert slowest < 2000  # ms, on a machine that does other work; the bench holds the aim
    run = Run.objects.get()
    for _ in range(120):
        if run.entries.count() >= 5000:
            break
        phone.wait_for_timeout(500)
    until_sent(phone)
    assert run.entries.count() == len(entered(phone))


def test_a_phone_that_sleeps_through_a_timer_does_not_cry_an_hour_late(phone: Page):
    phone.clock.install()
    phone.goto(SHOP)
    taper = screen_of(phone, 2)
    taper.get_by_role("button", name="Soak in the fire").tap()
    phone.clock.fast_forward(3_600_000)
    expect(taper.locator(".js-soak-clock")).to_have_text("1:00")
    expect(phone.locator(".alarm")).to_have_count(0)


def test_without_signal_and_without_the_engine_the_page_says_so(phone: Page):
    phone.goto(f"/p/{HOOK}/follow/hook/0/")
    phone.get_by_role("checkbox", name=re.compile("reckoning")).uncheck()
    phone.get_by_role("button", name=re.compile("Keep on this phone")).tap()
    expect(phone.get_by_text("it works without signal")).to_be_visible(timeout=30_000)
    phone.goto(SHOP)
    phone.wait_for_function("navigator.serviceWorker.controller")
    phone.context.set_offline(True)
    phone.reload()
    taper = screen_of(phone, 2)
    expect(taper.locator(".js-heat")).to_be_visible()
    taper.get_by_label(re.compile("^Length, planned")).first.fill("60")
    taper.get_by_role("button", name="What becomes of the rest").tap()
    expect(taper.locator(".anvil__answer")).to_contain_text("the reckoning is not kept on this phone")
    expect(taper.get_by_label(re.compile("^Length, planned")).first).to_have_value("60")
