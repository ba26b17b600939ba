"""What shops learn from runs and results as people send them: from each one's own, and asked about."""

from datetime import timedelta
from math import log
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.actions import Refused
from procedures.models import Membership, Result, Run, ShopPiece
from procedures.queries import shops as shop_queries
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .authoring import the_form, words
from .conftest import at_the_browser
from .showing import person, published
from .test_results import a_result, a_run, reading, typed
from .test_runs import an_entry, send
from .test_shops import a_shop, page

pytestmark = pytest.mark.django_db
HEAT = {"kind": "heat", "step": "s1", "number": 1}


@pytest.fixture
def bar():
    """A short bar, drawn down in four heats that make all of it hot."""
    return published(a_document(a_part(drawn_out(side=14, length=80, heats=4), side=20, length=80)))


def plan_of(procedure, shop):
    (step,) = shop_queries.expected_of(procedure.latest, shop_queries.profile_of(shop))
    return step


def belief(shop, quantity, name="charlie"):
    lessons = shop_queries.lessons(shop, person(name))
    return lessons.belief(quantity, lessons.readings[0].steel if lessons.readings else "")


def learnt(client, shop):
    return words(client.get(page("learnt", shop)))


def test_run_and_result_of_a_smith_who_planned_in_a_shop_teach_it(charlie, bar):
    shop = a_shop("charlie")
    step = plan_of(bar, shop)
    run = a_run(bar, *[HEAT] * 6)
    piece = ShopPiece.objects.get()
    assert (piece.run, piece.shop, piece.person) == (run, shop, charlie.user)
    first = belief(shop, "heats")
    assert first.n == 1
    # prior 0 +- 0.5 and one reading good to 0.3
    assert first.mean == pytest.approx(log(6 / step.heats) * (1 / 0.09) / (1 / 0.25 + 1 / 0.09))
    charlie.post(reverse("procedures:report_run", args=[run.pk]))
    piece.refresh_from_db()
    assert piece.result == Result.objects.get()  # one piece, not two
    assert ShopPiece.objects.count() == 1
    assert belief(shop, "heats") == first
    text = learnt(charlie, shop)
    assert "Now, from 1 reading" in text
    assert "Heats, against the prediction" in text


def test_run_and_result_say_to_their_smith_alone_which_shop_learns(charlie, alice, client, bar):
    a_shop("charlie")
    run = a_run(bar, *[HEAT] * 4)
    assert "North shop: count blows" in words(charlie.get(run.get_absolute_url()))
    charlie.post(reverse("procedures:report_run", args=[run.pk]))
    result = Result.objects.get().get_absolute_url()
    assert "North shop" in words(charlie.get(result))
    assert "North shop" not in words(alice.get(result))
    assert "North shop" not in words(client.get(result))


def test_own_readings_narrow_the_heat_plan_and_it_says_so(charlie, alice, bar):
    a_shop("charlie")
    heats = f"/p/{bar.slug}/heats/"
    assert "of your own readings" not in words(charlie.get(heats))
    for _ in range(3):
        a_run(bar, *[HEAT] * 3)
    text = words(charlie.get(heats))
    assert "Ranges narrowed by 3 of your own readings" in text
    assert "own readings" not in words(alice.get(heats))
    assert "own readings" not in words(charlie.get(heats, {"skill": "student"}))  # another shop


def test_weighed_pieces_tell_the_scale(charlie, bar):
    shop = a_shop("charlie")
    step = plan_of(bar, shop)
    for _ in range(4):
        a_result(bar, reading(mass=step.in_fire * 0.96**4, step="s1", kind="piece", branch=""))
    assert belief(shop, "loss").mean > 0.03
    text = words(charlie.get(f"/p/{bar.slug}/heats/", {"losses": ""}))
    assert "By your own weighing in North shop" in text
    assert "By your own weighing" not in words(charlie.get(f"/p/{bar.slug}/heats/"))


def test_blows_and_seconds_are_counted_at_a_piece(charlie, bar):
    shop = a_shop("charlie")
    a_run(bar, *[HEAT] * 4)
    piece = ShopPiece.objects.get()
    address = page("shop_piece", shop, piece.pk)
    form = the_form(charlie.get(address).content.decode(), "count-form")
    for wrong in ("0", "-4", "nan", "a lot", "1e9"):
        response = charlie.post(address, form.fields | {"blows-0": wrong, "seconds-0": "33"})
        assert response.status_code == 422, wrong
        assert 'value="33"' in response.content.decode()
    assert charlie.post(address, form.fields | {"blows-0": "120", "seconds-0": "60"}).status_code == 302
    assert belief(shop, "blows").n == 1
    assert belief(shop, "seconds").n == 1
    assert 'value="120"' in charlie.get(address).content.decode()


def test_reading_far_out_is_asked_about_and_the_answer_remembered(charlie, alice, bar):
    shop = a_shop("charlie")
    a_run(bar, *[HEAT] * 4)
    a_run(bar, *[HEAT] * 90)
    (asked,) = shop_queries.lessons(shop, charlie.user).asked
    assert belief(shop, "heats").n == 1
    assert "Is this right?" in learnt(charlie, shop)
    assert "90 heats measured" in learnt(charlie, shop)
    answer = page("answer_reading", shop, asked.piece)
    assert alice.post(answer, {"reading": asked.key, "counts": "yes"}).status_code == 404
    for wrong in (
        {"reading": "heats:Gold", "counts": "yes"},
        {"reading": asked.key, "counts": "perhaps"},
        {},
    ):
        assert charlie.post(answer, wrong).status_code == 404
    charlie.post(answer, {"reading": asked.key, "counts": "no"})
    assert belief(shop, "heats").n == 1
    assert "Is this right?" not in learnt(charlie, shop)
    assert "left out by you" in learnt(charlie, shop)
    charlie.post(answer, {"reading": asked.key, "counts": "yes"})
    assert belief(shop, "heats").n == 2


def test_members_of_a_guild_learn_apart_in_one_shop(alice, charlie, bar):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=person("charlie"), role="member")
    shop = a_shop(guild=guild)
    actions.use_shop(shop=shop, by=person("charlie"))
    a_run(bar, *[HEAT] * 9)
    assert belief(shop, "heats").n == 1
    assert belief(shop, "heats", "alice").n == 0
    assert "Nothing yet" in learnt(alice, shop)
    piece = ShopPiece.objects.get()
    for name in ("shop_piece", "take_out_of_shop", "answer_reading"):
        assert alice.post(page(name, shop, piece.pk)).status_code == 404
    assert ShopPiece.objects.exists()


def test_what_was_forged_before_is_taken_in_by_hand_and_moves_between_shops(charlie, alice, bar):
    run = a_run(bar, *[HEAT] * 5)
    shop, other = a_shop("charlie"), a_shop("charlie", name="South shop")
    assert not ShopPiece.objects.exists()
    assert "It was forged here" in learnt(charlie, shop)
    a_shop("alice", name="Hers")
    theirs = page("place_in_shop", alice.user.shops.get())
    assert alice.post(theirs, {"run": str(run.pk)}).status_code == 404
    assert charlie.post(page("place_in_shop", shop), {"run": "x"}).status_code == 404
    charlie.post(page("place_in_shop", shop), {"run": str(run.pk)})
    charlie.post(page("place_in_shop", other), {"run": str(run.pk)})
    piece = ShopPiece.objects.get()
    assert piece.shop == other
    charlie.post(page("take_out_of_shop", other, piece.pk))
    assert not ShopPiece.objects.exists()
    assert Run.objects.filter(pk=run.pk).exists()


def test_counted_stays_when_the_run_goes(charlie, bar):
    shop = a_shop("charlie")
    run = a_run(bar, *[HEAT] * 4)
    piece = ShopPiece.objects.get()
    actions.count_piece(
        piece=piece, counted=[{"part": "bar", "step": "s1", "blows": 90, "seconds": None}], by=charlie.user
    )
    actions.delete_run(run=run, by=charlie.user)
    assert belief(shop, "blows").n == 1
    assert belief(shop, "heats").n == 0
    assert "whose run or result is gone" in learnt(charlie, shop)


def test_changed_shop_is_held_against_the_same_pieces(charlie, bar):
    shop = a_shop("charlie")
    a_run(bar, *[HEAT] * 4)
    piece = ShopPiece.objects.get()
    counted = [{"part": "bar", "step": "s1", "blows": 100, "seconds": None}]
    actions.count_piece(piece=piece, counted=counted, by=charlie.user)
    before = belief(shop, "blows").mean
    stronger = shop_queries.profile_of(shop)
    stronger = type(stronger)(name="North shop", hand_energy=stronger.blow * 2)
    places = {"forges": 1, "irons": 1, "anvils": 1, "vices": 1}
    actions.edit_shop(shop=shop, profile=stronger, bars=[], places=places, by=charlie.user)
    assert belief(shop, "blows").mean > before  # as many blows, of a hammer that was said to need fewer


def test_run_of_a_student_without_an_account_teaches_nobody(client, bar):
    a_shop("alice")
    course = actions.open_course(procedure=bar, title="Tuesday", by=person("alice"))
    sent = send(client, uuid4(), bar, an_entry(1, step="s1"), code=course.code)
    assert sent.status_code == 200
    assert not ShopPiece.objects.exists()


def test_heat_plan_tells_what_others_used_and_leaves_out_what_is_hidden(client, bar):
    heats = f"/p/{bar.slug}/heats/"
    assert "Told by others" not in words(client.get(heats))
    made = [a_result(bar, heats=n, minutes=n * 10) for n in (3, 5, 9)]
    text = words(client.get(heats))
    assert "5 heats in the middle of 3, 3 to 9" in text
    assert "50 minutes in the middle of 3, 30 to 90" in text
    Result.objects.filter(pk=made[2].pk).update(hidden=timezone.now())
    assert "4 heats in the middle of 2, 3 to 5" in words(client.get(heats))


# -- asked badly -------------------------------------------------------------------------------------


def test_length_of_nothing_and_a_day_to_come_are_refused(charlie, bar):
    tomorrow = timezone.localdate() + timedelta(days=3)
    with pytest.raises(Refused, match="more than 0"):
        a_result(bar, reading(length=0.0, step="s1"))
    assert typed(charlie, bar, forged=tomorrow.isoformat()).status_code == 422
    assert not Result.objects.exists()


def test_section_larger_than_the_bar_is_asked_about(charlie, bar):
    response = typed(charlie, bar, m0__1__0__section="30 sq")
    assert response.status_code == 422
    assert "more than the bar it came from" in words(response)


def test_two_results_for_one_run_are_refused(charlie, bar):
    a_shop("charlie")
    run = a_run(bar, *[HEAT] * 4)
    actions.report_result(
        revision=bar.latest, report=actions.report_of_run(run).report, run=run, by=charlie.user
    )
    with pytest.raises(Refused, match="one run is one result"):
        actions.report_result(
            revision=bar.latest, report=actions.report_of_run(run).report, run=run, by=charlie.user
        )
    assert ShopPiece.objects.count() == 1


def test_run_of_a_clock_far_ahead_teaches_its_heats_alone(charlie, bar):
    shop = a_shop("charlie")
    a_run(bar, *[HEAT] * 4, started=4.0e12)
    assert belief(shop, "heats").n == 1


def test_many_pieces_ask_the_database_as_often_as_few(charlie, bar, django_assert_max_num_queries):
    shop = a_shop("charlie")
    for _ in range(12):
        a_run(bar, *[HEAT] * 4)
    charlie.get(page("learnt", shop))
    with django_assert_max_num_queries(16):
        assert charlie.get(page("learnt", shop)).status_code == 200


def test_account_takes_its_pieces_away_and_along(alice, bar):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=person("charlie"), role="member")
    shop = a_shop(guild=guild)
    actions.use_shop(shop=shop, by=person("charlie"))
    a_run(bar, *[HEAT] * 4)
    person("charlie").delete()
    assert not ShopPiece.objects.exists()
    assert at_the_browser("alice").get(page("learnt", shop)).status_code == 200
