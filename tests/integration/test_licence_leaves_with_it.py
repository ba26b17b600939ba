"""The licence, as SPDX calls it, goes with everything that is taken away of a procedure."""

import io
import json
import zipfile

import ezdxf
import pypdfium2
import pytest
from django.urls import reverse

from procedures.engine.document import LICENCES

from .authoring import words
from .showing import a_hook, published

pytestmark = pytest.mark.django_db
CREDIT = "After a hook by Mara Feld"


@pytest.fixture(params=LICENCES)
def licence(request) -> str:
    return request.param


@pytest.fixture
def hook(licence):
    return published(a_hook(licence=licence, credits=[CREDIT]))


def taken(client, name, *arguments, query="") -> bytes:
    response = client.get(reverse(f"procedures:{name}", args=arguments) + query)
    assert response.status_code == 200
    return b"".join(response.streaming_content) if response.streaming else response.content


def the_pdf(content: bytes) -> tuple[str, str]:
    """What a PDF says of itself, and what stands on it."""
    pdf = pypdfium2.PdfDocument(content)
    try:
        text = " ".join(page.get_textpage().get_text_range() for page in pdf)
        return pdf.get_metadata_dict()["Subject"], " ".join(text.split())
    finally:
        pdf.close()


def test_document_says_its_licence(client, hook, licence):
    assert json.loads(taken(client, "document", hook.slug))["licence"] == licence


def test_document_that_never_said_one_says_the_usual(client):
    document = a_hook()
    assert "licence" not in document
    assert json.loads(taken(client, "document", published(document).slug))["licence"] == "CC-BY-4.0"


def test_package_says_it_in_the_manifest_and_in_words(client, hook, licence):
    with zipfile.ZipFile(io.BytesIO(taken(client, "package", hook.slug))) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        said = archive.read("README.txt").decode()
    assert manifest["procedures"][0]["licence"] == licence
    assert f"{LICENCES[licence]} (SPDX: {licence})" in said
    assert CREDIT in said


def test_pages_and_phone_say_it(client, hook, licence):
    for name, *more in (("read",), ("follow", "bar", 0)):
        page = words(taken(client, name, hook.slug, *more).decode())
        assert f"{LICENCES[licence]} ({licence})" in page


def test_printed_card_says_it_on_paper_and_in_the_file(client, hook, licence):
    told, text = the_pdf(taken(client, "card", hook.slug))
    assert told == f"alice, {CREDIT}. {LICENCES[licence]} ({licence})"
    assert licence in text


def test_handout_says_it_for_each_procedure(client, hook, licence):
    told, text = the_pdf(taken(client, "handout_pdf", query=f"?p={hook.slug}"))
    assert f"A hook: alice, {CREDIT}. {LICENCES[licence]} ({licence})" in told
    assert licence in text


def test_full_size_patterns_say_it(client, hook, licence):
    told, text = the_pdf(taken(client, "full_size_pdf", hook.slug))
    assert licence in told
    assert licence in text
    svg = taken(client, "full_size_svg", hook.slug, "bar", "strip").decode()
    assert f"<desc>alice, {CREDIT}. {LICENCES[licence]} ({licence})</desc>" in svg
    drawing = ezdxf.read(io.StringIO(taken(client, "full_size_dxf", hook.slug, "bar", "strip").decode()))
    assert drawing.header.custom_vars.get("Rights").endswith(f"({licence})")


def test_solids_say_it(client, hook, licence):
    assert f"({licence})".encode() in taken(client, "solid_glb", hook.slug, "bar", 2)
    header = taken(client, "solid_stl", hook.slug, "bar", 2)[:80]
    assert header.startswith(f"STL. {licence}, alice: A hook".encode())


def test_citations_say_it(client, hook, licence):
    assert licence in taken(client, "bibtex", hook.slug, 1).decode()
    assert licence in taken(client, "csl", hook.slug, 1).decode()
