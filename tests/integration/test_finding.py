"""Procedures are found by the words of the trade, by what is done, with what, and from which bar."""

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators.wording import METRIC
from procedures import actions
from procedures.engine import document
from procedures.engine.replay import replay
from procedures.finding.facts import century_of, facts_of
from procedures.finding.tools import TOOLS, is_met, need_of
from procedures.finding.words import asked_of
from procedures.models import Facts, Guild, Membership, SavedSearch, Trait
from procedures.queries import finding
from procedures.queries.finding import Wish
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .showing import a_draft, a_hook, person, published

pytestmark = pytest.mark.django_db
LIST = "/procedures/"


def upset_bolt():
    end = {"on": "bar", "datum": "end", "length": 30}
    part = a_part(a_step("upset", where=end, shortening=8))
    return published(a_document(part, title="A bolt", summary="With a head.", level="advanced"))


def titles(client, **asked):
    body = client.get(LIST, asked)
    assert body.status_code == 200
    return {one.title for one in finding.shown(list(body.context["page"]), body.wsgi_request.user)}


def test_words_of_the_summary_and_notes_find_it(client):
    published()
    assert titles(client, q="coat") == {"A hook"}
    assert titles(client, q="turn it often") == {"A hook"}
    assert titles(client, q="anchor") == set()


def test_every_word_must_be_there(client):
    published()
    published({**a_hook(), "title": "A ladle", "summary": "For soup."}, owner="bob")
    assert titles(client, q="soup ladle") == {"A ladle"}
    assert titles(client, q="coat ladle") == set()


@pytest.mark.parametrize(
    "typed", ["upset", "upsetting", "jump up", "JUMPING UP", "jumped-up", "stave", "knock down"]
)
def test_either_sides_name_for_an_operation_finds_it(client, typed):
    """Names of upsetting on both sides of the Atlantic: common practice, no source."""
    published()
    upset_bolt()
    if typed in ("JUMPING UP", "jumped-up"):
        typed = typed.lower().replace("-", " ")
    assert "A bolt" in titles(client, q=typed)


def test_a_word_of_the_trade_finds_the_other(client):
    published({**a_hook(), "summary": "Turned over the bick."})
    for name in ("bick", "beak", "horn", "bickern"):
        assert titles(client, q=name) == {"A hook"}


def test_american_spelling_finds_the_british(client):
    published({**a_hook(), "summary": "Grey in colour, held in a vice."})
    assert titles(client, q="color vise") == {"A hook"}


def test_what_is_typed_so_far_finds_what_it_begins(client):
    published()
    assert titles(client, q="hang a co") == set()  # two letters may begin anything
    assert titles(client, q="hang a coa") == {"A hook"}


def test_quotes_ask_for_the_words_together(client):
    published()
    assert titles(client, q='"hang a coat"') == {"A hook"}
    assert titles(client, q='"coat a hang"') == set()
    assert titles(client, q="coat a hang") == {"A hook"}


def test_a_title_comes_before_a_mention(client):
    published({**a_hook(), "title": "A ladle", "summary": "As long as a poker."})
    published({**a_hook(), "title": "A poker", "summary": "For the fire."}, owner="bob")
    found = finding.found(Wish(asked=asked_of("poker")), person())
    assert [one.title for one in finding.shown(found, person())] == ["A poker", "A ladle"]


def test_a_mistyped_word_is_answered_with_a_question_and_never_replaced(client):
    published({**a_hook(), "title": "Trammel hook"})
    answer = client.get(LIST, {"q": "tramel hok"})
    assert answer.context["meant"]["words"] == "trammel hook"
    assert b"Did you mean" in answer.content
    assert answer.context["count"] == 0


@pytest.mark.parametrize(
    "typed",
    ["'", '"', '"""', "* OR *", "NEAR(", "title:x", "'; DROP TABLE facts; --", "\0", "🔥", "a" * 5000,
     "<script>alert(1)</script>", "^$%&(){}[]", "-", "AND", "رسم", "¼ ½", "col : -rank"],
)  # fmt: skip
def test_anything_may_be_typed(client, typed):
    published()
    answer = client.get(LIST, {"q": typed})
    assert answer.status_code == 200
    assert b"<script>alert" not in answer.content
    assert Facts.objects.count() == 1


@given(st.text(max_size=40))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
def test_no_text_breaks_the_index(typed):
    finding.found(Wish(asked=asked_of(typed)), person())


def test_published_is_found_and_what_is_taken_back_is_not(client, alice):
    hook = a_draft()
    assert titles(client) == set()
    actions.publish(procedure=hook, by=alice.user)
    assert titles(client, q="coat") == {"A hook"}
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert titles(client, q="coat") == set()
    assert not Facts.objects.exists()
    assert titles(alice, q="coat") == set()  # it is in her own list, and found by nobody


def test_unlisted_is_never_found(client, alice):
    hook = a_draft()
    actions.publish(procedure=hook, status="unlisted", by=alice.user)
    assert titles(client, q="coat") == titles(alice, q="coat") == set()


def test_for_a_guild_is_found_by_its_members_alone(client, alice, charlie):
    guild = Guild.objects.create(name="Upper Works", slug="upper-works")
    Membership.objects.create(guild=guild, user=alice.user, role=Membership.Role.KEEPER)
    hook = a_draft()
    actions.publish(procedure=hook, status="guild", guild=guild, by=alice.user)
    assert titles(client, q="coat") == titles(charlie, q="coat") == set()
    assert titles(alice, q="coat") == {"A hook"}


def test_a_stale_row_shows_nothing_that_may_not_be_read(client, alice):
    hook = published()
    type(hook).objects.filter(pk=hook.pk).update(status="draft")  # behind the back of the actions
    assert titles(client, q="coat") == set()


def test_a_new_revision_is_found_by_what_it_says_now(client, alice):
    hook = published()
    hook.document = {**hook.document, "summary": "To hang a lantern on."}
    hook.save()
    actions.publish(procedure=hook, by=alice.user)
    assert titles(client, q="coat") == set()
    assert titles(client, q="lantern") == {"A hook"}
    assert Facts.objects.count() == 1


def test_narrowed_by_what_is_done_and_the_level(client):
    published()
    upset_bolt()
    assert titles(client, operation="upset") == {"A bolt"}
    assert titles(client, operation=["upset", "mark_out"]) == set()  # both must be in it
    assert titles(client, level=["advanced", "beginner"]) == {"A bolt", "A hook"}  # either will do
    assert titles(client, level="advanced") == {"A bolt"}
    assert titles(client, level="master") == {"A bolt", "A hook"}  # there is no such level


def test_from_the_bar_at_hand(client):
    part = a_part(drawn_out(side=8, length=60))
    stored = {**a_hook(), "title": "A square", "parts": [part]}
    square = stored["parts"][0]["stock"]["section"]
    published(stored)
    size = square["side"]
    assert titles(client, bar=f"{size} sq") == {"A square"}
    assert titles(client, bar=f"{size * 1.02:.1f} sq") == {"A square"}
    assert titles(client, bar=f"{size * 1.2:.1f} sq") == set()
    assert titles(client, bar=f"ø{size}") == set()


def test_a_bar_that_does_not_read_says_so_beside_the_field(client):
    published()
    answer = client.get(LIST, {"bar": "12 furlongs", "most_heats": "-3", "q": "coat"})
    assert answer.context["form"].errors.keys() == {"bar", "most_heats"}
    assert b'value="12 furlongs"' in answer.content
    assert titles(client, bar="12 furlongs", q="coat") == {"A hook"}


def test_by_heats_and_time(client):
    published()
    heats = Facts.objects.get().heats
    assert titles(client, most_heats=heats) == {"A hook"}
    assert titles(client, most_heats=heats - 1) == set()
    minutes = Facts.objects.get().minutes
    assert titles(client, most_minutes=int(minutes) + 1) == {"A hook"}
    if minutes > 1:
        assert titles(client, most_minutes=1) == set()


def test_only_what_my_tools_will_do(client):
    hook = published()
    needs = set(Trait.objects.filter(facts=hook.pk, kind="need").values_list("value", flat=True))
    assert titles(client, own="on", owned=list(TOOLS)) == {"A hook"}
    assert titles(client, own="on") == ({"A hook"} if not needs else set())


def test_a_need_is_met_by_any_of_its_tools():
    assert need_of("hardy, or hot set and hammer") == "hardy|hot_set"
    assert is_met("hardy|hot_set", frozenset({"hot_set"}))
    assert not is_met("hardy|hot_set", frozenset({"drift"}))
    assert need_of("anvil horn, bending fork or vice") == ""
    assert need_of("flatter to finish") == ""
    assert need_of("hammer and anvil face") == ""
    assert need_of("centre punch") == ""


def test_counts_are_those_of_what_is_found(client):
    published()
    upset_bolt()
    counted = client.get(LIST, {"narrow": "1"}).context["facets"]
    levels = next(one for one in counted if one.kind == "level")
    assert {one.value: one.count for one in levels.choices} == {"beginner": 1, "advanced": 1}
    for facet in counted:
        for one in facet.choices:
            assert len(titles(client, **{facet.kind: one.value})) == one.count, (facet.kind, one.value)


def test_a_list_costs_the_same_however_long(client, django_assert_max_num_queries):
    for number in range(3):
        published({**a_hook(), "title": f"Hook {number}"})
    client.get(LIST)
    with django_assert_max_num_queries(7):
        client.get(LIST, {"q": "coat"})
    for number in range(3, 9):
        published({**a_hook(), "title": f"Hook {number}"})
    client.get(LIST)
    with django_assert_max_num_queries(7):
        client.get(LIST, {"q": "coat"})


def test_htmx_gets_what_is_found_alone(client):
    published()
    body = client.get(LIST, {"q": "coat"}, headers={"HX-Request": "true"}).content
    assert b"<html" not in body
    assert b'id="found"' in body


def test_what_it_can_be_narrowed_by_comes_when_asked_for(client):
    published()
    assert "facets" not in client.get(LIST).context
    assert b'name="level"' not in client.get(LIST).content
    part = client.get(f"{LIST}narrow/", {"level": "beginner", "q": "coat"}).content
    assert b"<html" not in part
    assert b'id="level-beginner"' in part
    assert (
        b'name="narrow"' in client.get(LIST, {"narrow": "1"}).content
    )  # and without JavaScript it stays open


def test_a_search_is_kept_and_tells_what_is_new(alice, client):
    published()
    kept = alice.post(reverse("procedures:keep_search"), {"name": "Coats", "query": "q=coat&page=3&level="})
    assert kept.url == f"{LIST}?q=coat"
    search = SavedSearch.objects.get()
    page = alice.get(reverse("procedures:searches"))
    assert [one["new"] for one in page.context["kept"]] == [0]
    published({**a_hook(), "title": "Another"}, owner="bob")
    assert [one["new"] for one in alice.get(reverse("procedures:searches")).context["kept"]] == [1]
    assert alice.get(reverse("procedures:search", args=[search.pk])).url == f"{LIST}?q=coat"
    assert [one["new"] for one in alice.get(reverse("procedures:searches")).context["kept"]] == [0]


def test_a_search_is_its_keepers_alone(alice, charlie, client):
    alice.post(reverse("procedures:keep_search"), {"name": "Coats", "query": "q=coat"})
    (search,) = SavedSearch.objects.all()
    for name in ("search", "forget_search"):
        address = reverse(f"procedures:{name}", args=[search.pk])
        assert charlie.post(address).status_code == 404
        assert client.post(address).status_code == 302
    alice.post(reverse("procedures:forget_search", args=[search.pk]))
    assert not SavedSearch.objects.exists()


def test_a_search_without_a_name_is_asked_for_one(alice):
    answer = alice.post(reverse("procedures:keep_search"), {"name": " ", "query": "q=coat"})
    assert answer.status_code == 422
    assert b"Give it a name" in answer.content
    assert b'value="q=coat"' in answer.content


def test_reindex_makes_rows_that_are_missing(client):
    published()
    Facts.objects.all().delete()
    assert titles(client, q="coat") == set()
    from django.core.management import call_command

    call_command("reindex", missing=True, verbosity=0)
    assert titles(client, q="coat") == {"A hook"}


@pytest.mark.parametrize(
    ("text", "century"),
    [
        ("Farm gate, about 1780, Upper Works", "18th century"),
        ("made in the 17th century", "17th century"),
        ("1800", "18th century"),
        ("2nd century, seen in 1951", "2nd century"),
        ("Inventory 12.1780a, no date", ""),
        ("", ""),
    ],
)
def test_century_is_read_from_what_the_author_wrote(text, century):
    assert century_of(text) == century


def test_facts_are_those_of_the_replay():
    read = document.read(a_hook())
    replayed = replay(read)
    found = facts_of(read, replayed)
    assert found.heats == sum(frame.heats for part in replayed.parts for frame in part.frames)
    assert ("operation", "draw_out") in found.traits
    assert found.thickest == max(part.section.width for part in read.parts)
    assert METRIC.section(read.parts[0].section)  # the sizes are those of a bar that can be named
