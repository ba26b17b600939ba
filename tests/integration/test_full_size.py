"""The page of patterns at full size, and the files it gives."""

import io
import re

import ezdxf
import pytest

from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out
from tests.unit.full_size.laying import bent, marked

from .showing import a_draft, published, retitled

pytestmark = pytest.mark.django_db


def a_bracket(**more):
    return published(a_document(a_part(marked(40, 350), bent(), length=400), **more))


def page_of(client, address: str, status: int = 200) -> str:
    response = client.get(address)
    assert response.status_code == status
    return response.content.decode()


def ticked(html: str) -> list[str]:
    return re.findall(r'name="print" value="([^"]+)" checked', html)


def offered(html: str) -> list[str]:
    return re.findall(r'name="print" value="([^"]+)"', html)


def test_page_offers_what_there_is_and_ticks_the_usual(client):
    html = page_of(client, f"/p/{a_bracket().slug}/full-size/")
    assert offered(html) == ["bar:strip", "bar:bend-1", "bar:whole-edge", "bar:whole-plan"]
    assert ticked(html) == ["bar:strip", "bar:bend-1"]
    assert "What is ticked takes <b>2 sheets of A4 portrait</b>" in html or "sheet of A4" in html


def test_reading_printing_and_the_bench_lead_there(client, alice):
    procedure = a_bracket()
    address = f'href="/p/{procedure.slug}/full-size/'
    assert address in page_of(client, f"/p/{procedure.slug}/")
    assert address in page_of(client, f"/p/{procedure.slug}/print/")
    assert address in page_of(alice, f"/p/{procedure.slug}/edit/")


def test_page_keeps_what_was_ticked_and_chosen(client):
    asked = "?ticked=&paper=A3&strips=joined&after-bar=1&print=bar:strip"
    html = page_of(client, f"/p/{a_bracket().slug}/full-size/{asked}")
    assert offered(html) == ["bar:strip", "bar:whole-edge", "bar:whole-plan"]
    assert ticked(html) == ["bar:strip"]
    assert '<option value="A3" selected>' in html
    assert '<option value="joined" selected>' in html
    assert '<option value="1" selected>' in html


def test_patterns_gone_at_another_step_are_left_out_of_the_page_and_refused_in_print(client):
    procedure = a_bracket()
    asked = "?ticked=&after-bar=1&print=bar:bend-1"
    assert "Nothing is ticked." in page_of(client, f"/p/{procedure.slug}/full-size/{asked}")
    html = page_of(client, f"/p/{procedure.slug}/full-size/full-size.pdf{asked}", 400)
    assert "has no &#x27;bend-1&#x27;; it has strip, whole-edge, whole-plan." in html


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("?paper=A5", "There is no paper &#x27;A5&#x27; here; choose A4, A3, Letter, Tabloid."),
        ("?paper=" + "9" * 400, "There is no paper &#x27;9999"),
        ("?strips=rolled", "choose stacked, joined."),
        ("?after-bar=7", "Bar has steps 0 to 2 to choose from, not 7."),
        ("?after-bar=-1", "A step is asked for by its number, not &#x27;-1&#x27;."),
        ("?after-bar=%C2%B2", "A step is asked for by its number"),
    ],
)
def test_what_there_is_not_is_said_in_words(client, asked, said):
    procedure = a_bracket()
    for address in ("", "full-size.pdf"):
        assert said in page_of(client, f"/p/{procedure.slug}/full-size/{address}{asked}", 400)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("?ticked=", "Nothing is chosen: tick what to print."),
        ("?print=other:strip", "There is no part &#x27;other&#x27; in this procedure."),
        ("?print=bar", "has no &#x27;&#x27;"),
    ],
)
def test_print_of_nothing_is_refused(client, asked, said):
    assert said in page_of(client, f"/p/{a_bracket().slug}/full-size/full-size.pdf{asked}", 400)


def test_files_are_what_they_say(client):
    base = f"/p/{a_bracket().slug}/full-size/bar"
    svg = client.get(f"{base}/bend-1.svg")
    assert svg["Content-Type"] == "image/svg+xml"
    assert svg.content.startswith(b"<svg")
    dxf = client.get(f"{base}/strip.dxf")
    assert dxf["Content-Type"] == "image/vnd.dxf"
    assert dxf["Content-Disposition"].endswith('-bar-strip.dxf"')
    assert ezdxf.read(io.StringIO(dxf.content.decode())).modelspace().query("CIRCLE")


@pytest.mark.parametrize(
    "name",
    [
        "bar/bend-1.svg?after=0",
        "bar/none.svg",
        "none/strip.dxf",
        "bar/strip.svg?after=x",
        "bar/strip.dxf?after=9",
    ],
)
def test_file_that_is_not_there_is_not_found(client, name):
    assert client.get(f"/p/{a_bracket().slug}/full-size/{name}").status_code == 404


def test_draft_is_its_owners(client, charlie, alice):
    draft = a_draft()
    for name in ("", "full-size.pdf", "bar/strip.svg", "bar/strip.dxf"):
        address = f"/p/{draft.slug}/full-size/{name}"
        assert client.get(address).status_code == 404
        assert charlie.get(address).status_code == 404
        assert alice.get(address).status_code == 200


def test_draft_of_what_is_public_is_kept_to(alice):
    procedure = published()
    retitled(procedure, "Another title")
    html = page_of(alice, f"/p/{procedure.slug}/full-size/?draft")
    assert "Another title" in html
    assert '<input type="hidden" name="draft" value="">' in html
    assert "Another title" not in page_of(alice, f"/p/{procedure.slug}/full-size/")


def test_nominal_and_with_scale_are_told_apart(client):
    late = a_step("cut_off", at={"on": "bar", "datum": "end", "offset": 20}, heats=1)
    procedure = published(a_document(a_part(drawn_out(heats=2), late)))
    base = f"/p/{procedure.slug}/full-size/"
    assert "with scale" in page_of(client, base)
    assert '<input type="hidden" name="view" value="nominal">' in page_of(client, f"{base}?view=nominal")
    first = client.get(f"{base}bar/strip.svg").content
    assert client.get(f"{base}bar/strip.svg?view=nominal").content != first


def test_part_that_is_stopped_says_so(alice):
    impossible = a_step("cut_off", at={"on": "bar", "datum": "start", "offset": 9_000})
    draft = a_draft(a_document(a_part(marked(50), impossible)))
    html = page_of(alice, f"/p/{draft.slug}/full-size/")
    assert "A step stops the work on this part" in html
    assert "bar:strip" in offered(html)


def test_typed_markup_stays_words(client):
    procedure = a_bracket(title="<b>Bold</b> & co")
    assert "<b>Bold" not in page_of(client, f"/p/{procedure.slug}/full-size/")
