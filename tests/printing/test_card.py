"""The shop card: what is on it, on which paper, and that it is made once."""

import re

import pytest
from django.urls import reverse

from procedures.printing import card
from procedures.printing.sheets import SHEETS, SheetError, sheet_of
from tests.integration.showing import a_hook, published
from tests.printing.reading import POINT, printed, text_of
from tests.unit.engine.documents import a_document, a_part, drawn_out

pytestmark = pytest.mark.django_db


def test_card_says_all_that_the_bench_needs(client):
    text = text_of(printed(client, published()))
    for said in (
        "A hook",
        "Revision 1",
        "alice",
        "Creative Commons Attribution 4.0",
        "Cut list",
        "300 mm",
        "Mark-out of the raw bar",
        "240 mm",
        "Mark out",
        "Draw out",
        "flat-jaw tongs",
        "yellow",
        "1000–1200 °C",
        "Nominal: worked part 166.7 mm, whole 406.7 mm",
        "159.9",
        "Measured",
        "Scale flies: wear eye protection.",
        "page 1 of",
    ):
        assert said in text, said


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda one: one.title)
def test_pages_have_the_size_asked_for(client, sheet):
    known = {"A4": (210, 297), "A5": (148, 210), "Letter": (215.9, 279.4), "Half Letter": (139.7, 215.9)}
    sides = known[sheet.size]
    expected = sides if sheet.orientation == "portrait" else sides[::-1]
    for page in printed(client, published(), f"?{sheet.query}"):
        assert [side * POINT for side in page.get_size()] == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize(
    "query", ["?size=A3", "?size=A4&orientation=sideways", "?size=%00", "?size=" + "9" * 500]
)
def test_other_paper_is_refused_with_what_there_is(client, query):
    response = client.get(f"/p/{published().slug}/card.pdf{query}")
    assert response.status_code == 400
    html = response.content.decode()
    assert "There is no" in html
    assert "Half Letter" in html


def test_paper_is_named_in_any_case():
    assert sheet_of("a5", " Portrait ").title == "A5 portrait"
    assert sheet_of("", "").title == "A4 landscape"
    with pytest.raises(SheetError, match="choose A4, A5, Letter"):
        sheet_of("foolscap", "")


def test_no_step_is_torn_across_two_pages(client):
    steps = [drawn_out(side=19 - number / 2, heats=1) for number in range(14)]
    document = printed(client, published(a_document(a_part(*steps))), "?size=A5")
    assert len(document) > 3
    for number in range(len(document)):
        text = text_of(document, number)
        assert text.count("Draw the last 60 mm") == text.count("Measured")


def test_every_page_is_numbered_and_titled(client):
    steps = [drawn_out(side=19.9 - number / 10) for number in range(12)]
    document = printed(client, published(a_document(a_part(*steps), title="Long work")))
    assert len(document) > 1
    for number in range(len(document)):
        text = text_of(document, number)
        assert f"page {number + 1} of {len(document)}" in text
        assert "Long work" in text


def test_card_comes_in_inches_and_nominal(client):
    client.cookies["units"] = "inch"
    text = text_of(printed(client, published(), "?view=nominal"))
    assert " mm" not in text.split("page 1 of")[0]
    assert "Nominal sizes" in text


def test_stop_and_caution_are_printed_in_words(client):
    thin = drawn_out(side=8, heats=1)
    assert "Caution" in text_of(printed(client, published(a_document(a_part(thin)))))


def test_typed_markup_is_printed_as_typed(client):
    text = text_of(printed(client, published(a_hook(title="<b>Bold</b> & co"))))
    assert "<b>Bold</b> & co" in text


def test_card_asked_for_again_comes_from_where_it_is_kept(client, monkeypatch):
    procedure = published()
    address = f"/p/{procedure.slug}/card.pdf"
    first = client.get(address).content
    monkeypatch.setattr(card, "printed", lambda *_: pytest.fail("laid out anew"))
    monkeypatch.setattr(card, "card_html", lambda *_: pytest.fail("drawn anew"))
    assert client.get(address).content == first


@pytest.mark.parametrize("query", ["?size=A5", "?orientation=portrait", "?view=nominal"])
def test_another_card_is_not_served_in_its_place(client, query):
    procedure = published()
    assert (
        client.get(f"/p/{procedure.slug}/card.pdf").content
        != client.get(f"/p/{procedure.slug}/card.pdf{query}").content
    )


def test_code_leads_to_the_follow_page(client, monkeypatch):
    seen = []
    monkeypatch.setattr(card, "qr_svg", lambda url: seen.append(url) or "")
    procedure = published()
    client.get(f"/p/{procedure.slug}/card.pdf")
    assert seen == [f"http://testserver{reverse('procedures:follow_start', args=[procedure.slug])}"]


def test_code_is_drawn_to_its_size():
    svg = card.qr_svg("https://example.org/p/a-hook/follow/")
    assert svg.startswith("<svg")
    assert float(re.search(r'width="([\d.]+)mm"', svg)[1]) == pytest.approx(card.QR_SIDE, abs=0.01)


def test_file_is_named_for_saving(client):
    procedure = published()
    said = client.get(f"/p/{procedure.slug}/card.pdf?size=A5")["Content-Disposition"]
    assert said == f'inline; filename="{procedure.slug}-revision-1-a5.pdf"'
