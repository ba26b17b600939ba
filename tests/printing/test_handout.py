"""The class handout: what it adds up, what it holds, who may make it, and what it refuses."""

import re

import pytest

from calculators.wording import INCH, METRIC
from procedures.printing import layout
from procedures.printing.course import is_shared, run_length, tool_names
from procedures.printing.trade_words import TRADE_WORDS, words_in
from tests.integration.showing import a_draft, a_hook, person, published, retitled
from tests.printing.reading import overflowing, pdf_of, text_of
from tests.unit.engine.documents import a_document, a_part, drawn_out

pytestmark = pytest.mark.django_db

CLASS = "course=Hooks&teacher=Ida+Farrow&date=5+March&place=Wendle+Lane&students=8&spare=1&kerf=2"


def made(client, *procedures, query: str = CLASS):
    ticked = "&".join(f"p={one.slug}" for one in procedures)
    return client.get(f"/handout.pdf?{ticked}&{query}")


def a_ring():
    stored = a_document(
        a_part(drawn_out(side=16, heats=2, on="ring"), key="ring", length=250), title="A ring"
    )
    stored["parts"][0]["quantity"] = 3
    return stored


def test_it_holds_all_that_a_class_needs(client):
    text = text_of(pdf_of(made(client, published(), published(a_ring()))))
    for said in (
        "Hooks",
        "Ida Farrow",
        "5 March",
        "Wendle Lane",
        "8, and 1 spare set",
        "Contents",
        "Material to cut",
        "Tools",
        "Safety",
        "Heats",
        "Words",
        "1 A hook",
        "2 A ring",
        "hammer (1, 2)",
        "flat-jaw tongs (1)",
        "1000–1200 °C",
        "Draw out (1, 2)",
        "Centre punch. A pointed punch.",
        "hearing protection",
    ):
        assert said in text, said


def test_material_is_for_all_students_with_saw_cuts(client):
    """□20: 9 × (300 + 2) + 27 × (250 + 2) = 9522 mm; 9 × 300 + 27 × 250 = 9450 mm × 3.14 kg/m = 29.67 kg."""
    text = text_of(pdf_of(made(client, published(), published(a_ring()))))
    assert "9.6 m, 29.67 kg" in text
    assert re.search(r"300 mm 9\b", text)
    assert re.search(r"250 mm 27\b", text)


def test_spare_sets_left_empty_are_one_for_ten_students(client):
    query = CLASS.replace("spare=1", "spare=").replace("students=8", "students=11")
    assert "11, and 2 spare sets" in text_of(pdf_of(made(client, published(), query=query)))


def test_bar_is_bought_by_the_tenth_of_a_metre_and_never_too_short():
    assert [run_length(mm, METRIC) for mm in (100, 101, 2400.0000000001)] == [
        "0.1\u202fm",
        "0.2\u202fm",
        "2.4\u202fm",
    ]
    assert run_length(9144, INCH) == INCH.length(9144)


def test_cards_follow_in_the_order_ticked_and_start_a_page(client):
    first, second = published(a_ring()), published()
    document = pdf_of(made(client, first, second))
    pages = [text_of(document, number) for number in range(len(document))]
    ring = next(n for n, text in enumerate(pages) if text.startswith("A ring"))
    hook = next(n for n, text in enumerate(pages) if text.startswith("A hook"))
    assert 0 < ring < hook
    assert re.search(rf"1 A ring[. ]+{ring + 1} 2 A hook[. ]+{hook + 1}\b", pages[0])


def test_bookmarks_lead_to_every_part(client):
    document = pdf_of(made(client, published(), published(a_ring())))
    marks = [(one.level, one.get_title()) for one in document.get_toc()]
    assert marks[0] == (0, "Hooks")
    assert (1, "Safety") in marks
    assert (1, "A ring") in marks
    assert (3, "1 Draw out") in marks


def test_every_page_is_numbered_and_nothing_overflows(client):
    document = pdf_of(made(client, published(), published(a_ring()), query=CLASS + "&size=A5"))
    for number in range(len(document)):
        assert f"page {number + 1} of {len(document)}" in text_of(document, number)
    assert overflowing(document) == []


def test_own_draft_goes_in_and_a_strangers_does_not(client):
    draft = a_draft(a_hook(title="My draft"))
    response = made(client, draft)
    assert response.status_code == 400
    assert "My draft" not in response.content.decode()
    client.force_login(person("bob"))
    assert made(client, draft).status_code == 400
    client.force_login(person("alice"))
    assert "Draft" in text_of(pdf_of(made(client, draft)))


def test_what_is_published_goes_in_not_the_draft(client):
    procedure = published()
    retitled(procedure, "Changed since")
    assert "Changed since" not in text_of(pdf_of(made(client, procedure)))


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("", "No procedure is ticked"),
        ("p=nothing&students=8", "There is no procedure nothing here"),
        ("&".join(f"p=a-{n}" for n in range(40)), "40 procedures are ticked; a handout holds at most 20"),
        ("p=a-hook&students=0", "greater than or equal to 1"),
        ("p=a-hook&students=many", "whole number"),
        ("p=a-hook&students=100000", "less than or equal to 100"),
        ("p=a-hook&spare=-1", "greater than or equal to 0"),
        ("p=a-hook&kerf=40", "No saw cuts 40 mm wide"),
        ("p=a-hook&kerf=wide", "wide"),
        ("p=a-hook&size=A3", "There is no paper"),
        ("p=a-hook&course=" + "x" * 300, "at most 200 characters"),
        ("p=a-hook&course=%00", "Null characters"),
    ],
)
def test_bad_input_is_refused_in_words(client, query, said):
    published()
    response = client.get(f"/handout.pdf?{query}")
    assert response.status_code == 400
    assert said in response.content.decode()


def test_too_many_steps_are_refused_in_words(client):
    long = [published(a_document(a_part(*[drawn_out(side=19.9)] * 130), title=f"Long {n}")) for n in (1, 2)]
    response = made(client, *long)
    assert response.status_code == 400
    assert "260 steps together; a handout holds at most 250" in response.content.decode()


def test_page_offers_public_and_own_procedures(client):
    published(a_hook(title="Public hook"))
    a_draft(a_hook(title="Hidden hook"), owner="bob")
    html = client.get("/handout/").content.decode()
    assert "Public hook" in html
    assert "Hidden hook" not in html
    client.force_login(person("bob"))
    assert "Hidden hook, by bob (draft)" in client.get("/handout/").content.decode()


def test_what_is_ticked_stays_ticked_while_another_is_searched_for(client):
    hook, ring = published(), published(a_ring())
    html = client.get(f"/handout/?p={hook.slug}&q=ring&students=12&course=Mine").content.decode()
    assert re.search(rf'value="{hook.slug}"[^>]* checked', html)
    assert re.search(rf'value="{ring.slug}"[^>]*>', html)
    assert 'value="12"' in html
    assert 'value="Mine"' in html


def test_handout_asked_for_again_comes_from_where_it_is_kept(client, monkeypatch):
    procedure = published()
    first = made(client, procedure).content
    monkeypatch.setattr(layout, "_laid_out", lambda *_: pytest.fail("laid out anew"))
    assert made(client, procedure).content == first


def test_only_words_that_occur_are_explained():
    assert words_in(["Cut it on the hardy; two fullers."]) == {
        "fuller": TRADE_WORDS["fuller"],
        "hardy": TRADE_WORDS["hardy"],
    }
    assert words_in(["hardened, refuller, scaled"]) == {}


@pytest.mark.parametrize(
    ("tool", "counted"),
    [
        ("hammer", ["hammer"]),
        ("hammer and anvil edge, half-face blows", ["hammer", "anvil"]),
        ("anvil, far edge", ["anvil"]),
        ("anvil horn, bending fork or vice", ["anvil"]),
        ("hammer, or a coarse file and a vice", ["hammer"]),
        ("set hammer", ["set hammer"]),
        ("vice or anvil edge", ["vice or anvil edge"]),
        ("hot punch", ["hot punch"]),
    ],
)
def test_tools_of_one_kind_are_counted_together(tool, counted):
    assert tool_names(tool) == counted


def test_what_a_class_shares_is_counted_once():
    assert is_shared("quench tank with a lid")
    assert is_shared("saw or shear for cold cuts")
    assert not is_shared("sawn block")
    assert not is_shared("hammer")


@pytest.mark.parametrize(("more", "each"), [("", 8), ("&at_once=4", 4), ("&at_once=90", 8)])
def test_every_tool_is_counted_for_those_who_forge_at_once(client, more, each):
    text = text_of(pdf_of(made(client, published(), query=CLASS + more)))
    assert re.search(rf"with {each} forging at once", text)
    assert re.search(rf"{each} hammer \(1\)", text)
    assert len(re.findall(r"\d hammer \(", text)) == 1


def test_a_class_forging_at_once_is_at_least_one(client):
    assert made(client, published(), query=CLASS + "&at_once=0").status_code == 400


def test_emoji_in_names_are_told_in_words(client):
    stored = a_hook()
    stored["title"] = "Hook \N{FIRE} for Ida"
    text = text_of(pdf_of(made(client, published(stored))))
    assert "Hook (fire) for Ida" in text
