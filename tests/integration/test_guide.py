"""The operation guide: a list that is searched, and a page for every operation, made from its own file."""

import re
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from calculators.retelling import retold
from calculators.wording import INCH, METRIC
from procedures.engine.catalogue import catalogue, gist
from procedures.engine.operation import FAMILIES
from procedures.presenting.given import takes
from procedures.presenting.operations import OperationPage

from .authoring import HTMX, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db
EVERY = pytest.mark.parametrize("kind", catalogue().values(), ids=lambda kind: kind.id)
UNITS = pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda units: units.id)


def page_of(operation: str, units: str = "metric") -> str:
    reader = Client()
    reader.cookies["units"] = units
    response = reader.get(reverse("procedures:operation", args=[operation]))
    assert response.status_code == 200
    return response.content.decode().partition("<main")[2].partition("</main>")[0]


def found(client: Client, typed: str, **more) -> list[str]:
    """The titles that a search shows, in order."""
    html = client.get(reverse("procedures:operations"), {"q": typed}, **more).content.decode()
    return re.findall(r'entry__title"><a [^>]*>([^<]+)</a>', html)


# -- a page for each ---------------------------------------------------------------------------------


def squeezed(html: str) -> str:
    """The text of a page without its tags and without any space."""
    return "".join(unescape(re.sub(r"<[^>]+>", "", html)).split())


@UNITS
@EVERY
def test_page_says_everything_its_file_does(kind, units):
    html = page_of(kind.id, units.id)
    text = squeezed(html)
    told = [kind.title, FAMILIES[kind.family], gist(kind), kind.help, *kind.synonyms, *kind.safety]
    told += [kind.helper, kind.period, kind.modern, *kind.tools, *kind.power_tools]
    told += [one.label for one in kind.params().values()] + [one.help for one in kind.params().values()]
    told = [retold(one, units) for one in told]
    told += [one.title for one in kind.examples]
    told += [one.source for one in kind.examples if not one.refused]
    assert [one for one in told if "".join(one.split()) not in text] == []
    assert "{" not in text
    assert "}" not in text
    assert not re.search("None(?!,)", text)  # a choice may begin with it


@EVERY
def test_what_it_may_say_is_in_inches_for_who_reads_them(kind):
    for one in OperationPage(kind, INCH).said:
        assert not re.search(r"\d\s?(mm|°C|kg)\b", f"{one.text} {one.hint} {one.source}"), one.code


@UNITS
@EVERY
def test_page_shows_its_examples_drawn_and_reckoned(kind, units):
    page = OperationPage(kind, units)
    html = page_of(kind.id, units.id)
    text = squeezed(html)
    assert len(page.worked) == len([one for one in kind.examples if not one.refused])
    assert len(page.refused) == len([one for one in kind.examples if one.refused])
    assert html.count('class="heat"') == (1 if kind.heat else 0)
    assert html.count("<svg") >= len(page.worked) + 4  # before and after at the top, for two windows
    for example in page.worked:
        assert example.given
        for said in (example.instruction, example.check, *(one.after for one in example.figures)):
            assert "".join(said.split()) in text
    for example in page.refused:
        assert "stop" in [one.level for one in example.findings]
        for one in example.findings:
            assert "".join((one.text + one.hint).split()) in text


@EVERY
def test_every_finding_of_its_file_and_examples_is_there_with_its_code(kind):
    html = page_of(kind.id)
    page = OperationPage(kind, METRIC)
    for one in page.said:
        assert f"<code>{one.code}</code>" in html
        assert one.text


@EVERY
def test_parameters_say_what_they_take(kind):
    for units in (METRIC, INCH):
        for name, param in kind.params().items():
            assert takes(param, units), name
    blocks = OperationPage(kind, METRIC).given
    assert sum(len(block) for block in blocks) == len(kind.params())
    assert [len(block) for block in blocks if len(block) > 1] == [len(names) for names in kind.one_of]


@EVERY
def test_page_leads_to_the_others_of_its_family(kind):
    html = page_of(kind.id)
    for other in catalogue().values():
        link = f'href="{reverse("procedures:operation", args=[other.id])}"'
        related = other.family == kind.family and other is not kind
        assert (link in html) is related, other.id


def test_sizes_are_the_readers():
    metric, inch = words(page_of("taper")), words(page_of("taper", "inch"))
    assert "1000–1200 °C" in metric
    assert "1832–2192 °F" in inch
    assert "a striker on more than 20 mm" in metric
    assert "a striker on more than 13/16 in" in inch
    assert "the last 40 mm of the bar" in metric
    assert "the last 1 9/16 in of the bar" in inch


def test_titles_with_sizes_are_marked_as_millimetres_for_who_reads_inches():
    html = page_of("draw_out", "inch")
    heads = re.findall(r"<h3>([^<]+)</h3>", html)
    assert "Example 1" in heads
    assert "Marks stay where their metal goes" in heads
    assert "□20 drawn to □12: the same metal in less area is longer" in words(html)


def test_what_follows_is_said_to_follow():
    text = words(page_of("scroll"))
    assert "Say one of these" in text
    assert re.search(r"Length of bar[^.]* follows|216\.1 mm follows", text)


def test_rules_about_the_whole_procedure_are_named():
    text = words(page_of("split"))
    assert "Split before the arms are tapered" in text
    assert "order.split_after_taper" in text


@pytest.mark.parametrize("name", ["levitate", "Taper", "taper-", "__init__", "0", "draw-out"])
def test_no_such_operation_is_404(client, name):
    assert client.get(f"/operations/{name}/").status_code == 404


# -- the list ----------------------------------------------------------------------------------------


def test_list_shows_every_operation_under_its_family(client):
    html = client.get(reverse("procedures:operations")).content.decode()
    titles = re.findall(r'entry__title"><a href="([^"]+)"', html)
    assert titles == [reverse("procedures:operation", args=[one]) for one in catalogue()]
    at = [html.index(f'<h2 id="{family}">') for family in FAMILIES if f'<h2 id="{family}">' in html]
    assert at == sorted(at)
    assert html.count("<svg") >= len(catalogue())


def test_search_ranks_titles_before_synonyms_and_those_before_help(client):
    titles = found(client, "taper")
    assert titles[0] == "Taper"
    assert len(titles) > 1
    assert found(client, "draw down")[0] == "Draw out"
    assert found(client, "TIRE") == found(client, "tyre") == ["Weld a ring"]


def test_search_that_finds_nothing_offers_near_names(client):
    text = words(client.get(reverse("procedures:operations"), {"q": "tapper"}))
    assert "No operation goes by “tapper”" in text
    assert "Is it taper" in text
    assert "Try a plainer word" in words(client.get(reverse("procedures:operations"), {"q": "zzz"}))


def test_search_as_typed_gives_the_list_alone(client):
    response = client.get(reverse("procedures:operations"), {"q": "taper"}, headers=HTMX)
    html = response.content.decode()
    assert "<html" not in html
    assert 'id="found"' in html
    assert "HX-Request" in response["Vary"]
    assert found(client, "taper", headers=HTMX) == found(client, "taper")


@pytest.mark.parametrize("typed", ["<script>", "\0", "a" * 5000, "%27", "([", "  "])
def test_search_shows_what_was_typed_safely(client, typed):
    response = client.get(reverse("procedures:operations"), {"q": typed})
    assert response.status_code == 200
    assert "<script>" not in response.content.decode().replace('<script type="', "")


def test_list_is_in_the_masthead_of_every_page(client):
    link = f'href="{reverse("procedures:operations")}"'
    for address in ("/", "/operations/", "/operations/taper/", "/no-such-page/"):
        assert link in client.get(address).content.decode()
    assert 'aria-current="page">Operations' in client.get("/operations/").content.decode()


# -- from the steps of a procedure -------------------------------------------------------------------


def test_every_step_leads_to_the_page_of_its_operation(alice):
    link = f'href="{reverse("procedures:operation", args=["draw_out"])}"'
    procedure = published()
    assert link in alice.get(procedure.get_absolute_url()).content.decode()
    assert link in alice.get(reverse("procedures:follow", args=[procedure.slug, "bar", 2])).content.decode()
    editing = reverse("procedures:edit", args=[procedure.slug])
    assert link in alice.get(editing, {"part": "bar", "step": "s2"}).content.decode()


def test_picker_lists_what_is_called_just_so_first(alice):
    draft = a_draft()
    address = reverse("procedures:edit", args=[draft.slug])
    html = alice.get(address, {"part": "bar", "after": "s1", "q": "taper"}).content.decode()
    assert re.findall(r'name="operation" value="(\w+)"', html)[0] == "taper"
