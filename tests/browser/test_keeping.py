"""A teacher puts a collection together with a few presses and with keys alone; a stranger reads it."""

import json
import re

import pytest
from django.contrib.auth import get_user_model
from django.test import Client
from playwright.sync_api import expect

from procedures import actions
from procedures.management.commands.load_demo import DEMO
from procedures.models import Collection


@pytest.fixture
def alice(db):
    return get_user_model().objects.create_user("alice", password="a password")


@pytest.fixture
def published(alice):
    made = []
    for name in ("coat_hook", "hat_bracket"):
        stored = json.loads((DEMO / f"{name}.json").read_bytes())
        one = actions.create_procedure(document=stored, by=alice)
        actions.publish(procedure=one, by=alice)
        made.append(one)
        Client().get(f"/p/{one.slug}/")  # drawn once before: here it is not the drawing that is waited for
    return made


def fits(page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


def test_collection_is_put_together_ordered_and_read(
    page, phone, alice, published, sign_in, assert_accessible
):
    hook, bracket = published
    sign_in(page, alice)

    # the first goes into a new collection, the second into it with two presses
    page.goto(f"/p/{hook.slug}/")
    page.get_by_role("link", name="Collect", exact=True).click()
    page.get_by_label("A new collection").fill("First weekend")
    page.get_by_role("button", name="Make it and add").click()
    page.goto(f"/p/{bracket.slug}/")
    page.get_by_role("link", name="Collect", exact=True).click()
    assert_accessible(page)
    page.get_by_role("button", name="Add it to First weekend").click()
    titles = page.locator(".kept__title")
    expect(titles).to_have_count(2)
    expect(titles.first).to_have_text(hook.title)
    assert_accessible(page)

    # by keys alone: the second goes up, and the focus stays on its button
    page.get_by_role("button", name=re.compile(rf"Up ?: {bracket.title}")).focus()
    page.keyboard.press("Enter")
    expect(titles.first).to_have_text(bracket.title)
    expect(page.locator("#items [role=status]")).to_have_text(f"{bracket.title} is number 1 now.")
    expect(page.get_by_role("button", name=re.compile(rf"Up ?: {bracket.title}"))).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(titles.first).to_have_text(hook.title)

    # it is made public, and a stranger reads it on a phone
    page.get_by_role("link", name="Title and readers").click()
    page.get_by_label("Public: everybody finds it").check()
    page.get_by_role("button", name="Save").click()
    phone.goto("/collections/")
    phone.get_by_role("link", name="First weekend").tap()
    expect(phone.get_by_role("heading", level=2)).to_have_count(2)
    expect(phone.get_by_role("button", name="Up")).to_have_count(0)
    assert_accessible(phone)
    fits(phone)
    phone.get_by_role("link", name="alice").tap()
    expect(phone.get_by_role("heading", level=1)).to_have_text("alice")
    assert_accessible(phone)
    fits(phone)
    assert Collection.objects.get().status == "public"
