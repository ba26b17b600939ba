"""A stranger reports on a phone, a moderator hides and warns, the author reads why and writes on."""

import pytest
from django.contrib.auth import get_user_model
from playwright.sync_api import expect

from procedures import actions
from procedures.models import Report
from tests.integration.showing import a_hook


@pytest.fixture
def people(db):
    return {
        name: get_user_model().objects.create_user(name, password="a password") for name in ("alice", "mo")
    }


@pytest.fixture
def hook(people):
    made = actions.create_procedure(document=a_hook(), by=people["alice"])
    actions.publish(procedure=made, by=people["alice"])
    actions.name_moderator(person=people["mo"], by=None)
    made.refresh_from_db()
    return made


def fits(page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


def test_report_is_looked_at_and_the_author_told(page, phone, people, hook, sign_in, assert_accessible):
    # a stranger reports, with no account
    phone.goto(hook.get_absolute_url())
    phone.get_by_role("link", name="Report this procedure").tap()
    phone.get_by_label("Unsafe").check()
    phone.get_by_label("In your words").fill("It tears at the eye.")
    expect(phone.get_by_label("Leave this empty")).to_be_hidden()
    assert_accessible(phone)
    fits(phone)
    phone.get_by_role("button", name="Report it").tap()
    expect(phone.get_by_text("Somebody who looks after the site will look at it.")).to_be_visible()

    # a moderator hides it and warns, by keyboard as by mouse
    sign_in(page, people["mo"])
    page.goto("/moderation/")
    assert_accessible(page)
    page.get_by_role("link", name="Procedure: A hook").click()
    assert_accessible(page)
    page.get_by_text("Warn its author").focus()
    page.keyboard.press("Enter")
    page.get_by_label("The warning").fill("Test what you publish.")
    page.get_by_role("button", name="Warn").click()
    page.get_by_text("Hide it", exact=True).first.click()
    page.get_by_role("button", name="Hide it").click()
    expect(page.get_by_text("Say why: it stands in the log.", exact=True)).to_be_visible()
    assert_accessible(page)
    page.get_by_label("Why it is hidden").fill("It tears.")
    page.get_by_role("button", name="Hide it").click()
    expect(page.get_by_text("Hidden. Its author sees it, and why.")).to_be_visible()
    expect(page.get_by_role("heading", name="Warned: Procedure, A hook")).to_be_visible()
    assert_accessible(page)
    page.goto("/moderation/log/")
    assert_accessible(page)
    assert Report.objects.get().outcome == "acted"

    # its author reads why, says so, and writes on
    sign_in(phone, people["alice"])
    phone.goto("/news/")
    phone.get_by_role("link", name="Hidden by those who look after the site").tap()
    expect(phone.get_by_text("It tears.").first).to_be_visible()
    expect(phone.get_by_text("Test what you publish.").first).to_be_visible()
    assert_accessible(phone)
    fits(phone)
    phone.get_by_role("button", name="I have read it").tap()
    expect(phone.get_by_text("Noted. You may write again.")).to_be_visible()


@pytest.mark.parametrize("address", ["/safety/", "/terms/"])
def test_plain_words_fit_a_phone(phone, hook, address, assert_accessible):
    phone.goto(address)
    assert_accessible(phone)
    fits(phone)
