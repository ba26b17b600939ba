"""Three people share: one publishes, one adapts and offers back, and a stranger compares."""

import json

import pytest
from django.contrib.auth import get_user_model
from playwright.sync_api import expect

from procedures import actions, editing
from procedures.management.commands.load_demo import DEMO


@pytest.fixture
def hook(db):
    """The coat hook of the demo in two revisions: its taper thinner in the second."""
    owner = get_user_model().objects.create_user("alice", password="a password")
    stored = json.loads((DEMO / "coat_hook.json").read_bytes())
    made = actions.create_procedure(document=stored, by=owner)
    actions.publish(procedure=made, by=owner)
    change(made, owner, "taper", end_section={"shape": "square", "side": 2.5})
    actions.publish(procedure=made, note="A finer point.", by=owner)
    made.refresh_from_db()
    return made


def change(procedure, by, key, **params):
    procedure.refresh_from_db()
    part = procedure.document["parts"][0]["key"]
    step = editing.step_of(procedure.document, part, key)
    fields = {"params": {**step["params"], **params}}
    base = editing.step_digest(step)
    actions.edit_step(procedure=procedure, part=part, step=key, fields=fields, base=base, by=by)


def looked_at(page, hook, assert_accessible):
    """Go to the comparison and open the drawings of its first step by the keyboard."""
    page.goto(f"/p/{hook.slug}/compare/?from=1&to=2")
    first = page.locator(".compared summary").first
    first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".compared__step").first.locator("svg.dw:visible")).to_have_count(2)
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    assert_accessible(page)


def test_stranger_compares_two_revisions(page, hook, assert_accessible):
    looked_at(page, hook, assert_accessible)


def test_stranger_compares_two_revisions_on_a_phone(phone, hook, assert_accessible):
    looked_at(phone, hook, assert_accessible)


def test_one_adapts_and_offers_and_the_author_accepts(page, phone, hook, sign_in, assert_accessible):
    charlie = get_user_model().objects.create_user("charlie", password="a password")
    sign_in(page, charlie)
    page.goto(f"/p/{hook.slug}/r/1/")
    assert_accessible(page)
    page.get_by_role("link", name="Adapt", exact=True).click()
    assert_accessible(page)
    page.get_by_role("button", name="Adapt it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Coat hook")
    copy = charlie.procedures.get()
    page.get_by_role("link", name="The original").click()
    page.get_by_role("button", name="Take it over").first.click()
    expect(page.get_by_text("Yours has it")).to_have_count(1)
    assert_accessible(page)
    page.get_by_role("button", name="Done with these").click()

    part = copy.document["parts"][0]["key"]
    change(copy, charlie, "plate", thickness=3.5)
    page.goto(f"/p/{copy.slug}/offer/")
    page.get_by_label("Offer this").check()
    page.get_by_label("To the author").fill("It sits flatter.")
    assert_accessible(page)
    page.get_by_role("button", name="Offer it").click()
    expect(page.get_by_text("The author has not answered yet.")).to_be_visible()
    offered = page.url

    sign_in(phone, hook.owner)
    phone.goto(f"/p/{hook.slug}/offers/")
    assert_accessible(phone)
    phone.get_by_role("link", name="From charlie").tap()
    expect(phone.get_by_role("heading", name="Offered by charlie")).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    assert_accessible(phone)
    phone.get_by_role("button", name="Accept").tap()
    expect(phone.get_by_text("It is in your draft.")).to_be_visible()
    hook.refresh_from_db()
    assert editing.step_of(hook.document, part, "plate")["params"]["thickness"] == 3.5

    page.goto(offered)
    expect(page.get_by_text("Accepted.")).to_be_visible()


def test_what_is_withdrawn_leaves_a_stone(page, hook):
    actions.unpublish(procedure=hook, reason="The eye tears.", by=hook.owner)
    stone = page.context.request.get(f"/p/{hook.slug}/r/1/")
    assert stone.status == 410
    page.set_content(stone.text())
    expect(page.get_by_text("The eye tears.")).to_be_visible()
