"""A class: a teacher at a desk, a student whose phone loses the signal, a gate, a measure off, one log."""

import json
import re

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command
from playwright.sync_api import Page, expect

from procedures import actions
from procedures.models import Procedure, Run, RunEntry

HOOK = "coat-hook-the-first-evening"
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.fixture
def course():
    teacher = get_user_model().objects.get(username="smith")
    return actions.open_course(procedure=Procedure.objects.get(slug=HOOK), title="Tuesday", by=teacher)


def join(phone: Page, course, name: str) -> None:
    phone.goto(f"/join/?code={course.code}")
    phone.get_by_label("Your name").fill(name)
    phone.get_by_role("button", name="Take part").tap()
    expect(phone).to_have_url(re.compile("/shop/"), timeout=20_000)


def screen_of(phone: Page, number: int):
    phone.evaluate("anchor => { location.hash = anchor; }", f"hook-{number}")
    screen = phone.locator(".shop__screen:visible")
    expect(screen).to_have_id(f"hook-{number}")
    read_first = screen.get_by_role("link", name="Read: on to the step")
    if read_first.count():
        read_first.tap()
    return screen


def test_gate_is_asked_for_on_the_phone_and_signed_at_the_desk(
    page: Page, browser, live_server, course, sign_in, assert_accessible
):
    sign_in(page, course.teacher)
    page.goto(course.get_absolute_url())
    expect(page.get_by_text("Nobody has joined yet")).to_be_visible()
    context = browser.new_context(base_url=live_server.url, **PHONE)
    phone = context.new_page()
    join(phone, course, "Kim")
    expect(page.get_by_role("heading", name="Kim")).to_be_visible(timeout=15_000)
    gate = next(n for n in range(1, 10) if phone.locator(f"#hook-{n} .anvil__gate").count())
    screen = screen_of(phone, gate)
    screen.get_by_role("button", name="Ask the teacher to look").tap()
    expect(screen.locator(".js-gate")).to_have_text(re.compile("Wait"))
    press = page.get_by_role("button", name="Looked at: let Kim go on")
    expect(press).to_be_visible(timeout=15_000)
    assert_accessible(page)
    press.click()
    expect(press).to_have_count(0)
    expect(screen.locator(".js-gate")).to_have_text(re.compile("Signed by smith"), timeout=25_000)
    context.close()


def test_whole_run_without_signal_comes_in_once_and_exactly(phone: Page, course):
    join(phone, course, "Kim")
    phone.goto(f"/join/?code={course.code}")
    phone.get_by_role("button", name=re.compile("Keep on this phone")).tap()
    expect(phone.get_by_text("it works without signal")).to_be_visible(timeout=60_000)
    phone.get_by_role("link", name="Open what is kept").tap()
    phone.wait_for_function("navigator.serviceWorker.controller")
    phone.context.set_offline(True)
    phone.reload()
    steps = phone.locator('.shop__screen[data-kind="step"]').count()
    for number in range(1, steps + 1):
        screen = screen_of(phone, number)
        if screen.get_by_role("button", name="Heat taken").count():
            screen.get_by_role("button", name="Heat taken").tap()
            expect(screen.locator(".js-heats")).to_have_text("1")
        if number == 4:
            length = screen.get_by_label(re.compile("^Length, planned")).first
            length.fill("150")
            screen.get_by_role("button", name="What becomes of the rest").tap()
            expect(screen.locator(".anvil__answer")).to_contain_text("Ways to go on", timeout=60_000)
    here = phone.evaluate(
        """async () => {
          const log = await import("forgesite/shop/run");
          const [run] = (await log.runs()).filter((one) => one.code);
          return [run.id, await log.entries(run)];
        }"""
    )
    run_id, entries = here
    before = RunEntry.objects.filter(run=run_id).count()
    assert before < len(entries)
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    # evaluate waits for a promise; wait_for_function takes the promise itself for a yes
    phone.evaluate(
        """async (id) => {
          const log = await import("forgesite/shop/run");
          const waits = async () => (await log.entries({id})).some((one) => !one.sent);
          const until = Date.now() + 20000;
          while (await waits() && Date.now() < until) await new Promise((go) => setTimeout(go, 100));
        }""",
        run_id,
    )
    stored = {str(one.pk): one for one in RunEntry.objects.filter(run=run_id)}
    assert set(stored) == {one["id"] for one in entries}
    for one in entries:
        assert (stored[one["id"]].kind, stored[one["id"]].step, stored[one["id"]].n) == (
            one["kind"],
            one["step"],
            one["n"],
        )
    assert [one.data["length"] for one in stored.values() if one.kind == "measured"] == ["150"]
    assert Run.objects.count() == 1
    # a phone that forgot what came in sends it all again, and nothing is there twice
    phone.evaluate(
        """async (id) => {
          const log = await import("forgesite/shop/run");
          const {send} = await import("forgesite/shop/sync");
          const run = await log.runOf(id);
          const all = await log.entries(run);
          const {key, slug, revision, units, started, name, code} = run;
          const about = {slug, revision, units, started, name, code, nominal: false, ended: false};
          const body = {key, run: about, entries: all};
          await fetch(`/runs/${id}/entries/`, {method: "POST", headers: {"Content-Type": "application/json"},
            body: JSON.stringify(body)});
          await send(run);
        }""",
        run_id,
    )
    assert RunEntry.objects.filter(run=run_id).count() == len(entries)


def test_run_stays_on_the_phone_until_it_is_given_to_an_account(phone: Page, sign_in):
    phone.goto(f"/p/{HOOK}/follow/hook/2/")
    phone.get_by_role("button", name="Heat taken").tap()
    expect(phone.locator(".js-heats")).to_have_text("1")
    phone.goto("/shop/")
    run = phone.locator(".run")
    expect(run).to_contain_text("on this phone only")
    assert Run.objects.count() == 0
    with phone.expect_download() as download:
        run.get_by_role("link", name="Save as a file").tap()
    saved = json.loads(download.value.path().read_text())
    assert [one["kind"] for one in saved["entries"]] == ["heat"]
    assert "key" not in saved
    sign_in(phone, get_user_model().objects.get(username="apprentice"))
    run.get_by_role("button", name="Add to my account").tap()
    expect(run.get_by_role("status")).to_have_text("It is in your account now.")
    assert Run.objects.get().owner.username == "apprentice"
    run.get_by_role("button", name="Remove").tap()
    expect(phone.get_by_text("No run yet")).to_be_visible()
    assert Run.objects.count() == 0


@pytest.mark.parametrize("address", ["/join/", "/shop/", "/runs/"])
def test_pages_are_accessible_and_fit_a_phone(phone: Page, sign_in, address, assert_accessible):
    sign_in(phone, get_user_model().objects.get(username="smith"))
    phone.goto(address)
    assert phone.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(phone)
