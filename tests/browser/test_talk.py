"""Three people and a stranger: one asks and forges, one answers, the author folds the answer in."""

import io
import json

import pytest
from django.contrib.auth import get_user_model
from PIL import Image
from playwright.sync_api import expect

from procedures import actions
from procedures.management.commands.load_demo import DEMO
from procedures.models import Membership


@pytest.fixture
def people(db):
    return {
        name: get_user_model().objects.create_user(name, password="a password")
        for name in ("alice", "bob", "charlie")
    }


@pytest.fixture
def hook(people):
    stored = json.loads((DEMO / "coat_hook.json").read_bytes())
    made = actions.create_procedure(document=stored, by=people["alice"])
    actions.publish(procedure=made, by=people["alice"])
    made.refresh_from_db()
    return made


def a_picture() -> dict:
    held = io.BytesIO()
    Image.new("RGB", (1200, 900), "#a40").save(held, "JPEG")
    return {"name": "hook.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()}


def fits(page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


def test_question_is_asked_answered_accepted_and_folded(
    page, phone, people, hook, sign_in, assert_accessible
):
    # charlie, who may read it, asks at a step, without leaving the page
    sign_in(phone, people["charlie"])
    phone.goto(f"/p/{hook.slug}/")
    fold = phone.locator(".talk").first
    fold.locator("summary").tap()
    fold.get_by_label("Your question").fill("How hot for the **point**?")
    fold.get_by_role("button", name="Ask").tap()
    expect(fold.get_by_role("status")).to_have_text("Your question is asked.")
    expect(fold.get_by_text("How hot for the point?")).to_be_visible()
    assert_accessible(phone)
    fits(phone)

    # bob answers it on its own page
    sign_in(page, people["bob"])
    page.goto(f"/p/{hook.slug}/questions/")
    assert_accessible(page)
    page.get_by_role("link", name="No answer yet").click()
    page.get_by_label("Your answer").fill("Bright orange, and stop at dull red.")
    page.get_by_role("button", name="Answer").click()
    expect(page.get_by_text("Bright orange, and stop at dull red.")).to_be_visible()
    assert_accessible(page)

    # charlie finds it in the news, accepts it and thanks for it
    phone.goto("/news/")
    assert_accessible(phone)
    fits(phone)
    phone.get_by_role("link", name="bob answered you").tap()
    phone.get_by_role("button", name="Accept").tap()
    expect(phone.get_by_text("Accepted", exact=True).first).to_be_visible()
    phone.get_by_label("with my name").check()
    phone.get_by_role("button", name="Thank").tap()
    expect(phone.get_by_text("Thanked by 1 smith: charlie.")).to_be_visible()
    expect(phone.get_by_role("button", name="Take my thanks back")).to_be_visible()
    assert_accessible(phone)
    fits(phone)

    # alice folds it into the step, and publishes
    sign_in(page, people["alice"])
    page.goto("/news/")
    page.get_by_role("link", name="charlie asked").click()
    page.get_by_role("button", name="Fold into the step").click()
    expect(page.get_by_role("link", name="See it there")).to_be_visible()
    assert_accessible(page)
    hook.refresh_from_db()
    actions.publish(procedure=hook, by=people["alice"])
    page.reload()
    expect(page.get_by_text("Taken into revision 2")).to_be_visible()

    # a stranger reads all of it, and cannot speak
    page.context.clear_cookies()
    page.goto(f"/p/{hook.slug}/")
    expect(page.get_by_text("bob, answer")).to_be_visible()
    fold = page.locator(".talk").first
    expect(fold.locator("summary")).to_have_text("Questions 1")
    fold.locator("summary").click()
    expect(fold.get_by_text("Accepted answer, taken into revision 2")).to_be_visible()
    expect(fold.get_by_role("link", name="Sign in to ask")).to_be_visible()
    expect(fold.get_by_role("button")).to_have_count(0)
    assert_accessible(page)


def test_result_is_told_with_a_photo_and_stands_beside_the_plan(
    page, phone, people, hook, sign_in, assert_accessible
):
    sign_in(phone, people["charlie"])
    phone.goto(f"/p/{hook.slug}/results/")
    assert_accessible(phone)
    phone.get_by_role("link", name="I forged this").tap()
    phone.get_by_label("How it went").fill("Well, but for the point.")
    phone.get_by_label("Heats it took").fill("5")
    step = phone.locator("details").first
    step.locator("summary").tap()
    step.get_by_label("Length").first.fill("0")
    assert_accessible(phone)
    fits(phone)
    phone.get_by_role("button", name="Report it").tap()
    expect(phone.get_by_text("must be more than zero").first).to_be_visible()
    expect(phone.get_by_label("How it went")).to_have_value("Well, but for the point.")
    assert_accessible(phone)
    step.get_by_label("Length").first.fill("5000")
    phone.get_by_role("button", name="Report it").tap()
    expect(phone.get_by_role("heading", name="Is this right?")).to_be_visible()
    phone.get_by_label("I looked once more").check()
    phone.get_by_role("button", name="Report it").tap()
    expect(phone.get_by_role("heading", name="Forged by charlie")).to_be_visible()
    phone.get_by_label("Photo", exact=True).set_input_files(a_picture())
    phone.get_by_label("What it shows").fill("The finished hook beside a rule.")
    phone.get_by_label("I took it").check()
    phone.get_by_role("button", name="Add the photo").tap()
    expect(phone.get_by_role("img", name="The finished hook beside a rule.")).to_be_visible()
    assert_accessible(phone)
    fits(phone)

    page.goto(f"/p/{hook.slug}/")
    page.get_by_role("link", name="Forged 1 time", exact=True).click()
    expect(page.get_by_role("img", name="Predicted")).to_be_visible()
    page.get_by_text("Each of them").click()
    expect(page.get_by_role("link", name="charlie", exact=True)).to_be_visible()
    assert_accessible(page)
    fits(page)


def test_guild_talks_among_itself(page, phone, people, sign_in, assert_accessible):
    guild = actions.found_guild(name="The Anvil", by=people["alice"])
    Membership.objects.create(guild=guild, user=people["bob"], role="member")
    stored = json.loads((DEMO / "coat_hook.json").read_bytes())
    made = actions.create_procedure(document=stored, by=people["alice"])
    actions.publish(procedure=made, status="guild", guild=guild, by=people["alice"])
    sign_in(phone, people["bob"])
    phone.goto(f"/p/{made.slug}/")
    fold = phone.locator(".talk").first
    fold.locator("summary").tap()
    fold.get_by_label("Your question").fill("Whose anvil?")
    fold.get_by_role("button", name="Ask").tap()
    expect(fold.get_by_text("Whose anvil?")).to_be_visible()

    sign_in(page, people["charlie"])  # a stranger to the guild
    assert page.goto(f"/p/{made.slug}/questions/").status == 404
    sign_in(page, people["alice"])
    page.goto("/news/")
    page.get_by_role("link", name="bob asked").click()
    page.get_by_label("Your answer").fill("Yours.")
    page.get_by_role("button", name="Answer").click()
    expect(page.get_by_text("Yours.")).to_be_visible()
    assert_accessible(page)


def test_without_script_all_is_asked_on_pages_of_their_own(browser, live_server, people, hook, sign_in):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    try:
        sign_in(context, people["charlie"])
        page = context.new_page()
        page.goto(f"/p/{hook.slug}/")
        page.locator(".talk summary").first.click()
        page.get_by_role("link", name="Questions on this step").first.click()
        page.get_by_label("Your question").fill("How hot?")
        page.get_by_role("button", name="Ask").click()
        expect(page.get_by_text("How hot?")).to_be_visible()
        page.goto(f"/p/{hook.slug}/")
        page.get_by_role("button", name="Thank").click()
        expect(page.get_by_text("Thanked by 1 smith.")).to_be_visible()
    finally:
        context.close()
