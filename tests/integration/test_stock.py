"""Stock and cutting list asked of the site: in the address, in both units, into the draft, and badly."""

import csv
import io
import re
from urllib.parse import urlencode

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay_part
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .showing import a_draft, published

pytestmark = pytest.mark.django_db

ASKED = {"part": "bar", "want": "length:bar", "size": "500", "find": "length"}
BAD = [
    "nan",
    "inf",
    "-5",
    "0",
    "1e999",
    "9" * 60,
    "a bar",
    "1; DROP TABLE x",
    "<script>alert(1)</script>",
    "🔨",
]


def text_of(response):
    return response.content.decode().replace("\u202f", " ")


def ask(client, procedure, **more):
    return client.get(f"/p/{procedure.slug}/stock/", {**ASKED, **more})


def test_bare_page_asks_and_answers_nothing(client):
    html = text_of(client.get(f"/p/{published().slug}/stock/"))
    assert "What must come out" in html
    assert "What changes at every step" not in html


def test_answer_is_all_in_the_address(client):
    hook = published()
    html = text_of(ask(client, hook))
    assert "For bar 500 mm long" in html
    assert "Much scale" in html
    assert "mark A, 60 mm from the end of bar" in html
    assert "Mark-out of the bar" in html
    assert "<svg" in html
    query = urlencode(ASKED).replace("&", "&amp;")
    assert f"/p/{hook.slug}/stock/strip.pdf?{query}" in html


def test_answer_comes_in_inches_too(client):
    hook = published()
    client.cookies["units"] = "inch"
    html = text_of(ask(client, hook, size="20 in"))
    assert "For bar 20″ long" in html or "For bar 20 in long" in html or "For bar 1′ 8″ long" in html
    assert "US merchant bar" in html


def test_strip_of_the_new_bar_is_printed_at_full_size(client):
    answer = client.get(f"/p/{published().slug}/stock/strip.pdf", ASKED)
    assert answer["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_strip_of_no_stock_is_not_there(client):
    hook = published()
    assert client.get(f"/p/{hook.slug}/stock/strip.pdf").status_code == 404
    assert client.get(f"/p/{hook.slug}/stock/strip.pdf", {**ASKED, "size": "10"}).status_code == 404


def test_what_no_stock_reaches_names_the_step(client):
    html = text_of(ask(client, published(), size="120"))
    assert "finding--stop" in html
    assert "step 1, mark out" in html


def test_sizes_that_fight_are_told(client):
    html = text_of(ask(client, published(), also="mass:", also_size="3 kg"))
    assert "These two fight" in html
    assert "What ties them is step 2, draw out" in html


def test_sizes_that_agree_do_not_fight(client):
    hook = published()
    part = replay_part(read(hook.latest.document), "bar").final
    length, mass = part.root.length, part.mass
    html = text_of(ask(client, hook, size=f"{length:.4f} mm", also="mass:", also_size=f"{mass:.7f} kg"))
    assert "These two fight" not in html


def test_another_bar_tells_what_changes_at_every_step(client):
    html = text_of(ask(client, published(), bar="19.6 x 20.4"))
    assert "What changes at every step" in html
    assert "2, draw out" in html


@pytest.mark.parametrize("field", ["size", "also_size", "bar"])
@pytest.mark.parametrize("text", BAD)
def test_bad_size_is_refused_beside_its_field(client, field, text):
    answer = ask(client, published(), **{"also": "mass:", "also_size": "1 kg", field: text})
    html = answer.content.decode()
    assert answer.status_code == 422
    assert "field--wrong" in html
    assert "<script>alert(1)</script>" not in html


@pytest.mark.parametrize("field", ["want", "find", "keep", "also"])
def test_choice_that_is_not_there_is_refused(client, field):
    assert ask(client, published(), **{field: "'; --"}).status_code == 422


def test_part_that_is_not_there_is_not_found(client):
    assert ask(client, published(), part="nothing").status_code == 404


def test_draft_is_worked_out_for_its_owner_only(client, alice):
    draft = a_draft()
    assert ask(client, draft).status_code == 404
    assert ask(alice, draft).status_code == 200


# -- into the draft ----------------------------------------------------------------------------------


def base_of(html):
    return html.partition('name="base" value="')[2].partition('"')[0]


def test_owner_puts_the_stock_into_the_draft_and_undoes_it(alice):
    draft = a_draft()
    before = draft.document
    base = base_of(ask(alice, draft).content.decode())
    answer = alice.post(f"/p/{draft.slug}/stock/apply/", {**ASKED, "base": base})
    assert answer.status_code == 302
    draft.refresh_from_db()
    assert replay_part(read(draft.document), "bar").final.root.length == pytest.approx(500, abs=1e-6)
    assert draft.document["parts"][0]["steps"] == before["parts"][0]["steps"]
    alice.post(f"/p/{draft.slug}/undo/")
    draft.refresh_from_db()
    assert draft.document == before


def test_stock_is_not_put_over_an_edit_made_since(alice):
    draft = a_draft()
    before = draft.document
    answer = alice.post(f"/p/{draft.slug}/stock/apply/", {**ASKED, "base": "of another day"}, follow=True)
    assert "this part was edited since" in text_of(answer)
    draft.refresh_from_db()
    assert draft.document == before


def test_nobody_else_puts_stock_into_a_draft(client, charlie):
    hook = published()
    address = f"/p/{hook.slug}/stock/apply/"
    assert client.post(address, ASKED).status_code == 302
    assert charlie.post(address, ASKED).status_code == 404
    assert "Put it into the draft" not in text_of(ask(charlie, hook))


# -- the cutting list --------------------------------------------------------------------------------


def two_parts():
    return published(a_document(a_part(drawn_out()), a_part(drawn_out(on="arm"), key="arm", length=450)))


def cut(client, procedure, **more):
    return client.get(f"/p/{procedure.slug}/cutting-list/", more)


def test_cutting_list_is_there_without_asking(client):
    html = text_of(cut(client, two_parts()))
    assert "1 × 6000 mm" in html
    assert "proven" in html


def test_quantities_rack_and_price_are_in_the_address(client):
    more = {"count-bar": 30, "count-arm": 10, "rack-0": "2 x 460; 310", "price": "2", "kerf": "3"}
    html = text_of(cut(client, two_parts(), **more))
    assert "from the rack" in html
    assert "Cost" in html


def test_list_as_csv_has_a_row_a_piece(client):
    procedure = two_parts()
    answer = client.get(
        f"/p/{procedure.slug}/cutting-list/cutting-list.csv", {"count-bar": 7, "count-arm": 4, "spare": "5"}
    )
    rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert sorted(row["piece_mm"] for row in rows) == ["305"] * 7 + ["455"] * 4
    assert {row["section"].replace("\u202f", " ") for row in rows} == {"□20 mm"}


def test_list_goes_on_from_the_bar_that_was_found(client):
    procedure = two_parts()
    html = client.get(f"/p/{procedure.slug}/stock/", {**ASKED, "bar": "ø22"}).content.decode()
    address = re.search(r'href="(/p/[^"]+/cutting-list/\?length-bar=[^"]+)"', html)[1].replace("&amp;", "&")
    assert "bar-bar=%C3%B822+mm" in address
    html = text_of(client.get(address))
    assert "ø22 mm, mild steel" in html
    assert "□20 mm, mild steel" in html


def test_piece_longer_than_the_bar_says_so(client):
    html = text_of(cut(client, two_parts(), buy="400"))
    assert "A piece of 450 mm is longer than any bar there is." in html


@pytest.mark.parametrize(
    "field", ["count-bar", "length-bar", "bar-bar", "buy", "kerf", "grip", "spare", "price", "rack-0"]
)
@pytest.mark.parametrize(
    "text", ["nan", "-3", "1e999", "1; DROP TABLE x", "<script>alert(1)</script>", "9" * 60]
)
def test_bad_entry_is_refused_beside_its_field(client, field, text):
    procedure = two_parts()
    answer = cut(client, procedure, **{field: text})
    assert answer.status_code == 422
    assert "field--wrong" in answer.content.decode()
    assert "<script>alert(1)</script>" not in answer.content.decode()
    assert client.get(f"/p/{procedure.slug}/cutting-list/cutting-list.csv", {field: text}).status_code == 422


def test_several_procedures_are_cut_together_for_a_whole_class(client):
    procedure, other = two_parts(), published()
    more = {"add": other.slug, "sets": "12"}
    html = text_of(cut(client, procedure, **more))
    assert f'name="with" value="{other.slug}" checked' in html
    assert "A hook: Bar" in html
    address = f"/p/{procedure.slug}/cutting-list/cutting-list.csv"
    rows = list(csv.DictReader(io.StringIO(client.get(address, more).content.decode())))
    assert len(rows) == 12 * 3
    assert {row["piece"] for row in rows} == {"Bar", "Arm", "A hook: Bar"}


def test_procedure_that_is_not_the_readers_is_not_cut_with_others(client, charlie):
    procedure, draft = two_parts(), a_draft()
    for who in (client, charlie):
        assert who.get(f"/p/{procedure.slug}/cutting-list/", {"with": draft.slug}).status_code == 404


def test_cutting_list_of_a_draft_is_its_owners(client):
    assert cut(client, a_draft()).status_code == 404


def test_other_bars_tell_their_heats_and_blows_and_how_many_more(client):
    procedure = published(a_document(a_part(drawn_out(heats=2))))
    rows = list(ask(client, procedure).context["rows"].bars)
    thicker = [one for one in rows if one.length and "more drawing down" in one.work]
    assert thicker
    assert all(re.fullmatch(r"\d+(, \d+ more)?", one.heats) for one in thicker)
    assert any(re.fullmatch(r"\d+, \d+ more", one.blows) for one in thicker)
    thinner = [one for one in rows if "upset first" in one.work]
    assert all(re.search(r"100.mm of it from 1\d\d(\.\d)?.mm", one.work) for one in thinner)


def test_other_bars_tell_their_cost_where_a_price_is_asked_with(client):
    hook = published()
    assert "Cost</th>" not in text_of(ask(client, hook))
    response = ask(client, hook, price="2")
    assert "Cost</th>" in text_of(response)
    row = next(one for one in response.context["rows"].bars if one.length)
    choice = next(one for one in response.context["answer"].choices if one.length)
    assert float(row.cost) == pytest.approx(2 * choice.mass, abs=0.006)


@pytest.mark.parametrize("bad", BAD)
def test_bad_prices_are_told_beside_the_field(client, bad):
    if bad == "0":
        return
    response = ask(client, published(), price=bad)
    assert response.status_code == 422
    assert response.context["form"].errors["price"]
