"""A run on one phone: its pieces, its photos, its end; and what becomes of it at the site."""

import io
import re

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command
from PIL import Image
from playwright.sync_api import Page, expect

from procedures import actions
from procedures.models import Procedure, Run, RunPhoto

HOOK = "coat-hook-the-first-evening"
SHOP = f"/shop/{HOOK}/1/metric/scale/"
STAND = "pot-stand-with-a-welded-hoop-and-three-riveted-feet"
LEAST = 64  # px of anything pressed with a glove on


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


@pytest.fixture
def course():
    teacher = get_user_model().objects.get(username="smith")
    return actions.open_course(procedure=Procedure.objects.get(slug=HOOK), title="Tuesday", by=teacher)


def a_picture(width=3000, height=2000) -> dict:
    held = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    Image.new("RGB", (width, height), "#a40").save(held, "JPEG", exif=exif)
    return {"name": "taken.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()}


def screen_of(phone: Page, anchor: str):
    phone.evaluate("anchor => { location.hash = anchor; }", anchor)
    screen = phone.locator(".shop__screen:visible")
    expect(screen).to_have_id(anchor)
    return screen


def take(screen, answer: str) -> None:
    expect(screen.get_by_text("Take a photo")).to_be_visible()  # its scripts have started
    screen.locator(".js-take").set_input_files(a_picture())
    expect(screen.get_by_text("May others see it?")).to_be_visible()
    for press in screen.locator(".anvil__ask button").all():
        assert press.bounding_box()["height"] >= LEAST
    screen.get_by_role("button", name=answer, exact=True).tap()


def everything_is_sent(phone: Page, run: Run) -> None:
    for _ in range(60):
        left = phone.evaluate(
            """async (id) => {
              const log = await import("forgesite/shop/run");
              const waiting = (all) => all.filter((one) => !one.sent).length;
              return [waiting(await log.entries({id})), waiting(await log.photos({id}))];
            }""",
            str(run.pk),
        )
        if left == [0, 0]:
            return
        phone.wait_for_timeout(250)
    raise AssertionError(f"{left} were not sent")


def test_a_run_is_ended_with_what_was_measured_and_taken_up_again(phone: Page, assert_accessible):
    phone.goto(SHOP)
    taper = screen_of(phone, "hook-2")
    taper.get_by_role("button", name="Heat taken").tap()
    taper.get_by_label(re.compile("^Length, planned")).first.fill("90")
    taper.get_by_role("button", name="What becomes of the rest").tap()
    expect(taper.locator(".anvil__answer")).to_contain_text("Ways to go on", timeout=60_000)
    done = screen_of(phone, "hook-10")
    expect(done.locator(".js-told")).to_contain_text("1 heat taken, 13 planned")
    expect(done.locator(".js-measured li")).to_have_text(
        re.compile("Step 2, worked part: 90, planned 96.3.mm")
    )
    press = done.get_by_role("button", name="Done: end the run")
    assert press.bounding_box()["height"] >= LEAST
    press.tap()
    expect(done.locator(".js-told")).to_contain_text("The run is ended")
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")  # Back and Next lie over what is scrolled past
    assert_accessible(phone)
    done.get_by_role("button", name="Not done yet").tap()
    expect(press).to_be_visible()
    taper = screen_of(phone, "hook-2")
    expect(taper.locator(".js-heats")).to_have_text("1")
    kinds = """() => import("forgesite/shop/run").then(async (log) => {
      const [run] = await log.runs();
      return [(await log.runs()).length, Boolean(run.ended), (await log.entries(run)).map((one) => one.kind)];
    })"""
    count, ended, entered = phone.evaluate(kinds)
    assert (count, ended) == (1, False)
    assert entered[-3:] == ["done", "undone", "at"]


def test_another_piece_is_counted_by_itself(phone: Page):
    phone.goto(f"/shop/{STAND}/1/metric/scale/", timeout=60_000)  # ms: all its drawings are made first
    foot = screen_of(phone, "foot-2")
    foot.get_by_role("button", name="Heat taken").tap()
    expect(foot.locator(".js-heats")).to_have_text("1")
    done = screen_of(phone, "foot-8")
    expect(done.locator(".js-told")).to_contain_text("Piece 1 of 3")
    done.get_by_role("button", name="Begin another").tap()
    expect(phone.locator(".shop__screen:visible")).to_have_id("foot-0")
    foot = screen_of(phone, "foot-2")
    expect(foot.locator(".js-heats")).to_have_text("0")
    phone.reload()
    expect(foot.locator(".js-heats")).to_have_text("0")
    foot.get_by_role("button", name="Heat taken").tap()
    expect(foot.locator(".js-heats")).to_have_text("1")
    done = screen_of(phone, "foot-8")
    expect(done.locator(".js-told")).to_contain_text("Piece 2 of 3")


def test_photos_without_signal_come_in_once_and_only_with_consent(phone: Page, course):
    phone.goto(f"/join/?code={course.code}")
    phone.get_by_label("Your name").fill("Kim")
    phone.get_by_role("button", name="Take part").tap()
    expect(phone).to_have_url(re.compile("/shop/"), timeout=20_000)
    phone.wait_for_load_state("networkidle")  # its scripts have come
    phone.context.set_offline(True)
    taper = screen_of(phone, "hook-2")
    take(taper, "Yes")
    expect(taper.locator(".anvil__photos li")).to_have_count(1)
    take(taper, "Only me")
    expect(taper.locator(".anvil__photos li")).to_have_text(["Others may see it", "Only you"])
    take(taper, "Throw it away")
    expect(taper.locator(".anvil__photos li")).to_have_count(2)
    kept = phone.evaluate(
        """async () => {
          const log = await import("forgesite/shop/run");
          const [run] = await log.runs();
          const [first] = await log.photos(run);
          const picture = await createImageBitmap(first.photo);
          return [first.photo.type, Math.max(picture.width, picture.height), await first.photo.text()];
        }"""
    )
    assert kept[:2] == ["image/jpeg", 1600]
    assert "where I live" not in kept[2]
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    run = Run.objects.get()
    for _ in range(60):
        if RunPhoto.objects.count():
            break
        phone.wait_for_timeout(250)
    phone.evaluate(
        """async (id) => {
          const log = await import("forgesite/shop/run");
          const {send} = await import("forgesite/shop/sync");
          const all = await log.photos({id});
          const [{photo, id: entry}] = all.filter((one) => one.consent);
          const body = new FormData();
          body.append("key", (await log.runOf(id)).key);
          body.append("file", photo, "again.jpg");
          await fetch(`/runs/${id}/photos/${entry}/`, {method: "POST", body});
          await send(await log.runOf(id));
        }""",
        str(run.pk),
    )
    photo = RunPhoto.objects.get()
    assert photo.entry.is_shared
    assert run.entries.filter(kind="photo").count() == 2


def test_photo_for_oneself_goes_to_ones_account(phone: Page, sign_in):
    user = get_user_model().objects.get(username="apprentice")
    sign_in(phone, user)
    phone.goto(f"/p/{HOOK}/follow/hook/2/")
    take(phone.locator(".anvil"), "Only me")
    expect(phone.locator(".anvil__photos li")).to_have_text("Only you")
    phone.goto("/shop/")
    phone.locator(".run").get_by_role("button", name="Add to my account").tap()
    expect(phone.locator(".run").get_by_role("status")).to_have_text("It is in your account now.")
    run = Run.objects.get()
    everything_is_sent(phone, run)
    phone.goto(run.get_absolute_url())
    picture = phone.get_by_alt_text("Photo taken at this step")
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)
    assert picture.evaluate("one => one.naturalWidth") > 0


def test_a_file_that_is_no_picture_is_told(phone: Page):
    phone.goto(f"/p/{HOOK}/follow/hook/2/")
    expect(phone.get_by_text("Take a photo")).to_be_visible()
    take_one = phone.locator(".js-take")
    take_one.set_input_files({"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"not a picture"})
    expect(phone.get_by_text("no picture that the phone can read")).to_be_visible()
