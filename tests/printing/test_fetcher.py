"""What printing may fetch: the site's own static files and photos, and nothing else."""

import io

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from PIL import Image

from procedures.printing import layout
from procedures.printing.fetcher import BASE, Refused, SiteFetcher
from procedures.printing.sheets import Sheet


def a_jpeg() -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (90, 60), "#888").save(held, "JPEG")
    return held.getvalue()


def fetched(path: str):
    return SiteFetcher().fetch(BASE + path)


def test_static_file_is_served_with_its_type():
    answer = fetched("static/css/print_card.css")
    assert answer.content_type == "text/css"
    assert b"@page" in answer.read()


def test_stored_photo_is_served():
    default_storage.save("photos/ab/abc-480.jpg", ContentFile(a_jpeg()))
    answer = fetched("photos/ab/abc-480.jpg")
    assert answer.content_type == "image/jpeg"
    assert answer.read() == a_jpeg()


@pytest.mark.parametrize("body", [b"", b"a picture", b"%!PS-Adobe-3.0 EPSF-3.0"])
def test_stored_file_that_is_no_picture_is_refused_and_named(body):
    name = default_storage.save("photos/cd/cde-480.jpg", ContentFile(body))
    fetcher = SiteFetcher()
    with pytest.raises(Refused):
        fetcher.fetch(BASE + name)
    assert fetcher.missing == [f"/{name}"]


def test_an_address_elsewhere_is_not_missed():
    fetcher = SiteFetcher()
    with pytest.raises(Refused):
        fetcher.fetch("https://example.org/a.png")
    assert fetcher.missing == []


@pytest.mark.parametrize(
    "url",
    [
        "file:///etc/passwd",
        "http://127.0.0.1/static/css/print_card.css",
        "http://card.invalid:8000/static/css/print_card.css",
        "http://user@card.invalid/static/css/print_card.css",
        "https://card.invalid/static/css/print_card.css",
        "https://example.org/a.png",
        "ftp://card.invalid/static/a.css",
        "data:text/css,a{}",
        "javascript:alert(1)",
        "//example.org/a.png",
        "",
    ],
)
def test_other_addresses_are_refused(url):
    with pytest.raises(Refused):
        SiteFetcher().fetch(url)


@pytest.mark.parametrize(
    "path",
    [
        "static/../manage.py",
        "static/%2e%2e/manage.py",
        "static/%2e%2e%2f%2e%2e%2fetc/passwd",
        "static//etc/passwd",
        "static/css/nothing.css",
        "static/css",
        "photos/../secrets.env",
        "photos/%2e%2e/secrets.env",
        "photos/ab/nothing.jpg",
        "photos/",
        "accounts/login/",
        "etc/passwd",
    ],
)
def test_paths_outside_and_files_not_there_are_refused(path):
    with pytest.raises(Refused):
        fetched(path)


def test_print_engine_leaves_out_what_is_refused_and_goes_on(caplog):
    html = '<img src="https://example.org/a.png" alt="a"><img src="file:///etc/passwd" alt="b"><p>printed</p>'
    assert layout.pdf_of(html, Sheet()).startswith(b"%PDF-")
    assert "example.org" in caplog.text
