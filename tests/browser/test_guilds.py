"""A guild in a browser: founded, joined by a link, a shelf that two work at; and the plan of a class."""

import re

import pytest
from playwright.sync_api import Page, expect

from procedures import actions
from procedures.models import Guild
from tests.integration.showing import a_draft, person, published


@pytest.fixture
def other(browser, live_server):
    """A second person's window."""
    context = browser.new_context(base_url=live_server.url, viewport={"width": 390, "height": 844})
    context.set_default_timeout(10_000)
    yield context.new_page()
    context.close()


def test_keeper_founds_and_invites_and_an_editor_works_at_the_draft(
    page: Page, other: Page, sign_in, assert_accessible
):
    alice, bob = person("alice"), person("bob")
    hook = a_draft()
    sign_in(page, alice)
    sign_in(other, bob)
    page.goto("/guilds/")
    assert_accessible(page)
    page.get_by_role("link", name="Found a guild").click()
    page.get_by_label("Name of the guild").fill("The Anvil")
    page.get_by_role("button", name="Found it").click()
    page.get_by_label("One of yours").select_option(hook.slug)
    page.get_by_role("button", name="Put it on the shelf").click()
    expect(page.get_by_text("It stands on the shelf")).to_be_visible()
    assert_accessible(page)
    page.get_by_role("link", name=re.compile("^Members")).click()
    page.get_by_role("radio", name=re.compile("Editor: works")).check()
    page.get_by_role("button", name="Make the link").click()
    link = page.locator(".guild__address a").get_attribute("href")
    assert_accessible(page)

    other.goto(link)
    assert_accessible(other)
    other.get_by_role("button", name="Come in").click()
    expect(other.get_by_text("You are in the guild The Anvil.")).to_be_visible()
    assert other.evaluate("document.documentElement.scrollWidth") == 390
    assert_accessible(other)
    other.get_by_role("link", name="A hook").click()
    expect(other).to_have_url(re.compile("/edit/"))
    other.goto(link)
    assert Guild.objects.get().memberships.count() == 2

    third = other.context.new_page()
    third.context.clear_cookies()
    sign_in(third, person("charlie"))
    third.goto(link)
    expect(third.get_by_text("This invitation was used")).to_be_visible()


def test_plan_of_a_class_reads_on_a_phone(phone: Page, sign_in, assert_accessible):
    course = actions.open_course(procedure=published(), title="Tuesday", by=person())
    actions.assign(course=course, procedure=published(), by=person())
    sign_in(phone, person())
    phone.goto(f"/classes/{course.pk}/plan/")
    phone.get_by_label("Day", exact=True).fill("2027-03-02")
    phone.get_by_role("button", name="Add the day").tap()
    expect(phone.get_by_text("Tuesday 2 March 2027")).to_be_visible()
    phone.get_by_label("Due").first.fill("2027-03-09")
    with phone.expect_navigation():
        phone.get_by_role("button", name="Keep the dates").first.tap()
    assert phone.evaluate("document.documentElement.scrollWidth") == 390
    assert_accessible(phone)
    phone.goto(course.get_absolute_url())
    expect(phone.get_by_text("due 9 March")).to_be_visible()
    assert_accessible(phone)
