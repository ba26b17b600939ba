"""Photos of runs: sent once, shown to their maker, and to others only where the maker said so."""

import io
from uuid import uuid4

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from procedures import actions
from procedures.models import Run, RunPhoto

from .showing import person, published, taught
from .test_runs import KEY, an_entry, send

pytestmark = pytest.mark.django_db


@pytest.fixture
def course():
    return actions.open_course(procedure=published(), title="Tuesday", by=person("alice"))


def a_file(width=1000, height=600, **more):
    held = io.BytesIO()
    Image.new("RGB", (width, height), "#a40").save(held, "JPEG", **more)
    return SimpleUploadedFile("taken.jpg", held.getvalue(), "image/jpeg")


def sent_run(client, course, *, consent: bool, **more):
    """A run of a class with an entry that tells of a photo; both ids."""
    run, entry = uuid4(), an_entry(1, "photo", consent=consent)
    send(client, run, taught(course), entry, code=course.code, **more)
    return run, entry["id"]


def put(client, run, entry, file=None, key=KEY):
    address = reverse("procedures:take_in_photo", args=[run, entry])
    return client.post(address, {"key": key, "file": file or a_file()})


def photo_address(run, entry, width=480):
    return reverse("procedures:run_photo", args=[run, entry, width])


def test_a_photo_sent_twice_is_there_once(client, course):
    run, entry = sent_run(client, course, consent=True)
    assert put(client, run, entry).json() == {"have": entry}
    assert put(client, run, entry, a_file(700, 700)).status_code == 200
    photo = RunPhoto.objects.get()
    assert (photo.width, photo.height) == (1000, 600)


def test_it_is_encoded_anew_and_tells_nothing_of_the_place(client, alice, course):
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    run, entry = sent_run(client, course, consent=True)
    put(client, run, entry, a_file(exif=exif))
    file = alice.get(photo_address(run, entry))
    assert file["Content-Type"] == "image/jpeg"
    assert b"where I live" not in file.content


def test_teacher_sees_it_where_its_maker_lets_others(client, alice, charlie, course):
    run, entry = sent_run(client, course, consent=True)
    put(client, run, entry)
    assert photo_address(run, entry) in alice.get(f"/runs/{run}/").content.decode()
    assert alice.get(photo_address(run, entry)).status_code == 200
    assert charlie.get(photo_address(run, entry)).status_code == 404
    assert client.get(photo_address(run, entry)).status_code == 302
    assert alice.get(photo_address(run, entry, 481)).status_code == 404


def test_without_consent_it_is_its_makers_alone(alice, charlie, course):
    run, entry = sent_run(charlie, course, consent=False, account=True)
    assert put(charlie, run, entry).status_code == 200
    assert charlie.get(photo_address(run, entry)).status_code == 200
    assert photo_address(run, entry) in charlie.get(f"/runs/{run}/").content.decode()
    assert alice.get(photo_address(run, entry)).status_code == 404
    html = alice.get(f"/runs/{run}/").content.decode()
    assert photo_address(run, entry) not in html
    assert "Photo, for its maker alone" in html


def test_without_consent_or_account_it_is_not_taken(client, course):
    run, entry = sent_run(client, course, consent=False)
    answer = put(client, run, entry)
    assert answer.status_code == 409
    assert "stays on the phone" in answer.json()["fault"]
    assert RunPhoto.objects.count() == 0


@pytest.mark.parametrize("consent", ["true", 1, None, [True]])
def test_only_a_plain_yes_is_a_yes(client, course, consent):
    run, entry = sent_run(client, course, consent=consent)
    assert put(client, run, entry).status_code == 409


def test_a_wrong_key_an_entry_that_is_not_there_and_no_picture_are_refused(client, course):
    run, entry = sent_run(client, course, consent=True)
    assert put(client, run, entry, key="f" * 32).status_code == 403
    assert put(client, run, uuid4()).status_code == 409
    assert put(client, uuid4(), entry).status_code == 409
    heat = an_entry(2)
    send(client, run, taught(course), heat, code=course.code)
    assert put(client, run, heat["id"]).status_code == 409
    script = SimpleUploadedFile("x.jpg", b"<script>", "image/jpeg")
    refused = put(client, run, entry, script)
    assert refused.status_code == 422
    assert refused.json()["fault"]
    assert (
        client.post(reverse("procedures:take_in_photo", args=[run, entry]), {"key": KEY}).status_code == 400
    )
    assert RunPhoto.objects.count() == 0


def test_its_files_go_with_the_run(client, alice, course, django_capture_on_commit_callbacks):
    run, entry = sent_run(client, course, consent=True)
    put(client, run, entry)
    photo = RunPhoto.objects.get()
    assert default_storage.exists(photo.path(480))
    with django_capture_on_commit_callbacks(execute=True):
        alice.post(f"/runs/{run}/delete/")
    assert (Run.objects.count(), RunPhoto.objects.count()) == (0, 0)
    assert not any(default_storage.exists(photo.path(width)) for width in photo.widths)


def test_its_files_go_with_the_class_and_the_procedure(client, course, django_capture_on_commit_callbacks):
    for kind in ("course", "procedure"):
        run, entry = sent_run(client, course, consent=True)
        put(client, run, entry)
        photo = RunPhoto.objects.get()
        with django_capture_on_commit_callbacks(execute=True):
            if kind == "course":
                actions.delete_course(course=course, by=course.teacher)
            else:
                actions.delete_procedure(procedure=taught(course), by=course.teacher)
        assert not default_storage.exists(photo.path(480))
        course = actions.open_course(procedure=published(owner="bob"), title="Again", by=person("alice"))
