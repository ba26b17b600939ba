"""Results of forging a procedure: told in a form or from a run, and set beside what is predicted."""

import io
from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from procedures import actions
from procedures.actions import Refused
from procedures.actions.results import Report
from procedures.models import Result, ResultPhoto, ResultReading, Run
from procedures.queries import talk

from .authoring import the_form, words
from .conftest import at_the_browser
from .showing import a_draft, person, published

pytestmark = pytest.mark.django_db
KEY = "0123456789abcdef0123456789abcdef"
NOON = 1.76e12  # ms: a day in October 2025


def at(name, procedure, *more):
    return reverse(f"procedures:{name}", args=[procedure.slug, *more])


def typed(client, procedure, **values):
    page = at("report_result", procedure)
    form = the_form(client.get(page).content.decode(), "result-form")
    return client.post(page, form.fields | {name.replace("__", "-"): one for name, one in values.items()})


def reading(length=None, section=None, mass=None, step="s2", kind="run", branch="bar", **more):
    place = {"part": "bar", "step": step, "kind": kind, "branch": branch, **more}
    return ResultReading(**place, length=length, section=section, mass=mass)


def a_result(procedure, *readings, by="charlie", **more):
    report = Report(forged=timezone.localdate(), readings=readings, **more)
    return actions.report_result(revision=procedure.latest, report=report, by=person(by))


def a_run(procedure, *entries, owner="charlie", started=NOON, **more):
    run = uuid4()
    told = {
        "slug": procedure.slug,
        "revision": procedure.latest.number,
        "units": "metric",
        "started": started,
    }
    rows = [
        {
            "id": str(uuid4()),
            "n": n,
            "part": "bar",
            "step": "s2",
            "number": 2,
            "at": started + n * 60_000,
            **one,
        }
        for n, one in enumerate(entries)
    ]
    sent = {"key": KEY, "run": {**told, "account": True, **more}, "entries": rows}
    return actions.take_in_run(run_id=run, sent=sent, by=person(owner)).run


def measured(length="", section="", **more):
    return {"kind": "measured", "what": "run", "branch": "bar", "length": length, "section": section, **more}


# -- told in a form ----------------------------------------------------------------------------------


def test_result_is_told_and_read_by_everybody(client, charlie):
    hook = published()
    response = typed(
        charlie,
        hook,
        heats="3",
        minutes="40",
        words="It **went** well.",
        wrong="A cold shut.",
        wrong_at="bar/s2",
        changed="A heat more.",
        m0__2__0__length="150",
        m0__2__0__section="12 sq",
        m0__2__mass="1 kg",
        sure="on",
    )
    assert response.status_code == 302, words(response)
    text = words(client.get(response.url))
    for said in (
        "3 heats",
        "40 minutes",
        "A cold shut.",
        "step 2, Draw out",
        "A heat more.",
        "as in the procedure",
    ):
        assert said in text
    assert "Forged 1 time" in words(client.get(f"/p/{hook.slug}/"))
    assert "Forged 1 time" in words(client.get(at("results", hook)))
    assert ResultReading.objects.count() == 2


def test_lengths_are_typed_in_the_readers_units(charlie):
    hook = published()
    charlie.cookies["units"] = "inch"
    assert typed(charlie, hook, m0__2__0__length="6", m0__2__mass="2", sure="on").status_code == 302
    run, whole = ResultReading.objects.order_by("pk")
    assert run.length == pytest.approx(152.4)
    assert whole.mass == pytest.approx(0.90718474)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"m0__2__0__length": "0"}, "must be more than zero"),
        ({"m0__2__0__length": "-5"}, "below zero"),
        ({"m0__2__0__length": "a lot"}, "Type a length such as"),
        ({"m0__2__0__section": "0 x 0"}, "must be more than zero"),
        ({"m0__2__mass": "0"}, "must be more than zero"),
        ({"forged": (timezone.localdate() + timedelta(days=3)).isoformat()}, "still to come"),
        ({"forged": "1066-10-14"}, "look at the year"),
        ({"forged": ""}, "Say when you forged it."),
        ({"forged": "yesterday"}, "Type a date such as"),
        ({"heats": "-1"}, "greater than or equal to 0"),
        ({"minutes": "1e9"}, "Enter a whole number"),
        ({"wrong_at": "bar/nothing"}, "Select a valid choice"),
        ({"words": "x" * 4001}, "4000"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field_and_kept(charlie, values, said):
    hook = published()
    response = typed(charlie, hook, changed="Kept as typed.", **values)
    assert response.status_code == 422
    assert said in words(response)
    assert "Kept as typed." in response.content.decode()
    assert not Result.objects.exists()


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"m0__2__0__section": "40 sq"}, "more than the bar it came from"),
        ({"m0__2__0__length": "1500"}, "a length of 1500 mm, where"),
        ({"m0__2__mass": "50 kg"}, "a weight of 50 kg, where"),
    ],
)
def test_what_looks_like_a_slip_is_asked_about_once(charlie, values, said):
    hook = published()
    asked = typed(charlie, hook, **values)
    assert asked.status_code == 422
    assert said in words(asked)
    assert not Result.objects.exists()
    assert typed(charlie, hook, **values, sure="on").status_code == 302


def test_result_is_changed_by_who_told_it_alone(client, alice, charlie):
    hook = published()
    result = a_result(hook, reading(length=150.0))
    page = at("edit_result", hook, result.pk)
    assert alice.get(page).status_code == 404
    assert client.get(page).status_code == 302
    form = the_form(charlie.get(page).content.decode(), "result-form")
    assert form.fields["m0-2-0-length"] == "150"
    charlie.post(page, form.fields | {"words": "Better.", "m0-2-0-length": "151"})
    result.refresh_from_db()
    assert result.words == "Better."
    assert result.edited
    assert ResultReading.objects.get().length == 151


def test_deleted_result_leaves_nothing(client, charlie, alice):
    hook = published()
    result = a_result(hook, reading(length=150.0))
    assert alice.post(at("delete_result", hook, result.pk)).status_code == 404
    charlie.post(at("delete_result", hook, result.pk))
    assert not ResultReading.objects.exists()
    assert client.get(at("result", hook, result.pk)).status_code == 404
    assert "Forged" not in words(client.get(f"/p/{hook.slug}/"))


def test_draft_has_no_results(alice, charlie):
    draft = a_draft()
    assert charlie.get(at("results", draft)).status_code == 404
    assert alice.get(at("report_result", draft)).status_code == 404


# -- from a run --------------------------------------------------------------------------------------


def test_own_run_becomes_a_result_in_one_press(charlie):
    hook = published()
    run = a_run(
        hook,
        {"kind": "heat"},
        {"kind": "heat"},
        measured("151", "12 sq"),
        measured("152"),
        measured("150", piece=2),
        measured("no size"),
    )
    assert "Report it as a result" in words(charlie.get(run.get_absolute_url()))
    response = charlie.post(reverse("procedures:report_run", args=[run.pk]), follow=True)
    assert "1 of its sizes could not be read" in words(response)
    result = Result.objects.get()
    assert (result.heats, result.minutes, result.forged.year, result.run) == (2, 5, 2025, run)
    assert [(one.piece, one.length) for one in result.readings.all()] == [(1, 152), (2, 150)]
    assert "Its result" in words(charlie.get(run.get_absolute_url()))


def test_one_run_is_one_result(charlie):
    run = a_run(published(), {"kind": "heat"})
    page = reverse("procedures:report_run", args=[run.pk])
    charlie.post(page)
    again = charlie.post(page, follow=True)
    assert "reported already" in words(again)
    assert Result.objects.count() == 1


def test_run_of_somebody_else_is_not_reported(client, alice, charlie):
    hook = published()
    run = a_run(hook, {"kind": "heat"}, owner="alice")
    page = reverse("procedures:report_run", args=[run.pk])
    assert charlie.post(page).status_code == 404
    assert client.post(page).status_code == 302
    course = actions.open_course(procedure=hook, title="Tuesday", by=alice.user)
    students = a_run(hook, {"kind": "heat"}, code=course.code)
    assert alice.post(reverse("procedures:report_run", args=[students.pk])).status_code == 404
    assert not Result.objects.exists()


def test_run_with_a_slip_is_asked_about(charlie):
    run = a_run(published(), measured("1500"))
    page = reverse("procedures:report_run", args=[run.pk])
    asked = charlie.post(page)
    assert asked.status_code == 422
    assert "a length of 1500 mm, where" in words(asked)
    assert charlie.post(page, {"sure": "1"}).status_code == 302
    assert ResultReading.objects.get().length == 1500


def test_phone_whose_clock_is_ahead_reports_today(charlie):
    run = a_run(published(), {"kind": "heat"}, started=4.0e12)
    response = charlie.post(reverse("procedures:report_run", args=[run.pk]), follow=True)
    assert "clock was ahead" in words(response)
    assert Result.objects.get().forged == timezone.localdate()


def test_result_stays_when_its_run_goes(charlie):
    run = a_run(published(), measured("151"))
    charlie.post(reverse("procedures:report_run", args=[run.pk]))
    actions.delete_run(run=Run.objects.get(), by=charlie.user)
    assert Result.objects.get().run is None


# -- beside what is predicted ------------------------------------------------------------------------


def test_sizes_stand_beside_what_the_replay_says(client):
    hook = published()
    a_result(hook, reading(length=150.0, section={"shape": "square", "side": 12.0}))
    html = client.get(at("results", hook)).content.decode()
    text = words(html)
    assert "Worked part, length" in text
    assert "n&nbsp;=&nbsp;1" in html
    assert "Worked part, size across" in text
    assert "Mean of" not in text
    said = talk.predicted_by(hook.latest)
    place = next(one for one in said if (one.step, one.kind, one.quantity) == ("s2", "run", "length"))
    assert f"{said[place].typical:.1f}".removesuffix(".0") in text
    label = 'role="img" aria-label="Worked part, length: 1 measured, 150 mm. Predicted: '
    assert label in html.replace("\u202f", " ")


def test_mean_is_told_of_three_and_what_is_far_stays(client):
    hook = published()
    for length in (150.0, 151.0, 152.0, 151.0, 190.0):
        a_result(hook, reading(length=length))
    text = words(client.get(at("results", hook)))
    assert "Mean of 5 158.8 mm" in text
    assert "150 mm to 190 mm" in text
    assert "1 far from the others" in text
    assert "190 mm far off" in text


def test_readings_say_who_measured_what_of_which_revision():
    hook = published()
    a_result(hook, reading(length=150.0), reading(mass=0.9, kind="piece", branch=""))
    hidden = a_result(hook, reading(length=99.0), by="bob")
    hidden.hidden = timezone.now()
    hidden.save()
    length, mass = talk.readings_of(hook)
    assert (length.actual, length.who, length.revision) == (150, "charlie", 1)
    assert length.predicted.low <= length.predicted.typical <= length.predicted.high
    assert (mass.place.quantity, mass.actual) == ("mass", 0.9)
    assert mass.predicted is not None


def test_results_of_another_revision_are_chosen_and_steps_that_went_are_told(client, alice):
    hook = published()
    a_result(hook, reading(length=150.0), reading(length=20.0, step="gone"))
    actions.delete_step(procedure=hook, part="bar", step="s1", by=alice.user)
    actions.publish(procedure=hook, by=alice.user)
    hook.refresh_from_db()
    a_result(hook, reading(length=140.0))
    text = words(client.get(at("results", hook)))
    assert "revision 2" in text.split("Measured and predicted,")[1][:20]
    first = words(client.get(at("results", hook), {"revision": "1"}))
    assert "A step that is not in this revision" in first
    assert "Nothing is predicted" in client.get(at("results", hook), {"revision": "1"}).content.decode()


def test_hidden_result_is_read_by_its_writer_alone(client, alice, charlie):
    hook = published()
    result = a_result(hook, reading(length=150.0), words="Rude.")
    result.hidden, result.hidden_reason = timezone.now(), "Be kind."
    result.save()
    page = at("result", hook, result.pk)
    assert [one.get(page).status_code for one in (client, alice, charlie)] == [404, 404, 200]
    assert "Be kind." in words(charlie.get(page))
    assert "Rude." not in words(alice.get(at("results", hook)))
    assert "Forged" not in words(client.get(f"/p/{hook.slug}/"))


def test_results_are_read_in_as_many_queries_however_many(client, django_assert_max_num_queries):
    hook = published()
    for number in range(25):
        a_result(hook, reading(length=150.0 + number / 10), by=f"smith{number}")
    client.get(at("results", hook))
    with django_assert_max_num_queries(12):
        html = client.get(at("results", hook)).content.decode()
    assert html.count('class="said__title"') == 20


def test_impossible_reports_are_refused_by_the_action_too():
    hook = published()
    for report in (
        Report(forged=timezone.localdate() + timedelta(days=9)),
        Report(forged=timezone.localdate(), readings=(reading(length=0.0),)),
    ):
        with pytest.raises(Refused):
            actions.report_result(revision=hook.latest, report=report, by=person("charlie"))


# -- photos ------------------------------------------------------------------------------------------


def a_picture(size=(640, 480)):
    held = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    Image.new("RGB", size, "#a40").save(held, "JPEG", exif=exif)
    return SimpleUploadedFile("hook.jpg", held.getvalue(), "image/jpeg")


def test_photo_is_encoded_anew_and_shown_with_consent(
    client, alice, charlie, django_capture_on_commit_callbacks
):
    hook = published()
    result = a_result(hook)
    page = at("add_result_photo", hook, result.pk)
    without = charlie.post(page, {"file": a_picture(), "alt": "The hook"})
    assert without.status_code == 422
    assert "Without this yes" in words(without)
    assert alice.post(page, {"file": a_picture(), "alt": "x", "consent": "on"}).status_code == 404
    assert charlie.post(page, {"file": a_picture(), "alt": "The hook", "consent": "on"}).status_code == 302
    photo = ResultPhoto.objects.get()
    shown = client.get(photo.url(480))
    assert shown.status_code == 200
    assert b"where I live" not in shown.content
    assert 'alt="The hook"' in client.get(result.get_absolute_url()).content.decode()
    with django_capture_on_commit_callbacks(execute=True):
        charlie.post(at("delete_result_photo", hook, result.pk, photo.pk))
    assert client.get(photo.url(480)).status_code == 404


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (SimpleUploadedFile("a.jpg", b"no picture"), "not a picture"),
        (SimpleUploadedFile("a.jpg", b""), "empty"),
    ],
)
def test_what_is_no_photo_is_refused(charlie, file, said):
    hook = published()
    page = at("add_result_photo", hook, a_result(hook).pk)
    response = charlie.post(page, {"file": file, "alt": "The hook", "consent": "on"})
    assert response.status_code == 422
    assert said in words(response)


# -- thanks and news ---------------------------------------------------------------------------------


def test_thanks_are_given_once_and_named_by_those_who_want_it(client, alice, charlie):
    hook, bob = published(), at_the_browser("bob")
    for _ in range(3):
        charlie.post(at("thank", hook))
        bob.post(at("thank", hook), {"named": "on"})
    text = words(client.get(f"/p/{hook.slug}/"))
    assert "Thanked by 2 smiths: bob and 1 more." in text
    assert "Thanks are for others" in words(alice.post(at("thank", hook), follow=True))
    bob.post(at("thank", hook), {"back": "1"})
    text = words(client.get(f"/p/{hook.slug}/"))
    assert "Thanked by 1 smith." in text
    assert "bob" not in text


def test_answers_and_results_are_thanked_for(alice):
    hook = published()
    question = actions.ask(revision=hook.latest, part="bar", step="s2", words="Hot?", by=person("bob"))
    answer = actions.answer(question=question, words="Yes.", by=person("charlie"))
    result = a_result(hook)
    alice.post(at("thank_answer", hook, answer.pk), {"named": "on"})
    fragment = alice.post(
        at("thank_result", hook, result.pk), {"named": "on"}, headers={"hx-request": "true"}
    )
    assert "Thanked by 1 smith: alice." in words(fragment)
    assert f'id="thanks-result-{result.pk}"' in fragment.content.decode()
    assert "Thanked by 1 smith: alice." in words(alice.get(question.get_absolute_url()))
    assert "Thanked by 1 smith: alice." in words(alice.get(result.get_absolute_url()))


def test_news_tell_each_what_is_theirs_and_are_marked_read(alice, charlie):
    hook = published()
    question = actions.ask(revision=hook.latest, part="bar", step="s2", words="Hot?", by=charlie.user)
    a_result(hook)
    actions.answer(question=question, words="Yes.", by=alice.user)
    page = reverse("procedures:news")
    text = words(alice.get(page))
    assert "charlie asked: Step 2" in text
    assert "charlie forged it" in text
    assert "answered you" not in text
    assert "alice answered you" in words(charlie.get(page))
    alice.post(reverse("procedures:read_news"), {"item": f"question-{question.pk}"})
    assert alice.get(page).content.decode().count("said--new") == 1
    alice.post(reverse("procedures:read_news"), {"until": timezone.now().isoformat()})
    assert "said--new" not in alice.get(page).content.decode()
    assert charlie.get(page).content.decode().count("said--new") == 1
    for bad in ({"until": "never"}, {"item": "question-x"}, {"item": "x-1"}, {}, {"until": "2026-01-01"}):
        assert alice.post(reverse("procedures:read_news"), bad).status_code == 302


def test_news_are_the_same_few_queries_however_many(alice, django_assert_max_num_queries):
    hook = published()
    for number in range(40):
        actions.ask(revision=hook.latest, part="bar", step="s2", words=f"{number}?", by=person("charlie"))
        a_result(hook)
    with django_assert_max_num_queries(10):
        html = alice.get(reverse("procedures:news")).content.decode()
    assert html.count("said--new") == 30


def test_answer_on_what_was_taken_back_is_no_news_to_a_stranger(alice, charlie):
    hook = published()
    question = actions.ask(revision=hook.latest, part="bar", step="s2", words="Hot?", by=charlie.user)
    actions.answer(question=question, words="Yes.", by=person("bob"))
    page = reverse("procedures:news")
    assert "bob answered you" in words(charlie.get(page))
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    assert "Nothing new" in words(charlie.get(page))
    assert "charlie asked" in words(alice.get(page))
