"""A reader takes a procedure away and takes it in elsewhere; a smith takes everything away, and leaves."""

import zipfile

import pytest
from django.contrib.auth import get_user_model
from playwright.sync_api import expect

from procedures import actions
from procedures.engine.document import read
from procedures.engine.document_text import parse
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.models import Procedure
from procedures.report import report


def account(name):
    return get_user_model().objects.create_user(name, f"{name}@example.org", "a password")


@pytest.fixture
def hook(db):
    """The coat hook of the demo, published by alice."""
    owner = account("alice")
    made = actions.create_procedure(document=parse((DEMO / "coat_hook.json").read_bytes()), by=owner)
    actions.publish(procedure=made, by=owner)
    made.refresh_from_db()
    return made


def downloaded(page, press, folder):
    with page.expect_download() as started:
        press.click()
    file = folder / started.value.suggested_filename
    started.value.save_as(file)
    return file


def test_procedure_is_taken_away_and_taken_in_again(page, hook, sign_in, assert_accessible, tmp_path):
    page.goto(hook.get_absolute_url())
    file = downloaded(page, page.get_by_role("link", name="All of it with photos"), tmp_path)
    assert file.name == f"{hook.slug}-revision-1.zip"
    bob = account("bob")
    sign_in(page, bob)
    page.goto("/new/")
    page.get_by_label("File").set_input_files(file)
    assert_accessible(page)
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_text("Every figure comes out here as in the file.")).to_be_visible()
    expect(page.get_by_text("its word stands in the credits")).to_be_visible()
    twin = bob.procedures.get()
    assert report(replay(read(twin.document))) == report(replay(read(hook.latest.document)))


def test_zip_that_is_none_is_refused_beside_the_field(phone, hook, sign_in, assert_accessible, tmp_path):
    file = tmp_path / "holiday.zip"
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("../../holiday.jpg", b"x")
    sign_in(phone, hook.owner)
    phone.goto("/new/")
    phone.get_by_label("File").set_input_files(file)
    phone.get_by_role("button", name="Take it in").click()
    expect(phone.get_by_text("leads out of the package").first).to_be_visible()
    assert_accessible(phone)


def test_smith_takes_everything_away_and_leaves(phone, hook, sign_in, assert_accessible, tmp_path):
    sign_in(phone, hook.owner)
    phone.goto("/account/export/")
    assert_accessible(phone)
    file = downloaded(phone, phone.get_by_role("button", name="Take all of it in one zip"), tmp_path)
    with zipfile.ZipFile(file) as archive:
        assert f"{hook.slug}/revisions/1.json" in archive.namelist()
    phone.get_by_role("link", name="Delete the account").click()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    phone.get_by_label("Leave it to its readers").check()
    phone.get_by_label("Your password").fill("another")
    phone.get_by_role("button", name="Delete it for good").click()
    expect(phone.get_by_text("This is not your password.").first).to_be_visible()
    assert_accessible(phone)
    phone.get_by_label("Your password").fill("a password")
    phone.get_by_role("button", name="Delete it for good").click()
    expect(phone.get_by_text("Your account is deleted")).to_be_visible()
    phone.goto(hook.get_absolute_url())
    expect(phone.get_by_text("by a smith who has left").first).to_be_visible()
    assert not get_user_model().objects.filter(username="alice").exists()
    assert Procedure.objects.get().owner.username == "a smith who has left"
