"""The heat plan asked of the site: a usual shop, one's own in the address and the visit, and badly."""

import json
import re
from urllib.parse import parse_qs, urlsplit

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.models import Run, RunEntry
from procedures.planning.heat_plan import heat_plan
from procedures.presenting.heat_plan import shop_for
from tests.unit.engine.documents import a_document, a_part
from tests.unit.planning.test_heat_plan import JOBS

from .showing import a_draft, published

pytestmark = pytest.mark.django_db

FORM = {
    "set": "1",
    "skill": "practised",
    "hammer": "hand",
    "fire": "coke",
    "start": "1180",
    "stop": "850",
    "hand_rate": "1.7",
    "sledge_energy": "98",
    "sledge_rate": "0.8",
    "power_rate": "4",
    "fire_heat": "1250",
    "slower": "1",
    "transfer": "2",
    "contact": "60",
}
BAD = ["nan", "inf", "-5", "0", "1e999", "9" * 60, "a hammer", "<script>alert(1)</script>", "🔨"]


@pytest.fixture
def hook():
    return published(json.loads((DEMO / "coat_hook.json").read_bytes()))


def text_of(response):
    return response.content.decode().replace("\u202f", " ")


def ask(client, procedure, **more):
    return client.get(f"/p/{procedure.slug}/heats/", more)


def rows(html):
    """The figures of the table by step number: planned, predicted, ... as texts."""
    bodies = re.findall(r'<tbody class="heats__rows".*?</tbody>', html, re.DOTALL)
    found = {}
    for body in bodies:
        number = re.search(r'<span class="num">(\d+)</span>', body)[1]
        cells = re.findall(r'<td role="cell" class="num[^>]*>(.*?)</td>', body, re.DOTALL)
        found[int(number)] = [re.sub(r"<[^>]*>", " ", cell).split() for cell in cells]
    return found


def test_page_shows_what_is_planned_and_what_is_predicted(client, hook):
    html = text_of(ask(client, hook))
    plan = heat_plan(replay(read(hook.latest.document)), shop_for(read(hook.latest.document))).part("hook")
    shown = rows(html)
    assert set(shown) == {one.frame.number for one in plan.steps if one.is_hot}
    for step in plan.steps:
        if step.is_hot:
            assert shown[step.frame.number][0] == [str(step.planned)]
            assert shown[step.frame.number][1][0] == str(round(step.predicted.typical))
    assert "Never a target to beat" in html
    assert "Reckoned for a usual shop" in html
    assert "<svg" in html


@pytest.mark.parametrize("name", JOBS)
def test_hand_jobs_stand_on_the_page_inside_their_ranges(client, name):
    step, section, results = JOBS[name]
    document = a_document(a_part(step), scale={"forging": 0})
    document["parts"][0]["stock"]["section"] = section
    blows = rows(text_of(ask(client, published(document))))[1][2]
    low, high = (float(one.replace(" ", "")) for one in blows[1].split("\N{EN DASH}"))
    assert low <= results[0][0] <= high


def test_one_step_has_its_curve_in_the_readers_units_and_names(client, hook):
    html = text_of(ask(client, hook, step="hook.taper", names="stirling"))
    assert 'Step <span class="num">2</span>, taper: temperature against time' in html
    assert "clear orange" in html
    client.post("/units/", {"units": "inch", "next": "/"})
    html = text_of(ask(client, hook, step="hook.taper"))
    assert "2156 °F" in html  # 1180 °C
    assert "1180 °C" not in html


@pytest.mark.parametrize("step", ["hook.marks", "hook.none", "none.taper", "taper", ".", "🔨"])
def test_step_that_is_not_there_or_cold_has_no_curve(client, hook, step):
    response = ask(client, hook, step=step)
    assert response.status_code == 200
    assert "temperature against time" not in text_of(response)


def test_shop_is_put_into_the_address_and_the_visit(client, hook):
    response = ask(client, hook, **(FORM | {"skill": "student", "start": "1150"}))
    assert response.status_code == 302
    asked = parse_qs(urlsplit(response.url).query)
    assert asked["skill"] == ["student"]
    assert asked["start"] == ["1150"]
    assert "stop" not in asked  # what is usual is left out
    page = text_of(client.get(response.url))
    assert "A student, hand hammer of 13 J" in page
    assert "Reckoned for your shop" in page
    other = published()
    assert "A student" in text_of(ask(client, other))  # of the same visit
    assert "A practised smith" in text_of(ask(client, other, skill="practised"))  # an address goes first


def test_power_hammer_changes_the_plan(client, hook):
    by_hand = rows(text_of(ask(client, hook)))[2]
    by_power = rows(text_of(ask(client, hook, hammer="power", power_energy="162")))[2]
    assert int(by_power[1][0]) < int(by_hand[1][0])


def test_power_hammer_of_no_energy_is_refused_in_words(client, hook):
    for response in (
        ask(client, hook, hammer="power", power_energy="0"),
        ask(client, hook, **(FORM | {"hammer": "power", "power_energy": "0"})),
    ):
        assert response.status_code == 422
        assert "A power hammer of 0 J strikes nothing" in text_of(response)


@pytest.mark.parametrize("typed", BAD)
@pytest.mark.parametrize("field", ["hand_energy", "start"])
def test_nonsense_is_refused_and_a_usual_shop_shown(client, hook, field, typed):
    for given in ({field: typed}, FORM | {field: typed}):
        response = ask(client, hook, **given)
        assert response.status_code == 422, given
        html = text_of(response)
        assert "Traceback" not in html
        assert "<script>alert" not in html
        assert "Heat plan" in html


@pytest.mark.parametrize(
    "given", [{"fire": "bonfire"}, {"skill": "king"}, {"striker": "yes"}, {"hammer": "power"}]
)
def test_choices_that_are_none_are_refused(client, hook, given):
    assert ask(client, hook, **given).status_code == 422


def test_losses_are_reckoned_when_asked_for_and_change_nothing(client, hook):
    before = hook.latest.document
    assert "Scale, planned" not in text_of(ask(client, hook))
    html = text_of(ask(client, hook, losses=""))
    assert "Scale, planned" in html
    hook.refresh_from_db()
    assert hook.latest.document == before


def test_heats_of_own_runs_stand_beside_and_nobody_elses(client, alice, charlie, hook):
    run = Run.objects.create(
        id="00000000-0000-4000-8000-000000000001", key_digest="x", procedure=hook, revision=hook.latest,
        units="metric", owner=alice.user, started="2026-01-01T10:00:00Z",
    )  # fmt: skip
    kinds = ["heat", "heat", "heat", "heat", "heat_undone"]
    for number, kind in enumerate(kinds):
        RunEntry.objects.create(
            id=f"00000000-0000-4000-8000-00000000010{number}", run=run, n=number, kind=kind, part="hook",
            step="taper", number=2, at="2026-01-01T10:00:00Z",
        )  # fmt: skip
    mine = text_of(ask(alice, hook))
    assert "Heats used" in mine
    assert rows(mine)[2][2] == ["3"]
    assert "Heats used</dt>" not in text_of(ask(charlie, hook))
    assert "Heats used</dt>" not in text_of(ask(client, hook))


def test_draft_is_planned_by_its_owner_alone(alice, charlie):
    draft = a_draft()
    assert ask(alice, draft).status_code == 200
    assert ask(charlie, draft).status_code == 404


def test_stopped_and_empty_parts_are_said(alice):
    html = text_of(ask(alice, a_draft(a_document())))
    assert "Heat plan" in html
