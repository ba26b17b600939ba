"""Reading a procedure: who may, what is on the page, and that it is made once."""

import re

import pytest
from django.core.cache import cache

from procedures.drawing import PartDrawing
from procedures.presenting import ShownProcedure
from procedures.presenting.kept import shelf
from procedures.views import reading, stretches
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db


def page(client, procedure, query: str = "") -> str:
    response = client.get(f"/p/{procedure.slug}/{query}")
    assert response.status_code == 200
    return response.content.decode()


def words(html: str) -> str:
    """The text of a page, tags and doubled space taken out."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace("\u202f", " ")


def test_anyone_reads_the_whole_of_a_public_procedure(client):
    text = words(page(client, published()))
    for said in (
        "A hook",
        "To hang a coat on.",
        "Beginner",
        "Revision 1",
        "by alice",
        "Mark out",
        "Draw out",
        "flat-jaw tongs",
        "Scale flies: wear eye protection.",
        "Creative Commons Attribution 4.0",
    ):
        assert said in text


def test_note_is_rendered_and_its_html_is_not(client):
    stored = a_hook()
    stored["parts"][0]["steps"][1]["note"] = "**often** <script>alert(1)</script>"
    html = page(client, published(stored))
    assert "<strong>often</strong>" in html
    assert "<script>alert" not in html


@pytest.mark.parametrize("field", ["title", "summary"])
def test_typed_markup_is_shown_as_typed(client, field):
    html = page(client, published(a_hook(**{field: "<b>bold</b> & more"})))
    assert "<b>bold</b>" not in html
    assert "&lt;b&gt;bold&lt;/b&gt; &amp; more" in html


def test_stranger_finds_no_draft(client):
    draft = a_draft()
    client.force_login(person("charlie"))
    assert client.get(f"/p/{draft.slug}/").status_code == 404
    assert client.get(f"/p/{draft.slug}/follow/").status_code == 404
    assert client.get(f"/p/{draft.slug}/card.pdf").status_code == 404


def test_owner_reads_the_draft_when_asked_and_others_the_revision(client):
    procedure = published()
    retitled(procedure, "A better hook")
    assert "A better hook" not in page(client, procedure, "?draft")
    assert "?draft" not in page(client, procedure)
    client.force_login(person())
    assert "A better hook" not in page(client, procedure)
    assert 'href="?draft"' in page(client, procedure)
    html = page(client, procedure, "?draft")
    assert "A better hook" in html
    assert f"/p/{procedure.slug}/follow/?draft" in html


def test_nominal_view_is_one_press_away_and_leaves_scale_out(client):
    procedure = published()
    html = page(client, procedure)
    assert 'href="?view=nominal"' in html
    assert "159.9" in words(html)
    nominal = words(page(client, procedure, "?view=nominal"))
    assert "166.7" in nominal
    assert "as if the fire took nothing" in nominal


def test_sizes_come_in_inches_to_who_chose_them(client):
    client.cookies["units"] = "inch"
    text = words(page(client, published()).split("<main")[1])
    text = text.replace("more than 20 mm", "")  # of an operation's own words on helpers
    assert re.search(r"\d in\b", text)
    assert not re.search(r"\d mm\b", text)


def test_stopped_step_says_why_and_the_next_is_not_reached(client):
    draft = a_draft(a_document(a_part(drawn_out(side=30), drawn_out())))
    client.force_login(person())
    text = words(page(client, draft))
    assert "Not complete" in text
    assert "holds more metal" in text
    assert "Not reached." in text


def test_part_without_steps_is_shown(client):
    draft = a_draft(a_document(a_part()))
    client.force_login(person())
    assert "no steps yet" in page(client, draft)


def test_step_ids_are_distinct_over_the_parts(client):
    procedure = published(a_document(a_part(drawn_out()), a_part(drawn_out(on="pin"), key="pin")))
    found = re.findall(r' id="([^"]+)"', page(client, procedure))
    assert len(found) == len(set(found))


def test_queries_do_not_grow_with_the_steps(client, django_assert_max_num_queries):
    short = published(a_document(a_part(drawn_out())))
    long = published(a_document(a_part(*[drawn_out(side=19.9 - number / 10) for number in range(40)])))
    client.force_login(person())
    for procedure in (short, long):
        cache.clear()
        with django_assert_max_num_queries(12):
            page(client, procedure)


def test_body_is_made_once_for_the_same_content(client, monkeypatch):
    procedure = published()
    first = page(client, procedure).split("<main")[1]
    monkeypatch.setattr(ShownProcedure, "parts", property(lambda shown: pytest.fail("made anew")))
    assert page(client, procedure).split("<main")[1] == first


def test_new_revision_is_not_served_the_old_body(client):
    procedure = published()
    page(client, procedure)
    stored = a_hook()
    stored["parts"][0]["steps"][1]["note"] = "Strike **hard**."
    newer = published(stored)
    assert "<strong>hard</strong>" in page(client, newer)


HTMX = {"HX-Request": "true"}
PHONE = "Mozilla/5.0 (Linux; Android 15; K) AppleWebKit/537.36 Chrome/140.0.0.0 Mobile Safari/537.36"
PLACED = r'id="([^"]+)" hx-swap-oob="true"><svg'


def long_bar(steps: int = 30):
    return published(a_document(a_part(*[drawn_out(side=19.9 - number / 10) for number in range(steps)])))


@pytest.fixture
def no_patience(monkeypatch):
    """Nothing is kept, and nothing is drawn but what must be."""
    cache.clear()
    shelf.clear()
    for module in (reading, stretches):
        monkeypatch.setattr(module, "PATIENCE", -1.0)


def test_drawings_for_a_narrow_window_come_by_themselves_with_a_place_for_each_on_the_page(client):
    hook = published()
    html = page(client, hook)
    address = re.search(r'class="read__narrow" hx-get="([^"]+)"', html)[1]
    drawings = client.get(address, headers=HTMX).content.decode()
    places = re.findall(PLACED, drawings)
    assert places == ["narrow-bar-s1", "narrow-bar-s2"]
    for place in places:
        assert f'id="{place}"></div>' in html
    assert client.get(f"/p/{hook.slug}/drawings/rod/0/").status_code == 404


def test_stranger_gets_no_drawings_of_a_draft(client):
    draft = a_draft()
    assert client.get(f"/p/{draft.slug}/drawings/bar/0/").status_code == 404


def test_telephone_is_brought_its_own_drawings_on_the_page(client):
    hook = published()
    html = client.get(f"/p/{hook.slug}/", headers={"User-Agent": PHONE}).content.decode()
    assert re.findall(r'id="(narrow-[^"]+)"><svg', html) == ["narrow-bar-s1", "narrow-bar-s2"]
    assert not re.search(r'id="drawing-[^"]+"><svg', html)
    assert "read__narrow" not in html
    desk = client.get(f"/p/{hook.slug}/")
    assert re.search(r'id="drawing-[^"]+"><svg', desk.content.decode())
    assert "User-Agent" in desk["Vary"]


def test_page_of_a_long_part_comes_before_its_drawings_which_follow_in_turn(client, no_patience):
    procedure = long_bar(30)
    html = page(client, procedure)
    assert not re.search(r'id="drawing-[^"]+"><svg', html)
    asked, drawn = [], []
    while found := re.search(r'class="read__waiting"[^>]* hx-get="([^"]+)"', html):
        asked.append(found[1])
        html = client.get(found[1], headers=HTMX).content.decode()
        drawn += re.findall(PLACED, html)
    assert len(asked) == 3
    assert drawn == [f"drawing-bar-s{number}" for number in range(1, 31)]
    assert len(re.findall(r'id="drawing-[^"]+"><svg', page(client, procedure))) == 30


def test_page_is_not_kept_until_all_its_drawings_are_there(client, no_patience, monkeypatch):
    procedure = long_bar(14)
    page(client, procedure)
    monkeypatch.setattr(reading, "PATIENCE", 60.0)
    assert "read__waiting" not in page(client, procedure)


def test_without_script_a_press_makes_more_drawings_and_leads_back(client, no_patience):
    procedure = long_bar(30)
    for number in (1, 13, 25):
        html = page(client, procedure)
        assert f"Drawings from step {number} on" in html
        address = re.search(r'<a href="([^"]+)">Make them', html)[1]
        back = client.get(address)
        assert back.status_code == 302
        assert back["Location"] == f"/p/{procedure.slug}/#step-bar-s{number}"
    assert "read__waiting" not in page(client, procedure)


def test_drawings_of_a_part_that_stays_as_it_is_are_not_made_again(client, monkeypatch):
    published()
    client.get("/p/a-hook/")
    drawn = []
    step = PartDrawing.step
    monkeypatch.setattr(PartDrawing, "step", lambda pen, frame: drawn.append(frame.key) or step(pen, frame))
    other = a_hook(title="Another")
    page(client, published(other))
    assert not drawn
    other["parts"][0]["steps"][1]["heats"] = 3
    page(client, published(other))
    assert drawn == ["s1", "s2"]
