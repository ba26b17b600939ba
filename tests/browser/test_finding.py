"""Finding a procedure: typed wrongly, narrowed down, gone back to; by mouse, by key and without script."""

import re

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


def test_a_mistyped_word_is_asked_about_and_the_address_stays_a_page(page: Page, assert_accessible):
    page.goto("/procedures/")
    page.get_by_label("Look for").fill("hindge")
    meant = page.get_by_role("link", name="hinge", exact=True)
    expect(meant).to_be_visible()
    expect(page).to_have_url(re.compile(r"/procedures/\?q=hindge"))
    meant.click()
    expect(page.get_by_role("link", name=re.compile("Strap hinge"))).to_be_visible()
    expect(page.get_by_role("navigation", name="Main")).to_be_visible()
    assert_accessible(page)


def test_narrowed_by_a_box_and_gone_back_to(page: Page, assert_accessible):
    page.goto("/procedures/")
    page.get_by_text("Narrow it down").click()
    page.get_by_label("Beginner").check()
    expect(page.get_by_text("1 found.")).to_be_visible()
    expect(page).to_have_url(re.compile(r"/procedures/\?.*level=beginner"))
    expect(page.get_by_label("Beginner")).to_have_count(1)
    assert_accessible(page)
    page.get_by_role("link", name=re.compile("Coat hook")).click()
    page.go_back()
    expect(page.get_by_role("heading", name="Procedures", exact=True)).to_be_visible()
    expect(page.get_by_label("Beginner")).to_be_checked()


def test_what_can_be_made_of_the_bar_at_hand(page: Page):
    page.goto("/procedures/?narrow=1")
    page.get_by_label("The bar at hand").fill("12 mm round")
    page.get_by_label("The bar at hand").press("Enter")
    expect(page.get_by_text("1 found.")).to_be_visible()
    expect(page.get_by_role("link", name=re.compile("Garden gate strap"))).to_be_visible()
    expect(page.get_by_label("The bar at hand")).to_have_count(1)


def test_it_all_works_without_script(browser, live_server):
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)
    page = context.new_page()
    page.goto("/procedures/?q=hook")
    page.get_by_text("Narrow it down").click()
    page.get_by_role("link", name="By bar, time, level, operation, tools").click()
    page.get_by_label("Beginner").check()
    page.get_by_role("button", name="Show").click()
    expect(page.get_by_text("1 found.")).to_be_visible()
    expect(page.get_by_label("Beginner")).to_be_checked()
    context.close()
