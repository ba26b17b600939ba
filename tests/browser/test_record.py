"""A smith puts a measurement of an original on the record and works the stock back from it."""

import pytest
from django.contrib.auth import get_user_model
from playwright.sync_api import expect

from procedures import actions
from procedures.engine.document_text import parse
from procedures.management.commands.load_demo import DEMO


@pytest.fixture
def hinge(db):
    """The hinge of the demo, which reproduces one in a museum, published by alice."""
    owner = get_user_model().objects.create_user("alice", "alice@example.org", "a password")
    made = actions.create_procedure(document=parse((DEMO / "door_hinge.json").read_bytes()), by=owner)
    actions.publish(procedure=made, by=owner)
    made.refresh_from_db()
    return made


def test_what_is_measured_drives_the_stock(page, hinge, sign_in, assert_accessible):
    sign_in(page, hinge.owner)
    page.goto(f"/p/{hinge.slug}/record/")
    assert_accessible(page)
    page.get_by_role("link", name="Add a measurement").click()
    assert_accessible(page)
    page.get_by_label("What is measured").fill("Pin, across")
    page.get_by_label("As found").fill("14.5")
    page.get_by_label("Give or take").first.fill("0.1")
    page.get_by_label("It lost").first.fill("0.5")
    page.get_by_role("button", name="Save").click()
    assert_accessible(page)  # refused: no face, no reason
    page.get_by_label("Face", exact=False).first.fill("all round")
    page.get_by_label("Why so much").first.fill("Wear")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("14.5 + 0.5 = 15")).to_be_visible()
    page.goto(f"/p/{hinge.slug}/stock/?part=strap")
    page.get_by_role("link", name="541").click()
    expect(page.get_by_role("heading", name="From low to high of the measurement")).to_be_visible()
    assert_accessible(page)


def test_the_record_is_read_on_a_phone(phone, hinge, sign_in, assert_accessible):
    sign_in(phone, hinge.owner)
    for address in ("record/", "record/measurements/m1/", "record/sources/s1/"):
        phone.goto(f"/p/{hinge.slug}/{address}")
        assert_accessible(phone)
        assert phone.evaluate("document.documentElement.scrollWidth") <= 390
