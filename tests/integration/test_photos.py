"""Photos: taken in only when they are pictures, stripped of what they tell, shown only to who may read."""

import io

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from procedures import actions
from procedures.models import Photo

from .authoring import stored, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db

GPS = 0x8825
ORIENTATION = 0x0112


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def a_picture(width=2000, height=1000, kind="JPEG", mode="RGB", **more) -> bytes:
    held = io.BytesIO()
    Image.new(mode, (width, height), "firebrick").save(held, kind, **more)
    return held.getvalue()


def add(client, procedure, content, name="hook.jpg", **words):
    file = SimpleUploadedFile(name, content, content_type="image/jpeg")
    address = reverse("procedures:add_photo", args=[procedure.slug, "bar", "s2"])
    return client.post(address, {"file": file, "alt": "The end, drawn out.", **words})


def the_photo(procedure) -> Photo:
    return procedure.photos.get()


def address(procedure, width=480):
    return reverse("procedures:photo", args=[procedure.slug, the_photo(procedure).digest, width])


def test_photo_is_kept_in_three_widths_and_named_in_the_document(alice):
    hook = a_draft()
    response = add(alice, hook, a_picture(), caption="Orange heat")
    assert response.status_code == 302
    photo = the_photo(hook)
    assert stored(hook, "s2")["photos"] == [
        {"digest": photo.digest, "alt": "The end, drawn out.", "caption": "Orange heat"}
    ]
    assert (photo.width, photo.height) == (1600, 800)
    for width in (480, 960, 1600):
        with default_storage.open(photo.path(width)) as file:
            assert Image.open(file).size == (width, width // 2)


def test_small_photo_is_not_blown_up(alice):
    hook = a_draft()
    add(alice, hook, a_picture(700, 500))
    assert the_photo(hook).widths == (480, 700)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("mode", ["RGB", "L", "RGBA"])
def test_common_kinds_of_picture_are_taken(alice, kind, mode):
    if (kind, mode) == ("JPEG", "RGBA"):
        pytest.skip("a JPEG has no transparency")
    hook = a_draft()
    assert add(alice, hook, a_picture(300, 200, kind, mode)).status_code == 302


def test_place_and_camera_are_taken_out_and_the_picture_turned_upright(alice):
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera lay on its side
    exif[0x010F] = "Camera of alice"
    exif.get_ifd(GPS)[2] = (52.0, 11.0, 3.0)
    hook = a_draft()
    add(alice, hook, a_picture(800, 600, exif=exif, comment=b"made at home"))
    photo = the_photo(hook)
    assert (photo.width, photo.height) == (600, 800)
    for width in photo.widths:
        with default_storage.open(photo.path(width)) as file:
            content = file.read()
        assert not Image.open(io.BytesIO(content)).getexif()
        assert b"alice" not in content
        assert b"made at home" not in content


def bomb(side=30_000) -> bytes:
    """A PNG that says it is so many pixels square; what it holds is never decoded."""
    picture = bytearray(a_picture(100, 100, "PNG"))
    import struct
    import zlib

    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    picture[16:29] = header
    picture[29:33] = struct.pack(">I", zlib.crc32(b"IHDR" + header))
    return bytes(picture)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"GIF89a and then nothing", "not a picture that can be read"),
        (
            b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
            "not a picture that can",
        ),
        (b"%PDF-1.7 a card", "not a picture that can be read"),
        (a_picture()[:3000], "damaged"),
        (a_picture(kind="PNG")[:2000], "damaged"),
        (bomb(), "at most 50 million are taken"),
        (bomb(9_000), "9000 × 9000 pixels"),
        (a_picture(20, 20), "only 20 × 20 pixels"),
        (a_picture(300, 300, "GIF"), "not a picture that can be read"),
        (a_picture(300, 300, "TIFF"), "not a picture that can be read"),
    ],
    ids=[
        "empty",
        "fake",
        "svg",
        "pdf",
        "broken off",
        "broken off png",
        "bomb",
        "large",
        "tiny",
        "gif",
        "tiff",
    ],
)
def test_what_is_no_photo_is_refused_with_the_reason(alice, content, said):
    hook = a_draft()
    response = add(alice, hook, content)
    assert response.status_code == 422
    assert said in words(response)
    assert 'value="The end, drawn out."' in response.content.decode()
    assert not hook.photos.exists()
    assert "photos" not in stored(hook, "s2")


def test_file_of_fifty_megabytes_is_refused_with_the_limit(alice):
    hook = a_draft()
    response = add(alice, hook, a_picture() + b"\0" * 50_000_000)
    assert response.status_code == 422
    assert "at most 20 MB are taken" in words(response)


def test_photo_needs_words_for_who_cannot_see_it(alice):
    hook = a_draft()
    response = add(alice, hook, a_picture(), alt="")
    assert response.status_code == 422
    assert not hook.photos.exists()


def test_same_photo_twice_at_a_step_is_refused(alice):
    hook = a_draft()
    add(alice, hook, a_picture())
    response = add(alice, hook, a_picture())
    assert response.status_code == 422
    assert "at the step already" in words(response)


def test_words_are_changed_and_the_photo_removed_and_brought_back(alice):
    hook = a_draft()
    add(alice, hook, a_picture())
    photo = the_photo(hook)
    at = reverse("procedures:edit_photo", args=[hook.slug, "bar", "s2", photo.digest])
    alice.post(at, {"alt": "Another look", "caption": ""})
    assert stored(hook, "s2")["photos"][0]["alt"] == "Another look"
    alice.post(at, {"remove": "1"})
    assert "photos" not in stored(hook, "s2")
    alice.post(reverse("procedures:undo", args=[hook.slug]))
    assert stored(hook, "s2")["photos"][0]["alt"] == "Another look"
    assert alice.get(address(hook)).status_code == 200


def test_photo_of_a_draft_is_the_owners_alone(alice, charlie, client):
    hook = a_draft()
    add(alice, hook, a_picture())
    mine = alice.get(address(hook))
    assert mine.status_code == 200
    assert mine["Content-Type"] == "image/jpeg"
    assert "immutable" in mine["Cache-Control"]
    assert "private" in mine["Cache-Control"]
    assert charlie.get(address(hook)).status_code == 404
    assert client.get(address(hook)).status_code == 404


def test_photo_is_public_only_when_a_revision_shows_it(alice, client):
    hook = published()
    add(alice, hook, a_picture())
    assert client.get(address(hook)).status_code == 404
    actions.publish(procedure=hook, by=alice.user)
    assert client.get(address(hook)).status_code == 200
    assert client.get(address(hook, 481)).status_code == 404


def test_deleting_a_procedure_deletes_the_files_that_are_nobody_elses(
    alice, django_capture_on_commit_callbacks
):
    hook, twin = a_draft(), a_draft()
    for one in (hook, twin):
        add(alice, one, a_picture())
    path = the_photo(hook).path(480)
    for one, left in ((hook, True), (twin, False)):
        with django_capture_on_commit_callbacks(execute=True):
            actions.delete_procedure(procedure=one, by=alice.user)
        assert default_storage.exists(path) is left
