"""Zips that are not what they should be: each is refused in words, and nothing is left of it."""

import hashlib
import io
import json
import struct
import zipfile

import pytest
from django.core.files.storage import default_storage
from PIL import Image

from procedures.exchange import layout
from procedures.models import Edit, Photo, Procedure

from .authoring import words
from .showing import a_draft
from .test_packages import a_picture, package_of, take_in, told_anew, with_photo, zipped

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def files(alice) -> dict[str, bytes]:
    """What is in a package of alice's hook, which is deleted again."""
    hook = a_draft()
    with_photo(hook)
    found = package_of(alice, hook)
    Procedure.objects.all().delete()
    return found


def refused(client, content, said):
    """Nothing is taken in: no row, no file, and the reason is beside the field."""
    before = kept_files()
    response = take_in(client, content)
    assert response.status_code == 422
    assert said in words(response).replace("&quot;", '"').replace("&#x27;", "'"), words(response)
    assert not Procedure.objects.exists()
    assert not Edit.objects.exists()
    assert not Photo.objects.exists()
    assert kept_files() == before


def kept_files() -> list[str]:
    folders, found = ["photos"], []
    while folders:
        folder = folders.pop()
        if default_storage.exists(folder):
            inner, names = default_storage.listdir(folder)
            folders += [f"{folder}/{one}" for one in inner]
            found += [f"{folder}/{one}" for one in names]
    return sorted(found)


def with_entries(files, *entries) -> bytes:
    """The package with more entries, each a ZipInfo and its content."""
    held = io.BytesIO(zipped(files))
    with zipfile.ZipFile(held, "a", zipfile.ZIP_DEFLATED) as archive:
        for info, content in entries:
            archive.writestr(info, content)
    return held.getvalue()


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd",
        "photos/../../out.jpg",
        "/etc/passwd",
        "C:/windows/out.jpg",
        "photos\\..\\..\\out.jpg",
        "./procedure.json",
    ],
)
def test_name_that_leads_out_of_the_package_is_refused(alice, files, name):
    refused(alice, with_entries(files, (zipfile.ZipInfo(name), b"x")), "leads out of the package")


@pytest.mark.parametrize("name", ["photos/\x07.jpg", "photos/\u202egpj.exe"])
def test_name_with_characters_no_name_has_is_refused(alice, files, name):
    refused(alice, with_entries(files, (zipfile.ZipInfo(name), b"x")), "characters that no name has")


def test_name_too_long_is_refused(alice, files):
    refused(alice, with_entries(files, (zipfile.ZipInfo("a" * 300), b"x")), "longer than 200")


def test_symbolic_link_is_refused(alice, files):
    link = zipfile.ZipInfo("photos/link.jpg")
    link.create_system = 3
    link.external_attr = 0o120777 << 16
    refused(alice, with_entries(files, (link, b"/etc/passwd")), "is a link or a device")


@pytest.mark.parametrize("name", ["procedure.json", "PROCEDURE.json"])
@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_file_that_is_there_twice_is_refused(alice, files, name):
    refused(alice, with_entries(files, (zipfile.ZipInfo(name), b"{}")), "is in it twice")


def test_encrypted_file_is_refused(alice, files):
    content = bytearray(zipped(files))
    for at in range(len(content) - 4):
        if content[at : at + 4] == b"PK\x01\x02":
            content[at + 8] |= 1
    refused(alice, bytes(content), "is encrypted")


def test_other_ways_of_packing_are_refused(alice, files):
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_LZMA) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    refused(alice, held.getvalue(), "use plain zip")


def test_zip_in_a_zip_is_refused(alice, files):
    refused(alice, zipped(files | {"more.zip": zipped({"a": b"a"})}), "is an archive itself")
    hidden = told_anew(files | {"figures.json": zipped({"a": b"a"})})
    refused(alice, zipped(hidden), "is an archive itself")


def test_bomb_is_refused_before_it_is_unpacked(alice, files):
    refused(alice, zipped(files | {"figures.json": b"0" * 30 * layout.MEGA}), "that is a bomb")


def test_bomb_that_lies_about_its_size_is_refused(alice, files):
    bomb = told_anew(files | {"figures.json": b"0" * 30 * layout.MEGA})
    content = bytearray(zipped(bomb))
    real, small = struct.pack("<L", 30 * layout.MEGA), struct.pack("<L", 1000)
    refused(alice, bytes(content).replace(real, small), "is damaged in the zip")


def test_files_over_one_another_are_refused(alice, files):
    content = bytearray(zipped(files))
    places = [at for at in range(len(content) - 4) if content[at : at + 4] == b"PK\x01\x02"]
    content[places[1] + 42 : places[1] + 46] = content[places[0] + 42 : places[0] + 46]
    refused(alice, bytes(content), "lie over one another")


def test_more_than_is_unpacked_at_once_is_refused(alice, files, monkeypatch):
    monkeypatch.setattr(layout, "MOST_UNPACKED", 10_000)
    refused(alice, zipped(files), "It unpacks to")


def test_package_too_large_is_refused(alice, files, monkeypatch):
    monkeypatch.setattr(layout, "LARGEST_PACKAGE", 2000)
    refused(alice, zipped(files), "are taken")


def test_too_many_files_are_refused(alice, files):
    many = {f"photos/{n}.jpg": b"" for n in range(layout.MOST_FILES + 1)}
    refused(alice, zipped(files | many), "at most 5000 are taken")


def test_directory_that_says_it_is_huge_is_refused_before_it_is_read(alice, files):
    content = bytearray(zipped(files))
    end = content.rfind(b"PK\x05\x06")
    content[end + 12 : end + 16] = struct.pack("<L", 100 * layout.MEGA)
    refused(alice, bytes(content), "at most 5000 are taken")


def test_zip_of_the_kind_for_very_large_files_is_refused(alice, files):
    content = zipped(files)
    end = content.rfind(b"PK\x05\x06")
    locator = b"PK\x06\x07" + struct.pack("<LQL", 0, 0, 1)
    refused(alice, content[:end] + locator + content[end:], "very large files")


@pytest.mark.parametrize("keep", [4, 100, 2000])
def test_zip_that_breaks_off_is_refused(alice, files, keep):
    refused(alice, zipped(files)[:keep], "breaks off")


def test_damaged_file_is_refused(alice, files):
    content = bytearray(zipped(files))
    at = content.find(b"figures.json") + len("figures.json") + 20
    content[at] ^= 0xFF
    refused(alice, bytes(content), "is damaged in the zip")


def test_changed_file_is_refused_by_its_digest(alice, files):
    document = json.loads(files["procedure.json"])
    files["procedure.json"] = json.dumps(document | {"title": "Mine"}).encode()
    refused(alice, zipped(files), "its SHA-256 is another")


def test_file_that_the_manifest_does_not_name_is_refused(alice, files):
    refused(alice, zipped(files | {"revisions/1.json": b"{}"}), "not in manifest.json")


def test_file_that_the_manifest_names_and_is_not_there_is_refused(alice, files):
    del files["figures.json"]
    refused(alice, zipped(files), "but not in the zip")


def test_file_that_has_no_place_in_a_package_is_refused(alice, files):
    refused(alice, zipped(told_anew(files | {"run.exe": b"x"})), "has no place in a package")


def test_zip_without_a_manifest_or_procedure_is_refused(alice, files):
    refused(alice, zipped({"holiday.jpg": a_picture()}), "There is no manifest.json in it")
    del files["procedure.json"]
    refused(alice, zipped(told_anew(files)), "There is no procedure.json in it")
    manifest = json.loads(files["manifest.json"]) | {"procedures": [], "files": {}}
    refused(alice, zipped({"manifest.json": json.dumps(manifest).encode()}), "There is no procedure in it")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            {"version": 2},
            "Version 2 is not known here; version 1 is. The fault is at version in manifest.json",
        ),
        ({"format": "another"}, "This is not a forgesite.package"),
        ({"files": []}, "files"),
        ({"files": {"procedure.json": {"sha256": "short"}}}, "SHA-256"),
        ({"procedures": [{"folder": "../", "title": "x"}]}, "A folder has small letters"),
        ({"procedures": [{"folder": "a/", "title": "x"}] * 2}, "a folder of its own"),
        ({"procedures": [{"folder": "", "title": "x", "licence": "WTFPL"}]}, "'WTFPL' is not one of"),
        ({"procedures": [{"folder": "", "title": "x", "revision": -1}]}, "whole number from 1"),
        (
            {"procedures": [{"folder": "", "title": "x", "lineage": [{"title": "y", "revision": 1}] * 13}]},
            "at most 12",
        ),
    ],
)
def test_faulty_manifest_is_refused_with_its_fault(alice, files, change, said):
    manifest = json.loads(files["manifest.json"]) | change
    refused(alice, zipped(files | {"manifest.json": json.dumps(manifest).encode()}), said)


def test_manifest_that_is_no_json_is_refused(alice, files):
    refused(alice, zipped(files | {"manifest.json": b"[" * 5000}), "nested too deep")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            {"version": 99},
            "Version 99 is not known here; version 1 is. The fault is at version in procedure.json",
        ),
        ({"surprise": 1}, "surprise"),
        ({"parts": []}, "at least one part"),
    ],
)
def test_faulty_document_is_refused_with_its_fault(alice, files, change, said):
    document = json.loads(files["procedure.json"]) | change
    refused(alice, zipped(told_anew(files | {"procedure.json": json.dumps(document).encode()})), said)


def test_published_document_that_is_not_finished_is_refused(alice, files):
    document = json.loads(files["procedure.json"])
    document["parts"][0]["steps"][1]["params"] = {}
    changed = told_anew(files | {"procedure.json": json.dumps(document).encode()}, revision=1)
    refused(alice, zipped(changed), "parts/0/steps/1")


def test_too_many_steps_together_are_refused(alice, files, monkeypatch):
    monkeypatch.setattr(layout, "MOST_STEPS", 1)
    refused(alice, zipped(files), "more than 1 steps")


def photo_of(files) -> str:
    return next(name for name in files if name.startswith("photos/"))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"<html>no photo</html>", "not a picture"),
        (b"", "empty"),
        (a_picture((20, 20)), "only 20 × 20 pixels"),
        (a_picture()[:3000], "damaged"),
    ],
)
def test_photo_that_is_none_is_refused_by_its_name(alice, files, content, said):
    name = photo_of(files)
    refused(alice, zipped(told_anew(files | {name: content})), said)


def test_photo_with_too_many_pixels_is_refused(alice, files):
    held = io.BytesIO()
    Image.new("1", (8000, 8000)).save(held, "PNG")
    refused(alice, zipped(told_anew(files | {photo_of(files): held.getvalue()})), "8000 × 8000 pixels")


def test_photo_file_too_large_is_refused(alice, files, monkeypatch):
    monkeypatch.setattr(layout, "LARGEST_PHOTO", layout.MEGA)
    large = hashlib.shake_256(b"large").digest(2 * layout.MEGA)
    refused(alice, zipped(told_anew(files | {photo_of(files): large})), "more than 1 MB")


def test_too_many_photos_are_refused(alice, files, monkeypatch):
    monkeypatch.setattr(layout, "MOST_PHOTOS", 0)
    refused(alice, zipped(files), "1 photos in it; at most 0")


def test_one_faulty_procedure_of_several_takes_in_none(alice, files):
    both = {f"{folder}/{name}": content for folder in ("a", "b") for name, content in files.items()}
    both = {name: one for name, one in both.items() if "manifest" not in name and "README" not in name}
    both["b/procedure.json"] = b"{}"
    entries = [{"folder": "a/", "title": "A"}, {"folder": "b/", "title": "B"}]
    digests = {name: {"sha256": hashlib.sha256(one).hexdigest()} for name, one in both.items()}
    manifest = {"format": layout.FORMAT, "version": 1, "procedures": entries, "files": digests}
    refused(alice, zipped(both | {"manifest.json": json.dumps(manifest).encode()}), "in b/procedure.json")
