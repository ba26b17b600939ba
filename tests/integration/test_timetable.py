"""The timetable of a class asked of the site: in the address, on paper, as files, refused, and badly."""

import csv
import io
import json
import re

import pytest

from procedures import actions
from procedures.management.commands.load_demo import DEMO
from tests.printing.reading import overflowing, pdf_of, text_of

from .showing import a_draft, person, published
from .test_stock import BAD

pytestmark = pytest.mark.django_db

EIGHT = {"students": "8", "pieces": "2", "power_hammer": "on", "session": "180"}


@pytest.fixture
def hook():
    return published(json.loads((DEMO / "coat_hook.json").read_bytes()))


def page_of(client, procedure, status=200, **asked):
    response = client.get(f"/p/{procedure.slug}/timetable/", asked)
    assert response.status_code == status
    return response.content.decode().replace("\u202f", " ").replace("\xa0", " ")


def file_of(client, procedure, kind, **asked):
    return client.get(f"/p/{procedure.slug}/timetable/timetable.{kind}", asked)


def test_bare_page_plans_a_usual_class_and_says_so(client, hook):
    html = page_of(client, hook)
    assert "Reckoned for a usual class, until you say what yours is" in html
    assert "8 students, a piece each, need about" in html


def test_class_of_eight_with_a_shared_power_hammer_is_planned(client, hook):
    html = page_of(client, hook, **EIGHT)
    assert "8 students, 2 pieces each, need about" in html
    assert "The power hammer holds the class up" in html
    assert "One more power hammer" in html
    assert "no reason to hurry hot work" in html
    assert "water, rest and a seat" in html
    assert "rules of the place" in html
    assert 'role="img"' in html


def test_all_that_is_asked_stays_in_the_address(client, hook):
    html = page_of(client, hook, **EIGHT, begins="2026-12-01T18:30")
    assert "timetable.pdf?students=8&amp;pieces=2&amp;power_hammer=on&amp;session=180&amp;begins=2026" in html
    assert re.search(r'name="pieces"[^>]*value="2"|value="2"[^>]*name="pieces"', html)
    assert "18:50" in html


def test_boxes_that_are_not_ticked_stay_so(client, hook):
    assert "The power hammer holds" not in page_of(client, hook, plan="1", power_hammer="on")
    bare = page_of(client, hook)
    first = re.search(r'name="powered" value="([^"]+)"', bare)[1]
    under = page_of(client, hook, plan="1", power_hammer="on", powered=first)
    assert under.count("<td>power hammer</td>") == 1


def test_chart_can_be_by_place(client, hook):
    html = page_of(client, hook, rows="places")
    assert ">Fire 1, iron 2<" in html
    assert ">Anvil 1<" in html


def test_anybody_reads_what_is_public_and_nobody_a_draft(client, charlie):
    assert client.get(f"/p/{published().slug}/timetable/").status_code == 200
    draft = a_draft()
    for address in ("", "timetable.pdf", "timetable.csv", "timetable.ics"):
        assert charlie.get(f"/p/{draft.slug}/timetable/{address}").status_code == 404


def test_print_holds_the_answer_the_chart_and_the_times(client, hook):
    document = pdf_of(file_of(client, hook, "pdf", **EIGHT))
    assert len(document) == 2
    assert overflowing(document) == []
    text = text_of(document)
    for words in ("8 students, 2 pieces each", "power hammer holds the class up", "showing", "1, piece 2",
                  "9. Inspect", "Reckoned for", "no reason to hurry"):  # fmt: skip
        assert words in text


def test_large_class_prints_within_its_pages(client, hook):
    document = pdf_of(file_of(client, hook, "pdf", students="24", forges="8", anvils="8", pieces="2"))
    assert overflowing(document) == []
    assert "24, piece 2" in text_of(document)


def test_csv_has_every_turn(client, hook):
    response = file_of(client, hook, "csv", **EIGHT)
    assert "attachment" in response["Content-Disposition"]
    rows = list(csv.DictReader(io.StringIO(response.content.decode())))
    assert {one["student"] for one in rows} == {str(one) for one in range(1, 9)}
    assert {one["piece"] for one in rows} == {"1", "2"}


def test_calendar_has_the_session_and_needs_a_beginning(client, hook):
    made = file_of(client, hook, "ics", **EIGHT, begins="2026-12-01T18:30")
    assert made["Content-Type"].startswith("text/calendar")
    assert b"DTSTART:20261201T183000" in made.content
    refused = file_of(client, hook, "ics", **EIGHT)
    assert refused.status_code == 422
    assert "the day and the hour" in refused.content.decode()


def test_no_schedule_possible_says_why_and_what_would_do(client, hook):
    html = page_of(client, hook, anvils="0")
    assert "No schedule is possible" in html
    assert "There is no anvil, and the work needs one." in html
    assert "needed first for: taper" in html
    assert "One anvil:" in html
    for kind in ("pdf", "csv", "ics"):
        answer = file_of(client, hook, kind, anvils="0")
        assert (answer.status_code, "no anvil" in answer.content.decode()) == (422, True)


def test_too_large_a_class_is_refused_in_words(client, hook):
    html = page_of(client, hook, students="60", pieces="20")
    assert "more than is planned at once" in html


def test_session_that_showing_fills_is_refused_beside_its_field(client, hook):
    html = page_of(client, hook, status=422, session="30", showing="20", clean_down="15")
    assert "leaves no time to work" in html


@pytest.mark.parametrize(
    "field", ["students", "session", "cold", "lost", "begins", "irons", "heats", "powered"]
)
def test_what_cannot_be_read_is_refused(client, field):
    hook = published()
    for given in BAD:
        if field in ("cold", "lost") and given == "0":
            continue  # no time lost is a pace too
        html = page_of(client, hook, status=422, **{field: given})
        assert "Reckoned for" not in html
        assert "<script>alert" not in html
    assert file_of(client, hook, "pdf", **{field: given}).status_code == 422


def test_page_is_linked_from_the_procedure(client, hook):
    assert f"/p/{hook.slug}/timetable/" in client.get(hook.get_absolute_url()).content.decode()


def test_step_that_is_stopped_is_told(alice):
    from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

    stopped = a_document(
        a_part(drawn_out(heats=2), a_step("cut_off", heats=1, at={"on": "bar", "offset": 900}))
    )
    html = page_of(alice, a_draft(stopped))
    assert "what comes after it is not in the timetable" in html


def test_procedure_without_steps_has_no_timetable(alice):
    from tests.unit.engine.documents import a_document

    assert "nothing to plan" in page_of(alice, a_draft(a_document()))


def test_page_is_linked_from_a_class(alice, hook):
    course = actions.open_course(procedure=hook, title="Tuesday", by=person("alice"))
    html = alice.get(course.get_absolute_url()).content.decode()
    assert f"/p/{hook.slug}/timetable/?revision=1" in html
    assert alice.get(f"/p/{hook.slug}/timetable/?revision=1").status_code == 200
