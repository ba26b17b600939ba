"""All that is a person's: taken away whole, and deleted for good, from the database and from the files."""

import io
import json
import zipfile
from datetime import date
from uuid import uuid4

import pytest
from django.apps import apps
from django.contrib.auth import get_user_model
from django.contrib.sessions.models import Session
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from procedures import actions, editing
from procedures.actions.results import Report
from procedures.exchange.account import LEFT, Leaving, rooms
from procedures.models import Adaptation, Course, Membership, Offer, Photo, Procedure, Question, Run, RunEntry
from procedures.photos import prepare

from .authoring import words
from .conftest import at_the_browser
from .showing import a_draft, a_hook, person, published, retitled
from .test_packages import a_picture, take_in, with_photo

pytestmark = pytest.mark.django_db(transaction=True)
ADDRESS = "/account/delete/"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def a_run(procedure, owner="alice", course=None) -> Run:
    """A run with a photo, sent by a phone."""
    run = Run.objects.create(
        id=uuid4(),
        key_digest="0" * 64,
        procedure=procedure,
        revision=procedure.latest,
        units="metric",
        owner=person(owner) if owner else None,
        course=course,
        name=owner or "Tess",
        started=timezone.now(),
    )
    entry = RunEntry.objects.create(
        id=uuid4(), run=run, n=1, kind="photo", at=timezone.now(), data={"consent": True}
    )
    prepared = prepare(SimpleUploadedFile("run.png", a_picture()))
    actions.keep_run_photo(entry=entry, prepared=prepared)
    return run


def kept_files(media) -> set[str]:
    return {str(one.relative_to(media)) for one in media.rglob("*") if one.is_file()}


def all_that_is_kept() -> str:
    """Every value of every row of every table, as text."""
    told = []
    for model in apps.get_models(include_auto_created=True):
        fields = [field.attname for field in model._meta.concrete_fields]
        for row in model._default_manager.values(*fields):
            told += [
                bytes(value).decode("latin-1") if isinstance(value, memoryview | bytes) else str(value)
                for value in row.values()
            ]
        if model is Session:
            told += [str(one.get_decoded()) for one in Session.objects.all()]
    return "\n".join(told)


def offered(adaptation, change_of):
    """An offer of the one change that an adaptation has, which is accepted."""
    base = editing.details_digest(adaptation.document)
    del base
    step = adaptation.document["parts"][0]["steps"][1]
    actions.edit_step(
        procedure=adaptation,
        part="bar",
        step="s2",
        fields={"note": change_of},
        base=editing.step_digest(step),
        by=adaptation.owner,
    )
    adaptation.refresh_from_db()
    offer = actions.offer_back(
        procedure=adaptation, names=["changed/bar/s2"], note="Better.", by=adaptation.owner
    )
    actions.accept_change(offer=offer, name="changed/bar/s2", by=offer.to.owner)
    return offer


# -- taken away --------------------------------------------------------------------------------------


def test_account_goes_out_with_everything_in_it(alice, charlie, media):
    hook = published()
    digest = with_photo(hook)
    run = a_run(hook)
    course = actions.open_course(procedure=hook, title="Thursdays", by=alice.user)
    student = a_run(hook, owner=None, course=course)
    a_draft(owner="charlie")
    page = words(alice.get("/account/export/"))
    for line in (
        "1 published procedure with all its revisions and photos",
        "1 run with its log",
        "1 class you teach",
    ):
        assert line in page
    response = alice.post("/account/export/")
    assert response["Content-Disposition"].startswith('attachment; filename="forgesite-')
    with zipfile.ZipFile(io.BytesIO(b"".join(response.streaming_content))) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    photo = run.entries.get().pk
    assert {
        "account.json",
        "classes.json",
        f"runs/{run.pk}/run.json",
        f"runs/{run.pk}/{photo}.jpg",
        f"{hook.slug}/procedure.json",
        f"{hook.slug}/photos/{digest}.jpg",
        f"{hook.slug}/revisions/1.json",
    } <= files.keys()
    assert json.loads(files["account.json"])["name"] == "alice"
    assert str(student.pk) not in "".join(files)
    assert b"Tess" not in b"".join(files.values())
    assert b"charlie" not in b"".join(files.values())


def test_account_that_was_taken_away_comes_in_as_its_procedures(alice, charlie):
    a_run(published())
    content = b"".join(alice.post("/account/export/").streaming_content)
    response = take_in(charlie, content, follow=True)
    assert response.status_code == 200
    assert "Other files in the zip were left, 3 of them" in words(response)
    assert Procedure.objects.filter(owner=charlie.user).count() == 1


def test_stranger_is_sent_to_sign_in(client, db):
    for address in ("/account/export/", ADDRESS, "/account/procedures.zip"):
        assert client.get(address).status_code == 302
        assert client.get(address).url.startswith("/accounts/login/")


# -- deleted -----------------------------------------------------------------------------------------


def leave(client, **fields):
    given = {"password": "a password", "published": "delete", "name_out": "on", **fields}
    return client.post(ADDRESS, {name: value for name, value in given.items() if value})


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"password": "another"}, "This is not your password."),
        ({"password": ""}, "Type your password"),
        ({"published": ""}, "Choose what becomes of what you published."),
        ({"published": "sell"}, "Select a valid choice"),
    ],
)
def test_account_is_not_deleted_without_password_and_choice(alice, fields, said):
    published()
    response = leave(alice, **fields)
    assert response.status_code == 422
    assert said in words(response)
    assert get_user_model().objects.filter(username="alice").exists()


def test_page_says_what_goes(alice, charlie):
    hook = published()
    a_draft()
    a_run(hook, owner="charlie")
    page = words(alice.get(ADDRESS))
    assert "1 draft with its history and photos" in page
    assert "1 run that others sent of it goes too" in page


def test_who_published_nothing_is_not_asked_about_it(alice):
    a_draft()
    assert b'name="published"' not in alice.get(ADDRESS).content
    assert leave(alice, published="").status_code == 302
    assert not Procedure.objects.exists()


def test_nothing_of_the_person_is_left_in_the_database_or_the_files(alice, charlie, media):
    theirs = published(owner="charlie")
    digest = with_photo(theirs)
    before = kept_files(media)
    hook = published()
    with_photo(hook)  # the same picture
    own = with_photo_of_ones_own(a_draft())
    actions.publish(procedure=hook, by=alice.user)
    hook.refresh_from_db()
    course = actions.open_course(procedure=hook, title="Thursdays with alice", by=alice.user)
    a_run(hook)
    a_run(hook, owner=None, course=course)
    adapted = actions.adapt(revision=hook.latest, by=charlie.user)
    actions.publish(procedure=adapted, by=charlie.user)
    adapted.refresh_from_db()
    again = actions.adapt(revision=adapted.latest, by=person("bob"))
    offered(actions.adapt(revision=theirs.latest, by=alice.user), "From alice's shop")
    at_the_browser("alice")  # another browser
    a_result(hook, charlie.user)  # goes with the procedure it is of
    a_result(theirs, alice.user)
    question = actions.ask(revision=theirs.latest, part="bar", step="s2", words="Asks alice", by=alice.user)
    actions.answer(question=question, words="Answers charlie", by=charlie.user)
    asked = actions.ask(revision=theirs.latest, part="bar", step="s2", words="Why?", by=charlie.user)
    answer = actions.answer(question=asked, words="As my shop does.", by=alice.user)
    actions.fold(answer=answer, by=charlie.user)
    actions.thank(thing=theirs, named=True, by=alice.user)
    assert "alice" in str(adapted.document["credits"]) + str(again.document["credits"])
    assert own in "".join(kept_files(media))

    assert leave(alice).status_code == 302
    told = all_that_is_kept().replace("From alice's shop", "")  # words given to another's procedure
    assert "alice" not in told
    assert not get_user_model().objects.filter(username=LEFT).exists()
    assert f"{LEFT}: A hook, revision 2" in Procedure.objects.get(pk=adapted.pk).document["credits"]
    assert f"{LEFT}: A hook, revision 2" in Procedure.objects.get(pk=again.pk).document["credits"]
    assert f"{LEFT}: changes" in Procedure.objects.get(pk=theirs.pk).document["credits"]
    assert Adaptation.objects.get(procedure=adapted).author == LEFT
    adapted.refresh_from_db()
    assert adapted.latest.digest == editing.digest(adapted.latest.document)
    assert digest in "".join(kept_files(media))
    assert kept_files(media) == before
    assert [one.words for one in Question.objects.order_by("pk")] == ["", "Why?"]
    note = Procedure.objects.get(pk=theirs.pk).document["parts"][0]["steps"][1]["note"]
    assert f"As my shop does.\n\n*{LEFT}, answer {answer.pk}*" in note


def a_result(procedure, by) -> None:
    """That somebody forged it, with a photo."""
    told = actions.report_result(revision=procedure.latest, report=Report(forged=date(2026, 3, 1)), by=by)
    prepared = prepare(SimpleUploadedFile("result.png", a_picture((320, 240))))
    actions.attach_result_photo(result=told, prepared=prepared, alt="It.", by=by)


def with_photo_of_ones_own(procedure) -> str:
    prepared = prepare(SimpleUploadedFile("own.png", a_picture((640, 480))))
    actions.attach_photo(
        procedure=procedure, part="bar", step="s2", prepared=prepared, alt="x", caption="", by=procedure.owner
    )
    return prepared.digest


def test_adaptation_that_lost_a_name_can_still_be_published(alice, charlie):
    adapted = actions.adapt(revision=published().latest, by=charlie.user)
    leave(alice)
    adapted.refresh_from_db()
    actions.publish(procedure=adapted, by=charlie.user)
    page = words(charlie.get(adapted.get_absolute_url()))
    assert f"by {LEFT}" in page


def test_name_stays_in_what_others_adapted_unless_it_is_asked_for(alice, charlie):
    adapted = actions.adapt(revision=published().latest, by=charlie.user)
    leave(alice, name_out="")
    adapted.refresh_from_db()
    assert adapted.document["credits"] == ["alice: A hook, revision 1"]
    assert Adaptation.objects.get().author == "alice"


def test_words_of_others_about_a_person_are_theirs(alice, charlie):
    mine = a_draft(
        a_hook(credits=["alice: taught me", "alice"], summary="As alice does it."), owner="charlie"
    )
    published()
    leave(alice)
    mine.refresh_from_db()
    assert mine.document["credits"] == ["alice: taught me", "alice"]


def test_what_is_published_can_be_left_to_its_readers_without_a_name(alice, charlie, client, media):
    hook = published(a_hook(credits=["alice", "alice (design)", "Malice aforethought"]))
    withdrawn = published(a_hook(title="Withdrawn"))
    actions.unpublish(procedure=withdrawn, by=alice.user)
    waiting = actions.adapt(revision=hook.latest, by=charlie.user)
    retitled(hook, "Not said yet")
    secret = with_photo(hook)
    a_draft()
    run = a_run(hook, owner="charlie")

    assert leave(alice, published="keep").status_code == 302
    left = Procedure.objects.get(pk=hook.pk)
    assert set(Procedure.objects.values_list("pk", flat=True)) == {hook.pk, waiting.pk}
    assert left.owner.username == LEFT
    assert not left.owner.is_active
    assert not left.owner.has_usable_password()
    assert left.document == left.latest.document
    assert left.document["credits"] == [LEFT, f"{LEFT} (design)", "Malice aforethought"]
    assert Run.objects.filter(pk=run.pk).exists()
    assert "Not said yet" not in all_that_is_kept()
    assert secret not in "".join(kept_files(media))
    assert not Photo.objects.exists()
    page = client.get(hook.get_absolute_url())
    assert page.status_code == 200
    assert f"by {LEFT}" in words(page)
    told = all_that_is_kept().replace("Malice", "").replace("malice", "")  # the search folds case
    assert "alice" not in told


def test_nobody_signs_up_by_the_name_of_who_left(client, db):
    given = {
        "username": LEFT,
        "email": "new@example.org",
        "password1": "a forge in May",
        "password2": "a forge in May",
    }
    response = client.post("/accounts/signup/", given)
    assert response.status_code == 200
    assert "Enter a valid username" in words(response)
    assert not get_user_model().objects.exists()


def test_offers_to_who_left_are_declined_with_the_reason(alice, charlie):
    hook = published()
    adapted = actions.adapt(revision=hook.latest, by=charlie.user)
    step = adapted.document["parts"][0]["steps"][1]
    actions.edit_step(
        procedure=adapted,
        part="bar",
        step="s2",
        fields={"note": "Slower."},
        base=editing.step_digest(step),
        by=charlie.user,
    )
    offer = actions.offer_back(procedure=adapted, names=["changed/bar/s2"], note="", by=charlie.user)
    leave(alice, published="keep")
    page = words(charlie.get(Offer.objects.get(pk=offer.pk).get_absolute_url()))
    assert "Its author has left." in page


def test_every_session_ends(alice):
    other = at_the_browser("alice")
    assert other.get("/runs/").status_code == 200
    leave(alice)
    assert other.get("/runs/").status_code == 302
    assert alice.get("/runs/").status_code == 302
    assert not Session.objects.filter(expire_date__gt=timezone.now()).exclude(
        session_data=""
    ).exists() or all("_auth_user_id" not in one.get_decoded() for one in Session.objects.all())


def test_runs_of_students_with_accounts_outlive_their_class(alice, charlie):
    theirs = published(owner="charlie")
    course = actions.open_course(procedure=theirs, title="Thursdays", by=alice.user)
    run = a_run(theirs, owner="charlie", course=course)
    leave(alice)
    assert not Course.objects.exists()
    run.refresh_from_db()
    assert run.course is None


def test_leaving_that_breaks_off_leaves_everything(alice, media, monkeypatch):
    hook = published()
    with_photo(hook)
    before = kept_files(media)

    def failing(person, leaving):
        raise RuntimeError("the power went")

    last = rooms()[-1]
    monkeypatch.setitem(last.__dict__, "erase", failing)
    with pytest.raises(RuntimeError):
        actions.leave(leaving=Leaving(keep_published=False, name_out=True), by=alice.user)
    assert Procedure.objects.filter(pk=hook.pk, owner=alice.user).exists()
    assert kept_files(media) == before
    assert default_storage.exists(hook.photos.get().path(480))


def test_wrong_passwords_are_counted(alice):
    published()
    for _ in range(20):
        leave(alice, password="guess")
    assert leave(alice, password="a password").status_code == 429
    assert get_user_model().objects.filter(username="alice").exists()


@pytest.mark.parametrize("name_out", ["", "on"])
def test_what_stands_on_a_guilds_shelf_stays_there_credited_to_nobody(alice, charlie, client, name_out):
    guild = actions.found_guild(name="Saltgate smiths", by=alice.user)
    Membership.objects.create(guild=guild, user=charlie.user)
    hook = actions.put_on_shelf(procedure=published(), guild=guild, by=alice.user)
    leave(alice, name_out=name_out)
    hook = Procedure.objects.get(pk=hook.pk)
    assert hook.owner == charlie.user
    assert hook.author == LEFT
    assert guild.memberships.get().keeps
    assert f"by {LEFT}" in words(client.get(hook.get_absolute_url()))
    if name_out:
        assert "alice" not in all_that_is_kept()
