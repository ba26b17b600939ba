"""The calculators: a list that is searched, and a page for every formula, made from its own file."""

import re
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse
from django.utils.http import urlencode

from calculators.formula import GROUPS
from calculators.formulary import all_formulas, formula
from calculators.typed_given import read_given, settled
from calculators.wording import INCH, METRIC
from procedures.engine.catalogue import catalogue
from procedures.presenting.calculators import Calculator

from .authoring import HTMX, words

pytestmark = pytest.mark.django_db
EVERY = pytest.mark.parametrize("kind", all_formulas().values(), ids=lambda kind: kind.id)
UNITS = pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda units: units.id)


def reader(units=METRIC) -> Client:
    client = Client()
    client.cookies["units"] = units.id
    return client


def address_of(kind) -> str:
    return reverse("procedures:calculator", args=[kind if isinstance(kind, str) else kind.id])


def asked(kind, given: dict[str, str], units=METRIC, **more):
    """The page of the given numbers, whatever address they settle at."""
    return reader(units).get(address_of(kind), given, follow=True, **more)


def body(response) -> str:
    assert response.status_code == 200
    return response.content.decode().partition("<main")[2].partition("</main>")[0]


def value(response) -> str:
    found = re.search(r'class="calc__value[^"]*" role="status">(.*?)</p>', body(response), re.DOTALL)
    return unescape(re.sub(r"<[^>]+>", "", found[1])).strip() if found else ""


def example(kind, units=METRIC) -> dict[str, str]:
    return {
        name: settled(one, one.example[units is INCH], units) for name, one in kind.inputs() if one.example[0]
    }


# -- a page for each ---------------------------------------------------------------------------------


@UNITS
@EVERY
def test_page_shows_its_example_worked_in_the_readers_units(kind, units):
    response = reader(units).get(address_of(kind))
    html = body(response)
    text = unescape(words(html))
    assert value(response)
    assert kind.title in text
    assert GROUPS[kind.group] in text
    assert "What it holds for" in text
    assert not re.search(r"\bNone\b(?!:)|\bnan\b|\binf\b|[{}]", text)
    assert html.count('class="field__error"') == 0
    for name, limits in kind.inputs():
        assert f'name="{name}"' in html
        assert limits.label in unescape(html)
    if units is INCH:
        answer = html.partition('id="answer"')[2].partition("</section>")[0]
        shown = words(re.sub(r'<div class="calc__sum">.*?</div>', "", answer, flags=re.DOTALL))
        if kind.any_unit:
            assert not re.search(r"\d\s(mm|kg)\b", shown), shown


@EVERY
def test_page_leads_to_its_operations_and_they_lead_back(kind, client):
    html = body(client.get(address_of(kind)))
    assert set(kind.operations) <= set(catalogue())
    for operation in kind.operations:
        link = reverse("procedures:operation", args=[operation])
        assert f'href="{link}"' in html
        assert f'href="{address_of(kind)}"' in client.get(link).content.decode()


@UNITS
@EVERY
def test_address_holds_every_number_with_its_unit_and_means_the_same_to_all(kind, units):
    given = example(kind, units)
    if not given:
        given = {next(iter(dict(kind.inputs()))): "260 C"}
    response = asked(kind, given, units)
    query = response.wsgi_request.GET.dict()
    again = reader(units).get(response.wsgi_request.get_full_path())
    assert again.status_code == 200
    limits = dict(kind.inputs())
    assert list(query) == [name for name in limits if name in query]
    for name, text in query.items():
        assert read_given(limits[name], text, METRIC) == read_given(limits[name], text, INCH)


def test_bare_numbers_get_the_readers_unit_and_what_is_not_asked_for_goes():
    metric = asked("ring_blank", {"thickness": " 10 ", "inside_diameter": "80", "junk": "1"})
    assert metric.redirect_chain == [("/calculators/ring_blank/?inside_diameter=80+mm&thickness=10+mm", 302)]
    assert value(metric) == "282.7\u202fmm"
    inch = asked("ring_blank", {"inside_diameter": "80 mm", "thickness": "10 mm"}, INCH)
    assert value(inch) == "11 1/8\u202fin"  # π × 90 mm is 11.13 in
    assert inch.redirect_chain == []


def test_without_numbers_the_address_stays_as_it_is(client):
    response = client.get("/calculators/ring_blank/")
    assert response.status_code == 200
    assert "an example" in words(response)


@pytest.mark.parametrize("name", ["perpetual_motion", "Ring_blank", "ring-blank", "__init__", "0"])
def test_no_such_calculator_is_404(client, name):
    assert client.get(f"/calculators/{name}/").status_code == 404


# -- bad input ---------------------------------------------------------------------------------------

SHOWN = ["ring_blank", "taper_length", "job_cost", "heating_time"]
BAD = [
    "nan",
    "inf",
    "-inf",
    "1e999",
    "9" * 50,
    "-5",
    "text",
    "1; DROP TABLE procedures",
    "' OR 1=1 --",
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }}",
    "__import__('os')",
    "2**9999",
    "\0",
    "🔨",
]


@pytest.mark.parametrize("typed", BAD)
@EVERY
def test_bad_input_in_any_field_is_never_answered(kind, typed):
    for name in dict(kind.inputs()):
        page = Calculator(kind, example(kind) | {name: typed}, METRIC)
        if not page.texts.get(name):
            continue  # nothing was typed
        assert page.value == "", (name, typed)
        assert [one for one in page.fields if one.error]
        assert dict(kind.inputs())[name].choices or page.texts[name] in " ".join(typed.split())


@pytest.mark.parametrize("typed", BAD)
@pytest.mark.parametrize("kind", [formula(one) for one in SHOWN], ids=SHOWN)
def test_bad_input_is_answered_beside_its_field_and_kept(kind, typed):
    good = example(kind)
    client = reader()
    for name in dict(kind.inputs()):
        response = client.get(address_of(kind), good | {name: typed}, follow=True)
        html = body(response)
        assert "<script>alert" not in html
        assert "<img src=x" not in html
        assert not re.search(r"\b(nan|inf)\b(?![”\"])", value(response))
        kept = " ".join(typed.replace("\0", " ").split())[:60]
        if not kept:
            continue  # nothing was typed
        beside = html.partition(f'id="after-{name}"')[2].partition("</div>")[0]
        if 'class="field__error"' in beside:
            assert not value(response)
        assert 'class="field__error"' in html, (name, typed)
        if not dict(kind.inputs())[name].choices:
            assert kept in unescape(html)


@pytest.mark.parametrize("typed", ["0", "0 mm", "0.0"])
@EVERY
def test_zero_is_an_answer_or_a_reason(kind, typed):
    for name in dict(kind.inputs()):
        page = Calculator(kind, example(kind) | {name: typed}, METRIC)
        assert bool(page.value) != any(one.error for one in page.fields), name


@EVERY
def test_sizes_far_apart_are_an_answer_or_a_reason(kind):
    for tiny, huge in (("0.000001 mm", "99999 mm"), ("99999 mm", "0.000001 mm")):
        given = example(kind)
        for place, (name, limits) in enumerate(kind.inputs()):
            if limits.unit == "mm" and not limits.of:
                given[name] = huge if place % 2 else tiny
        page = Calculator(kind, given, METRIC)
        assert bool(page.value) != any(one.error for one in page.fields)
        assert page.value == "" or not re.search(r"\b(nan|inf)\b", page.value + page.working + page.drawing)


def test_what_cannot_be_is_refused_beside_its_field_with_the_reason():
    response = asked("draw_out_length", {"length": "60", "area_before": "12 sq", "area_after": "20 sq"})
    html = body(response)
    assert "upset" in html.partition('id="after-area_after"')[2].partition("</div>")[0]
    assert 'value="20 mm sq"' in html
    assert "No answer yet" in words(response)


def test_what_is_missing_is_asked_for():
    response = asked("ring_blank", {"thickness": "10"})
    assert "Inside diameter is needed." in words(response)


def test_answer_outside_what_it_holds_for_comes_with_its_warning():
    response = asked("flattening_spread", {"thickness": "20", "width": "25", "target": "7", "bite": "90"})
    assert value(response)
    assert "the rule is for 0.3 to 2" in words(response)


def test_reasons_are_in_the_readers_units():
    text = words(asked("rivet_head", {"diameter": "5/16", "hole": "1/4", "grip": "1"}, INCH))
    assert "A shank of 5/16 in does not go into a hole of 1/4 in." in text


# -- as one types ------------------------------------------------------------------------------------


def test_update_brings_the_answer_the_reasons_and_the_address():
    client = reader()
    response = client.get(
        "/calculators/ring_blank/", {"inside_diameter": "80", "thickness": ""}, headers=HTMX
    )
    html = response.content.decode()
    assert "<html" not in html
    assert html.count('hx-swap-oob="true"') == 3
    assert "Thickness is needed." in html
    assert response["HX-Replace-Url"] == "/calculators/ring_blank/?" + urlencode({"inside_diameter": "80 mm"})
    assert "HX-Request" in response["Vary"]


# -- the list ----------------------------------------------------------------------------------------


def titles(client, typed="", **more) -> list[str]:
    html = client.get(
        reverse("procedures:calculators"), {"q": typed} if typed else {}, **more
    ).content.decode()
    return [unescape(one) for one in re.findall(r'<h3><a href="/calculators/[^"]+">([^<]+)</a>', html)]


def test_list_shows_every_calculator_under_what_it_is_about(client):
    assert sorted(titles(client)) == sorted(kind.title for kind in all_formulas().values())
    html = client.get("/calculators/").content.decode()
    at = [html.index(f'<h2 id="{group}">') for group in GROUPS]
    assert at == sorted(at)


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("tyre", "Hoop or tyre: the bar it takes"),
        ("jump up", "Upsetting: how short it gets"),
        ("clip", "Collar: the bar it takes"),
        ("POUNDS per", "Weight of a bar"),
    ],
)
def test_search_knows_trade_words(client, typed, first):
    assert titles(client, typed)[0] == first


def test_search_as_typed_gives_the_list_alone(client):
    html = client.get("/calculators/", {"q": "ring"}, headers=HTMX).content.decode()
    assert "<html" not in html
    assert titles(client, "ring", headers=HTMX) == titles(client, "ring")


def test_search_that_finds_nothing_offers_near_names(client):
    assert "Is it" in words(client.get("/calculators/", {"q": "tennon"}))
    assert "Try a plainer word" in words(client.get("/calculators/", {"q": "zzzz"}))


@pytest.mark.parametrize("typed", ["<script>", "\0", "a" * 5000, "%27", "([", "  "])
def test_search_shows_what_was_typed_safely(client, typed):
    response = client.get("/calculators/", {"q": typed})
    assert response.status_code == 200
    assert "<script>" not in response.content.decode().replace('<script type="', "")
