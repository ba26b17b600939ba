"""Runs as phones send them: once each, to who may have them, and never half."""

import json
from uuid import uuid4

import pytest
from django.urls import reverse

from procedures import actions
from procedures.models import Course, Run, RunEntry

from .showing import a_draft, person, published, taught

pytestmark = pytest.mark.django_db

KEY = "0123456789abcdef0123456789abcdef"


def an_entry(place: int, kind: str = "heat", **more):
    return {
        "id": str(uuid4()),
        "n": place,
        "kind": kind,
        "part": "bar",
        "step": "s2",
        "number": 2,
        "at": 1.8e12 + place,
        **more,
    }


def about(procedure, **more):
    return {
        "slug": procedure.slug,
        "revision": procedure.latest.number if procedure.latest else None,
        "units": "metric",
        "nominal": False,
        "started": 1.8e12,
        "ended": False,
        "name": "",
        "code": "",
        **more,
    }


def send(client, run, procedure, *entries, key=KEY, **more):
    body = {"key": key, "run": about(procedure, **more), "entries": list(entries)}
    return client.post(
        reverse("procedures:take_in_run", args=[run]), json.dumps(body), content_type="application/json"
    )


@pytest.fixture
def course():
    return actions.open_course(procedure=published(), title="Tuesday", by=person("alice"))


def test_what_is_sent_twice_is_there_once(client, course):
    run, entries = uuid4(), [an_entry(n) for n in range(5)]
    first = send(client, run, taught(course), *entries[:3], code=course.code)
    again = send(client, run, taught(course), *entries, code=course.code)
    assert set(first.json()["have"]) == {one["id"] for one in entries[:3]}
    assert set(again.json()["have"]) == {one["id"] for one in entries}
    assert RunEntry.objects.filter(run=run).count() == 5
    assert Run.objects.get().course == course


def test_two_phones_cannot_write_into_one_run_without_its_key(client, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1), code=course.code)
    other = send(client, run, taught(course), an_entry(2), code=course.code, key="f" * 32)
    assert other.status_code == 403
    assert RunEntry.objects.count() == 1


def test_an_entry_of_another_run_is_not_taken_over(client, course):
    entry = an_entry(1)
    send(client, uuid4(), taught(course), entry, code=course.code)
    answer = send(client, uuid4(), taught(course), entry, code=course.code)
    assert answer.json()["have"] == []


def test_without_class_or_account_nothing_is_kept(client):
    answer = send(client, uuid4(), published(), an_entry(1))
    assert answer.status_code == 409
    assert "stays on the phone" in answer.json()["fault"]
    assert Run.objects.count() == 0


def test_a_run_joins_an_account_later(client, alice, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1), code=course.code)
    send(alice, run, taught(course), an_entry(2), code=course.code, account=True)
    assert Run.objects.get().owner == alice.user
    assert alice.get(f"/runs/{run}/").status_code == 200
    assert "Draw out" in alice.get(f"/runs/{run}/").content.decode()


def test_signed_in_alone_takes_no_run_into_the_account(alice):
    assert send(alice, uuid4(), published(), an_entry(1)).status_code == 409


@pytest.mark.parametrize("clock", [-1e18, 0, 1e18, 4.2e12])
def test_a_clock_that_is_wrong_loses_nothing(client, course, clock):
    answer = send(client, uuid4(), taught(course), an_entry(1, at=clock), code=course.code)
    assert len(answer.json()["have"]) == 1


@pytest.mark.parametrize(
    "bad",
    [
        {"kind": "rm"},
        {"id": "7"},
        {"n": -1},
        {"n": "1"},
        {"n": True},
        {"at": "now"},
        {"at": None},
        {"text": "x" * 5000},
        {"part": 3},
        {"step": "x" * 99},
        {"step": "\0"},
    ],
)
def test_a_bad_entry_is_refused_in_words_and_nothing_of_it_is_kept(client, course, bad):
    answer = send(client, uuid4(), taught(course), an_entry(1), an_entry(2, **bad), code=course.code)
    assert answer.status_code == 409
    assert answer.json()["fault"]
    assert (Run.objects.count(), RunEntry.objects.count()) == (0, 0)


@pytest.mark.parametrize("body", ["[]", "nonsense", "[" * 100_000, '{"key": "k"}', '{"run": 1}', "NaN"])
def test_what_does_not_read_is_refused(client, body):
    address = reverse("procedures:take_in_run", args=[uuid4()])
    answer = client.post(address, body, content_type="application/json")
    assert answer.status_code in (400, 409)
    assert answer.json()["fault"]
    assert client.post(address, {"key": KEY}).status_code == 415
    assert client.get(address).status_code == 405


def test_at_most_so_many_are_taken_at_once_and_in_all(client, course, monkeypatch):
    many = [an_entry(n) for n in range(501)]
    assert send(client, uuid4(), taught(course), *many, code=course.code).status_code == 409
    run = uuid4()
    for _ in range(11):
        answer = send(client, run, taught(course), *[an_entry(n) for n in range(500)], code=course.code)
    assert answer.status_code == 200
    assert send(client, run, taught(course), an_entry(1), code=course.code).status_code == 409
    assert RunEntry.objects.count() == 5500


def test_a_run_of_a_draft_is_its_owners(client, alice):
    draft = a_draft()
    assert send(client, uuid4(), draft, an_entry(1)).status_code == 409
    assert send(alice, uuid4(), draft, an_entry(1), account=True).status_code == 200


def test_a_class_of_another_procedure_or_one_that_ended_is_not_joined(client, course):
    other = published(owner="bob")
    assert send(client, uuid4(), other, an_entry(1), code=course.code).status_code == 409
    actions.end_course(course=course, by=course.teacher)
    answer = send(client, uuid4(), taught(course), an_entry(1), code=course.code)
    assert "no class open" in answer.json()["fault"]


def test_who_is_in_a_class_that_ended_may_still_send(client, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1), code=course.code)
    actions.end_course(course=course, by=course.teacher)
    assert send(client, run, taught(course), an_entry(2), code=course.code).status_code == 200


def test_a_run_is_seen_by_its_maker_and_the_teacher_only(client, alice, charlie, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1, "note", text="<b>short</b>"), code=course.code, name="Kim")
    html = alice.get(f"/runs/{run}/").content.decode()
    assert "&lt;b&gt;short" in html
    for address in (f"/runs/{run}/", f"/runs/{run}/run.json", f"/runs/{run}/delete/"):
        assert charlie.get(address).status_code == 404
        assert client.get(address).status_code == 302
    assert charlie.post(f"/runs/{run}/delete/").status_code == 404
    assert Run.objects.count() == 1


def test_an_ending_that_is_taken_back_is_none(client, alice, course):
    run, entries = uuid4(), [an_entry(1), an_entry(2, "done"), an_entry(3, "undone")]
    send(client, run, taught(course), *entries[:2], code=course.code, ended=True)
    assert "Done" in alice.get(course.get_absolute_url()).content.decode()
    send(client, run, taught(course), *entries, code=course.code)
    assert not Run.objects.get().ended
    board = alice.get(course.get_absolute_url()).content.decode()
    assert "Step 2, Draw out" in board


def test_what_was_measured_stands_beside_what_was_planned(client, alice, course):
    planned = {"length": "152.4 mm"}
    entry = an_entry(1, "measured", what="run", branch="bar", length="150", planned=planned)
    run = uuid4()
    send(client, run, taught(course), entry, code=course.code)
    assert "measured: 150, planned 152.4 mm" in alice.get(f"/runs/{run}/").content.decode()
    send(client, run, taught(course), an_entry(2, "measured", length="1", planned=7), code=course.code)
    assert alice.get(f"/runs/{run}/").status_code == 200


def test_a_run_is_taken_away_whole_and_deleted(client, alice, course):
    run = uuid4()
    entries = [an_entry(1), an_entry(2, "measured", what="run", branch="bar", length="150")]
    send(client, run, taught(course), *entries, code=course.code)
    whole = alice.get(f"/runs/{run}/run.json").json()
    assert [one["id"] for one in whole["entries"]] == [one["id"] for one in entries]
    assert whole["entries"][1]["length"] == "150"
    assert "key" not in whole
    assert alice.post(f"/runs/{run}/delete/").url == course.get_absolute_url()
    assert Run.objects.count() == 0


def test_the_phone_that_made_a_run_deletes_it(client, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1), code=course.code)
    address = reverse("procedures:forget_run", args=[run])
    wrong = client.post(address, json.dumps({"key": "f" * 32}), content_type="application/json")
    assert wrong.status_code == 403
    right = client.post(address, json.dumps({"key": KEY}), content_type="application/json")
    assert right.json() == {"forgotten": True}
    assert client.post(address, json.dumps({"key": KEY}), content_type="application/json").status_code == 200
    assert Run.objects.count() == 0


def test_deleting_a_class_leaves_what_belongs_to_accounts(client, alice, course):
    mine, anonymous = uuid4(), uuid4()
    send(alice, mine, taught(course), an_entry(1), code=course.code, account=True)
    send(client, anonymous, taught(course), an_entry(1), code=course.code)
    assert alice.post(f"/classes/{course.pk}/delete/").status_code == 302
    assert [one.pk for one in Run.objects.all()] == [mine]
    assert Course.objects.count() == 0


def test_a_procedure_with_runs_and_classes_can_be_deleted(client, course):
    send(client, uuid4(), taught(course), an_entry(1), code=course.code)
    actions.delete_procedure(procedure=taught(course), by=course.teacher)
    assert (course.assignments.count(), Run.objects.count()) == (0, 0)
    assert "Nothing is assigned" in client.get("/join/", {"code": course.code}).content.decode()
