"""What a screen reader finds in a print: PDF/UA as far as the print engine goes, read with pikepdf."""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import pairwise

import pikepdf
import pytest

from tests.integration.showing import a_hook, published

pytestmark = pytest.mark.django_db


def opened(client, address: str) -> pikepdf.Pdf:
    response = client.get(address)
    assert response.status_code == 200
    return pikepdf.open(io.BytesIO(response.content))


@pytest.fixture(params=["card.pdf", "card.pdf?hand=left&size=A5", "handout"])
def print_(request, client):
    slug = published(a_hook(title="A hook & more")).slug
    address = f"/handout.pdf?p={slug}&course=A+hook+%26+more" if request.param == "handout" else None
    return opened(client, address or f"/p/{slug}/{request.param}")


def elements(one: pikepdf.Object) -> Iterator[pikepdf.Dictionary]:
    """Every element of a structure tree, in reading order."""
    if isinstance(one, pikepdf.Array):
        for child in one:
            yield from elements(child)
    elif isinstance(one, pikepdf.Dictionary) and "/S" in one:
        yield one
        yield from elements(one.get("/K", pikepdf.Array()))


def tree(pdf: pikepdf.Pdf) -> list[pikepdf.Dictionary]:
    return list(elements(pdf.Root.StructTreeRoot.K))


def test_it_is_tagged_and_says_it_is_pdf_ua(print_):
    assert print_.Root.MarkInfo.Marked
    with print_.open_metadata() as said:
        assert said["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"


def test_it_has_a_language_and_shows_its_title(print_):
    assert str(print_.Root.Lang) == "en-GB"
    assert print_.Root.ViewerPreferences.DisplayDocTitle
    assert str(print_.docinfo["/Title"]).startswith("A hook & more")


def test_every_figure_has_its_text(print_):
    figures = [one for one in tree(print_) if one.S == "/Figure"]
    assert len(figures) >= 3
    for figure in figures:
        assert len(str(figure.Alt)) > 10
    said = " ".join(str(one.Alt) for one in figures)
    assert "QR code to http" in said
    assert "mark-out of the raw bar" in said
    assert "Step 2, Draw out" in said


def test_headings_begin_at_one_and_leave_no_level_out(print_):
    levels = [int(str(one.S)[2:]) for one in tree(print_) if str(one.S)[1:] in {"H1", "H2", "H3", "H4"}]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_tables_have_heads(print_):
    kinds = [str(one.S) for one in tree(print_)]
    assert kinds.count("/Table") >= 1
    assert "/THead" in kinds
    assert "/TH" in kinds


def test_bookmarks_name_the_steps(print_):
    def titles(outline) -> Iterator[str]:
        for one in outline:
            yield one.title
            yield from titles(one.children)

    with print_.open_outline() as outline:
        found = list(titles(outline.root))
    assert any(one.startswith("A hook & more") for one in found)
    assert "2 Draw out" in found


def test_a_steps_heading_is_read_before_its_drawing(client):
    pdf = opened(client, f"/p/{published().slug}/card.pdf")
    steps = [one for one in tree(pdf) if one.S == "/Art"]
    assert len(steps) == 2
    for step in steps:
        kinds = [str(one.S) for one in elements(step)]
        assert kinds.count("/H3") == 1
        assert kinds.index("/H3") < kinds.index("/Figure")
