"""The cost sheet: on the page, on paper and as CSV, from what the address puts in."""

import csv
import io
import json

import pytest

from procedures import actions
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.planning.heat_plan import heat_plan
from procedures.planning.profile import ShopProfile
from procedures.presenting.heat_plan import shop_for
from tests.printing.reading import pdf_of, text_of

from .authoring import words
from .showing import a_draft, person, published
from .test_shops import PLACES

pytestmark = pytest.mark.django_db
ASKED = {"pieces": "3", "metal-0": "2", "hour": "60", "cold": "0", "waste": "0", "money": "£"}


@pytest.fixture
def hook():
    return published(json.loads((DEMO / "coat_hook.json").read_bytes()))


def ask(client, procedure, page="", **more):
    return client.get(f"/p/{procedure.slug}/cost/{page}", more)


def plain(response):
    return words(response).replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\xa0", " ")


def table(response):
    return {row[0]: row[1:] for row in csv.reader(io.StringIO(response.content.decode()))}


def test_sums_are_the_heat_plans(client, hook):
    document = read(hook.latest.document)
    replayed = replay(document)
    (part,) = heat_plan(replayed, shop_for(document)).parts
    rows = table(ask(client, hook, "cost.csv", **ASKED))
    metal, time = 3 * replayed.parts[0].start.mass * 2, 3 * part.minutes.typical / 60
    assert float(rows["Metal"][2]) == pytest.approx(metal, abs=0.01)
    assert float(rows["Time"][2]) == pytest.approx(time, abs=0.01)
    assert float(rows["In all"][2]) == pytest.approx(metal + time, abs=0.02)
    assert f"£ {metal + time:,.2f}"[:6] in plain(ask(client, hook, **ASKED))


def test_it_is_an_estimate_and_says_for_which_shop(client, hook):
    text = plain(ask(client, hook, **ASKED))
    assert "An estimate, not an offer until you make it one" in text
    assert "for a usual shop" in text
    assert "No price is put in yet" in plain(ask(client, hook))


def test_everything_put_in_stands_in_the_addresses_of_paper_and_csv(client, hook):
    html = ask(client, hook, **ASKED, for_whom="The Crown Inn").content.decode()
    assert "cost.pdf?pieces=3&amp;metal-0=2" in html
    printed = client.get(f"/p/{hook.slug}/cost/cost.pdf", {**ASKED, "for_whom": "The Crown Inn"})
    assert printed["Content-Type"] == "application/pdf"
    text = " ".join(text_of(pdf_of(printed)).split())
    for said in ("The Crown Inn", "An estimate, not an offer", "Metal", "In all", "£"):
        assert said in text


def test_prices_of_ones_shop_stand_until_others_are_put_in(alice, hook):
    bar = hook.latest.document["parts"][0]["stock"]
    profile = ShopProfile(name="North shop", hourly_cost=36.0, fuel_cost=4.5, currency="EUR")
    bars = [{"section": bar["section"], "lengths": [6000.0], "price": 3.25}]
    shop = actions.make_shop(profile=profile, bars=bars, places=PLACES, by=person("alice"))
    html = ask(alice, hook).content.decode()
    for name, value in (("metal-0", "3.25"), ("hour", "36"), ("fire_hour", "4.5"), ("money", "EUR")):
        field = html[html.index(f'name="{name}"') - 60 :][:260]
        assert f'value="{value}"' in field, name
    assert "your shop, North shop" in plain(ask(alice, hook))
    assert f'name="shop" value="{shop.pk}"' in html
    assert float(table(ask(alice, hook, "cost.csv", hour="0", cold="0"))["Time"][2]) == 0


def test_price_of_a_pound_is_the_price_of_less(client, hook):
    by_kg = float(table(ask(client, hook, "cost.csv", **ASKED))["Metal"][2])
    by_lb = float(table(ask(client, hook, "cost.csv", **ASKED, per="lb"))["Metal"][2])
    assert by_lb == pytest.approx(by_kg / 0.45359237, abs=0.02)


@pytest.mark.parametrize(
    "typed", ["nan", "inf", "-1", "1e999", "9" * 60, "dear", "<script>alert(1)</script>", "🔨"]
)
@pytest.mark.parametrize("field", ["pieces", "metal-0", "hour", "margin"])
def test_nonsense_is_refused_at_its_field_and_the_rest_stays(client, hook, field, typed):
    given = {**ASKED, "for_whom": "The Crown Inn", field: typed}
    response = ask(client, hook, **given)
    assert response.status_code == 422
    html = response.content.decode()
    assert 'value="The Crown Inn"' in html
    assert "<script>alert" not in html
    for page in ("cost.pdf", "cost.csv"):
        assert ask(client, hook, page, **given).status_code == 422


def test_formula_in_a_word_for_money_is_no_formula(client, hook):
    text = ask(client, hook, "cost.csv", **{**ASKED, "money": "=1+1"}).content.decode()
    assert ",=1+1" not in text


def test_draft_is_its_owners_alone(alice, charlie, client):
    draft = a_draft()
    for page in ("", "cost.pdf", "cost.csv"):
        assert ask(alice, draft, page, draft="").status_code == 200
        assert ask(charlie, draft, page).status_code == 404
        assert ask(client, draft, page).status_code == 404
