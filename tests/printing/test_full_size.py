"""Full size on paper: what is drawn lies where it should to 0.2 mm, read out of the PDF itself."""

import math
import re
from itertools import pairwise

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from procedures.full_size.paper import OVERLAP, Paper
from procedures.printing import full_size as printing
from tests.integration.showing import a_hook, published
from tests.unit.engine.documents import a_document, a_part
from tests.unit.full_size.laying import bent, marked

from .page_paths import POINT, level, runs, upright, word_boxes

pytestmark = pytest.mark.django_db

TRUE = 0.2  # mm
SIDES = {"A4": (210, 297), "A3": (297, 420), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}


def printed(client, *steps, query: str = "", **bar) -> pypdfium2.PdfDocument:
    """The print of a bar worked so."""
    procedure = published(a_document(a_part(*steps, **bar)))
    response = client.get(f"/p/{procedure.slug}/full-size/full-size.pdf{query}")
    refused = re.findall(r"form-errors__title.>([^<]*)", response.content.decode("latin-1"))
    assert response.status_code == 200, refused
    assert response["Content-Type"] == "application/pdf"
    return pypdfium2.PdfDocument(response.content)


def text_of(page) -> str:
    return page.get_textpage().get_text_range().replace("\u202f", " ").replace("\u00a0", " ")


def bar_edges(page, width: float) -> tuple[float, float]:
    """The upper and lower edge of a bar of this width on a page, from its long level lines."""
    heights = {
        round(a[1], 3)
        for run in runs(page)
        for a, b in pairwise(run)
        if abs(a[1] - b[1]) < 1e-3 and abs(a[0] - b[0]) > 8
    }
    pairs = [(a, b) for a in heights for b in heights if abs(b - a - width) < TRUE]
    assert len(pairs) == 1, heights
    return pairs[0]


@pytest.mark.parametrize("size", SIDES)
def test_paper_has_its_size_and_both_rulers_are_a_hundred_millimetres(client, size):
    document = printed(client, marked(40, 90), bent(), query=f"?paper={size}")
    for page in document:
        sides = sorted(side * POINT for side in page.get_size())
        assert sides == pytest.approx(SIDES[size], abs=0.05)
        assert [b[0] - a[0] for a, b in level(page, 100)] == [pytest.approx(100, abs=0.02)]
        assert any(foot - top == pytest.approx(100, abs=0.02) for _, top, foot in upright(page))


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_inch_reader_gets_a_ruler_of_four_inches_too(client, size):
    client.cookies["units"] = "inch"
    page = printed(client, marked(40), query=f"?paper={size}")[0]
    assert [b[0] - a[0] for a, b in level(page, 101.6)] == [pytest.approx(101.6, abs=0.02)]
    assert "4 in" in text_of(page)


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_marks_lie_on_the_paper_as_far_from_the_datum_as_on_the_bar(client, size):
    places = [20, 47.5, 90, 131]
    page = printed(client, marked(*places), side=16, length=140, query=f"?paper={size}")[0]
    top, foot = bar_edges(page, 16)
    assert foot - top == pytest.approx(16, abs=TRUE)
    ends = [run for run in runs(page) if len(run) in (5, 6) and math.dist(run[0], run[1]) > 130]
    datum, far = min(x for x, _ in ends[0]), max(x for x, _ in ends[0])
    assert far - datum == pytest.approx(140, abs=TRUE)
    ticks = sorted({round(x, 2) for x, a, b in upright(page) if abs(b - top) < 0.01 or abs(a - foot) < 0.01})
    assert [one - datum for one in ticks if datum < one < far] == pytest.approx(places, abs=TRUE)


def seams(page, label_side: str, paper: Paper) -> list[float]:
    """How far across the upright seams of a page lie, by the side they are on."""
    middle = paper.width / 2
    long = [x for x, top, foot in upright(page) if foot - top > 120]
    return [x for x in long if (x < middle) == (label_side == "left")]


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_marks_are_true_over_the_seams_of_sheets_taped_end_to_end(client, size):
    """Lay each sheet's left seam on the right seam of the one before, as its register marks have it."""
    places = [30, 130, 260, 262, 275, 400, 538, 690]
    document = printed(
        client, marked(*places), side=20, length=720, query=f"?paper={size}&strips=joined&print=bar:strip"
    )
    assert len(document) >= 3
    paper = Paper(size, is_wide=True)
    found: set[float] = set()
    datum = None
    shift = 0.0
    for number, page in enumerate(document):
        assert page.get_width() * POINT == pytest.approx(paper.width, abs=0.05)
        top, foot = bar_edges(page, 20)
        if number:
            shift += last - seams(page, "left", paper)[0]  # noqa: F821 - of the sheet before
        if number < len(document) - 1:
            last = seams(page, "right", paper)[0]  # noqa: F841 - for the next
        ticks = [x for x, a, b in upright(page) if abs(b - top) < 0.01 and b - a < 2]
        if datum is None:
            corners = [x for run in runs(page) for x, y in run if abs(y - top) < 0.01 or abs(y - foot) < 0.01]
            datum = min(x for x in corners if x > 40)
        found |= {round(x + shift - datum, 2) for x in ticks}
    for place in places:
        assert min(abs(one - place) for one in found) < TRUE, (place, sorted(found))
    assert all(min(abs(one - place) for place in places) < TRUE for one in found), sorted(found)


def test_register_marks_stand_on_both_sheets_at_the_same_place(client):
    document = printed(client, marked(100), length=500, query="?strips=joined&print=bar:strip")
    paper = Paper("A4", is_wide=True)
    heights = []
    for page, side in ((document[0], "right"), (document[1], "left")):
        (seam,) = seams(page, side, paper)
        crosses = [a[1] for a, b in level(page, 9) if abs((a[0] + b[0]) / 2 - seam) < 0.05]
        heights.append(sorted(crosses))
    assert len(heights[0]) == 2
    assert heights[0] == pytest.approx(heights[1], abs=0.01)
    left, _, right, _ = paper.window
    first, second = seams(document[0], "right", paper)[0], seams(document[1], "left", paper)[0]
    assert (right - first, second - left) == pytest.approx((OVERLAP / 2, OVERLAP / 2), abs=0.01)
    assert "join A1 to A2" in text_of(document[0])
    assert "cut A2 here, join A2 to A1" in text_of(document[1])


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize(("radius", "angle"), [(30, 90), (55, 120)])
def test_bend_on_paper_has_its_radii(client, size, radius, angle):
    """Its centre is the cross of 6 mm; what lies on the inside and outside curve is that far from it."""
    query = f"?paper={size}&print=bar:bend-1"
    page = printed(client, bent(radius=radius, angle=angle), side=12, length=400, query=query)[0]
    crosses = [((a[0] + b[0]) / 2, a[1]) for a, b in level(page, 6)]
    assert len(crosses) == 1
    outline = max(runs(page), key=len)
    away = [math.dist(one, crosses[0]) for one in outline]
    inside = [one for one in away if one < radius + 1]
    outside = [one for one in away if abs(one - radius - 12) < 1]
    assert len(inside) > 20
    assert inside == pytest.approx([radius] * len(inside), abs=TRUE)
    assert sum(abs(one - radius - 12) < 0.02 for one in outside) > 20


def test_ring_over_several_sheets_keeps_its_radius_on_each(client):
    """Three spots of the outer line of a sheet give its radius, wherever the paper cuts it."""
    document = printed(
        client, bent(at=400, radius=120, angle=200), side=12, length=800, query="?print=bar:bend-1"
    )
    assert len(document) > 1
    checked = 0
    for page in document:
        for run in runs(page):
            if len(run) < 60:
                continue
            for index in range(0, len(run) - 40, 20):
                found = circle(run[index], run[index + 20], run[index + 40])
                if 110 < found < 140:
                    nearest = min((120, 126, 132), key=lambda one: abs(one - found))
                    assert found == pytest.approx(nearest, abs=TRUE)
                    checked += 1
    assert checked > 10


def circle(a, b, c) -> float:
    """The radius of the circle through three spots."""
    sides = [math.dist(a, b), math.dist(b, c), math.dist(c, a)]
    twice = abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
    return math.prod(sides) / (2 * twice) if twice > 1e-9 else math.inf


def test_printer_is_asked_not_to_scale_and_the_reader_to_check(client):
    document = printed(client, marked(40))
    assert pdfium.FPDF_VIEWERREF_GetPrintScaling(document.raw) == 0
    for page in document:
        text = " ".join(text_of(page).split())
        assert "Print at 100 % (actual size)" in text
        assert "Paper burns: never lay it on hot metal" in text
        assert f"of {len(document)}" in text
    assert "What is longer than a sheet: stacked, broken at marks." in " ".join(text_of(document[0]).split())


def test_nothing_is_drawn_or_written_off_the_sheet(client):
    name = ("ברזל \N{HAMMER} " * 40)[:200]
    marks = [
        {"name": f"\N{HAMMER}{index} ברזל"[:30], "on": "bar", "datum": "start", "offset": 20.0 * index + 1}
        for index in range(1, 20)
    ]
    stored = a_document(
        a_part({"key": "s1", "operation": "mark_out", "params": {"marks": marks}}, length=900),
        title=name[:120],
    )
    stored["parts"][0]["name"] = name[:60]
    procedure = published(stored)
    for query in ("", "?strips=joined"):
        document = pypdfium2.PdfDocument(
            client.get(f"/p/{procedure.slug}/full-size/full-size.pdf{query}").content
        )
        for page in document:
            width, height = (side * POINT for side in page.get_size())
            for left, top, right, foot in word_boxes(page):
                assert left > 4
                assert top > 4
                assert right < width - 4
                assert foot < height - 4
            for run in runs(page):
                assert all(9 < x < width - 9 and 9 < y < height - 9 for x, y in run)


def test_print_asked_for_again_comes_from_where_it_is_kept(client, monkeypatch):
    procedure = published(a_hook())
    address = f"/p/{procedure.slug}/full-size/full-size.pdf"
    first = client.get(address).content
    monkeypatch.setattr(printing, "full_size_html", lambda *_: pytest.fail("laid out anew"))
    assert client.get(address).content == first


@pytest.mark.parametrize(
    "query", ["?paper=Letter", "?strips=joined", "?print=bar:strip", "?view=nominal", "?after-bar=1"]
)
def test_another_print_is_not_served_in_its_place(client, query):
    procedure = published(a_document(a_part(marked(40, 350), bent(), length=400)))
    address = f"/p/{procedure.slug}/full-size/full-size.pdf"
    assert client.get(address).content != client.get(address + query).content


def test_more_sheets_than_anyone_would_tape_are_refused_in_words(client):
    procedure = published(a_document(a_part(marked(*range(100, 6000, 200)), length=20_000)))
    response = client.get(f"/p/{procedure.slug}/full-size/full-size.pdf?strips=joined&print=bar:strip")
    assert response.status_code == 400
    assert "are too many to tape together. No more than 60 are printed." in response.content.decode()
