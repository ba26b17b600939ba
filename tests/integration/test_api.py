"""The HTTP API: who may do what with which token, conflicts, conditional answers, pages, limits."""

import io
import json
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import override_settings
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from procedures import actions, editing
from procedures.engine import document
from procedures.engine.replay import replay
from procedures.models import ApiToken, Procedure, WrittenWarning
from procedures.report import report

from .showing import a_draft, a_hook, person, published

pytestmark = pytest.mark.django_db
ROOT = "/api/1/"


def bearer(name="alice", *, writes=True, days=None):
    _, secret = actions.make_token(name="A script", writes=writes, days=days, by=person(name))
    return {"Authorization": f"Bearer {secret}"}


def send(client, method, path, body=None, **headers):
    data = {} if body is None else {"data": json.dumps(body), "content_type": "application/json"}
    return getattr(client, method)(ROOT + path, headers=headers, **data)


def told(response, status):
    assert response.status_code == status, response.content
    if status >= 400:
        assert response["Content-Type"] == "application/problem+json"
        body = response.json()
        assert (body["status"], body["type"]) == (status, "about:blank")
        assert body["title"]
        assert body["detail"]
        return body
    return response.json()


def test_a_stranger_reads_what_everybody_reads(client):
    hook, draft = published(), a_draft()
    found = told(send(client, "get", "procedures"), 200)
    assert [one["slug"] for one in found["results"]] == [hook.slug]
    assert told(send(client, "get", f"procedures/{hook.slug}"), 200)["revision"] == 1
    assert told(send(client, "get", f"procedures/{hook.slug}/document"), 200) == hook.latest.document
    told(send(client, "get", f"procedures/{draft.slug}"), 404)
    told(send(client, "get", f"procedures/{draft.slug}/document"), 404)
    told(send(client, "post", "procedures", a_hook()), 401)
    told(send(client, "get", "runs"), 401)


def test_a_cookie_opens_nothing(alice):
    draft = a_draft()
    told(send(alice, "get", f"procedures/{draft.slug}"), 404)
    told(send(alice, "delete", f"procedures/{draft.slug}"), 401)


def test_a_token_reads_what_its_owner_reads(client):
    draft = a_draft()
    own = bearer(writes=False)
    assert told(send(client, "get", f"procedures/{draft.slug}/document", **own), 200) == draft.document
    told(send(client, "get", f"procedures/{draft.slug}", **bearer("bob")), 404)


@pytest.mark.parametrize("sent", ["Bearer nothing", "Basic YTpi", "Bearer", "Bearer \x7f", "x" * 3000])
def test_a_token_that_opens_nothing_is_refused_and_not_ignored(client, sent):
    told(send(client, "get", "procedures", Authorization=sent), 401)


def test_a_token_that_reads_does_not_write(client):
    body = told(send(client, "post", "procedures", a_hook(), **bearer(writes=False)), 403)
    assert "write" in body["detail"]
    assert not Procedure.objects.exists()


def test_a_token_taken_back_or_over_opens_nothing(client, alice):
    own = bearer()
    alice.post(reverse("procedures:take_token_back", args=[ApiToken.objects.get().pk]))
    told(send(client, "get", "procedures", **own), 401)
    old = bearer(days=1)
    ApiToken.objects.update(expires=timezone.now() - timedelta(seconds=1))
    told(send(client, "get", "procedures", **old), 401)


def test_one_who_may_not_sign_in_has_no_token_that_opens(client):
    own = bearer("bob")
    person("bob").__class__.objects.filter(username="bob").update(is_active=False)
    told(send(client, "get", "procedures", **own), 401)


def test_a_draft_is_made_changed_published_and_read(client):
    own = bearer()
    made = send(client, "post", "procedures", a_hook(), **own)
    slug = told(made, 201)["slug"]
    assert made["Location"].endswith(f"/api/1/procedures/{slug}")
    changed = {**a_hook(), "summary": "For a lantern."}
    answer = send(client, "put", f"procedures/{slug}/document", changed, **own, **{"If-Match": made["ETag"]})
    assert told(answer, 200)["summary"] == "For a lantern."
    revision = told(send(client, "post", f"procedures/{slug}/publish", {"note": "First."}, **own), 201)
    assert (revision["number"], revision["note"]) == (1, "First.")
    assert told(send(client, "get", f"procedures/{slug}/document"), 200)["summary"] == "For a lantern."
    assert Procedure.objects.get(slug=slug).edits.count() == 2  # it can be undone on the bench


def test_a_change_of_an_older_draft_is_refused_and_changes_nothing(client):
    draft, own = a_draft(), bearer()
    old = editing.digest(draft.document)
    first = {**draft.document, "summary": "One."}
    told(
        send(client, "put", f"procedures/{draft.slug}/document", first, **own, **{"If-Match": f'"{old}"'}),
        200,
    )
    second = {**draft.document, "summary": "Two."}
    told(
        send(client, "put", f"procedures/{draft.slug}/document", second, **own, **{"If-Match": f'"{old}"'}),
        412,
    )
    draft.refresh_from_db()
    assert draft.document["summary"] == "One."
    told(send(client, "put", f"procedures/{draft.slug}/document", second, **own), 428)


def test_others_drafts_are_neither_changed_nor_deleted(client):
    hook = published()
    other = bearer("bob")
    tag = {"If-Match": f'"{hook.latest.digest}"'}
    told(send(client, "put", f"procedures/{hook.slug}/document", a_hook(), **other, **tag), 404)
    told(send(client, "post", f"procedures/{hook.slug}/publish", {}, **other), 404)
    told(send(client, "delete", f"procedures/{hook.slug}", **other), 404)


def test_what_is_published_is_not_deleted_by_a_program(client):
    hook, own = published(), bearer()
    assert "withdraw" in told(send(client, "delete", f"procedures/{hook.slug}", **own), 409)["detail"]
    draft = a_draft()
    assert send(client, "delete", f"procedures/{draft.slug}", **own).status_code == 204
    assert not Procedure.objects.filter(pk=draft.pk).exists()


def test_a_stop_keeps_it_from_being_published_and_names_the_step(client):
    stored = a_hook()
    stored["parts"][0]["steps"][1]["params"] = {}
    draft = a_draft(stored)
    body = told(send(client, "post", f"procedures/{draft.slug}/publish", {}, **bearer()), 422)
    assert body["stops"][0]["step"] == stored["parts"][0]["steps"][1]["key"]


def test_revisions_and_their_figures_are_those_published(client):
    hook = published()
    (one,) = told(send(client, "get", f"procedures/{hook.slug}/revisions"), 200)["results"]
    assert one["digest"] == hook.latest.digest
    figures = told(client.get(one["figures"]), 200)
    assert figures == report(replay(document.read(hook.latest.document)))
    assert editing.digest(figures) == one["figures_digest"]
    assert told(client.get(one["document"]), 200) == hook.latest.document


def test_what_was_withdrawn_says_so(client):
    hook = published()
    actions.unpublish(procedure=hook, reason="It tears.", by=person())
    assert "It tears." in told(send(client, "get", f"procedures/{hook.slug}"), 410)["detail"]


def test_nothing_is_sent_twice(client, django_assert_max_num_queries):
    hook = published()
    of_it = ("", "/document", "/revisions/1", "/revisions/1/figures")
    for path in ("operations", *(f"procedures/{hook.slug}{one}" for one in of_it)):
        first = send(client, "get", path)
        with django_assert_max_num_queries(3):
            again = send(client, "get", path, **{"If-None-Match": first["ETag"]})
        assert (again.status_code, again.content) == (304, b"")
        assert again["ETag"] == first["ETag"]


def test_a_list_comes_in_pages_with_links(client, monkeypatch):
    monkeypatch.setattr("procedures.api.reading.ON_A_PAGE", 2)
    for number in range(5):
        published({**a_hook(), "title": f"Hook {number}"})
    seen, address = [], f"{ROOT}procedures?q=hook"
    while address:
        answer = client.get(address)
        body = told(answer, 200)
        assert body["count"] == 5
        seen += [one["title"] for one in body["results"]]
        assert ('rel="next"' in answer["Link"]) is bool(body["next"])
        address = body["next"]
    assert sorted(seen) == [f"Hook {number}" for number in range(5)]
    told(send(client, "get", "procedures?page=9"), 404)


def test_a_photo_is_made_anew_and_shown_at_its_step(client):
    draft, own = a_draft(), bearer()
    step = draft.document["parts"][0]["steps"][0]
    part = draft.document["parts"][0]["key"]
    picture = io.BytesIO()
    Image.new("RGB", (600, 400), "grey").save(picture, "PNG")
    address = f"{ROOT}procedures/{draft.slug}/steps/{part}/{step['key']}/photos"
    file = SimpleUploadedFile("eye.png", picture.getvalue(), "image/png")
    made = client.post(address, {"file": file}, headers=own)
    digest = told(made, 201)["digest"]
    assert [
        one["digest"]
        for one in told(send(client, "get", f"procedures/{draft.slug}/photos", **own), 200)["results"]
    ] == [digest]
    told(send(client, "get", f"procedures/{draft.slug}/photos"), 404)
    bad = client.post(
        address, {"file": SimpleUploadedFile("x.jpg", b"no picture", "image/jpeg")}, headers=own
    )
    told(bad, 422)


def test_who_is_kept_from_writing_writes_by_no_program(client):
    own = bearer()
    WrittenWarning.objects.create(user=person(), words="Be kind.", by=person("bob"))
    assert "account page" in told(send(client, "post", "procedures", a_hook(), **own), 403)["detail"]
    told(send(client, "get", "procedures", **own), 200)


def test_any_document_is_replayed_and_nothing_kept(client):
    stored = a_hook()
    assert told(send(client, "post", "replay", stored), 200) == report(
        replay(document.read(stored, draft=True))
    )
    assert not Procedure.objects.exists()


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        (b"{", "application/json", 400),
        (b'{"title": NaN}', "application/json", 400),
        (b'{"a": 1, "a": 2}', "application/json", 400),
        (b"[" * 100_000, "application/json", 400),
        (b"[]", "application/json", 422),
        (b"{}", "application/json", 422),
        (b"<x/>", "text/xml", 415),
        (b'"' + b"a" * 5_100_000 + b'"', "application/json", 413),
    ],
)
def test_what_does_not_read_is_refused_in_words(client, body, kind, status):
    for path, headers in (("replay", {}), ("procedures", bearer())):
        told(client.post(ROOT + path, body, content_type=kind, headers=headers), status)
    assert not Procedure.objects.exists()


def test_calculators_answer_as_their_pages_do(client):
    body = told(send(client, "get", "calculators/bar_mass?area=20+sq&length=1000"), 200)
    assert body["value"].replace("\u202f", " ") == "3.14 kg"  # 20 x 20 x 1000 mm at 7850 kg/m3
    assert told(send(client, "get", "calculators/bar_mass?area=nonsense&length=1"), 422)["errors"]
    told(send(client, "get", "calculators/nothing"), 404)


def test_too_much_is_told_when_to_come_back(client):
    address = f"{ROOT}operations/taper"
    answers = [client.get(address, REMOTE_ADDR="192.0.2.7") for _ in range(400)]
    told(answers[-1], 429)
    assert int(answers[-1]["Retry-After"]) > 0
    assert client.get(address, REMOTE_ADDR="192.0.2.8").status_code == 200


def test_a_token_that_writes_too_much_is_stopped(client, settings):
    own = bearer()
    with override_settings(ACCOUNT_RATE_LIMITS={**settings.ACCOUNT_RATE_LIMITS, "api_write": "1/h/key"}):
        told(send(client, "post", "procedures", a_hook(), **own), 201)
        told(send(client, "post", "procedures", a_hook(), **own), 429)
    assert Procedure.objects.count() == 1


def test_pages_of_other_sites_may_read(client):
    assert send(client, "get", "procedures")["Access-Control-Allow-Origin"] == "*"


def test_a_secret_is_shown_once_and_kept_nowhere(alice):
    made = alice.post(reverse("procedures:tokens"), {"name": "Backup", "scope": "read", "lasts": "30"})
    assert made.status_code == 201
    secret = made.context["secret"]
    assert secret.encode() in made.content
    token = ApiToken.objects.get()
    assert secret not in (token.digest, token.hint, token.name)
    assert timedelta(days=29) < token.expires - timezone.now() < timedelta(days=31)
    assert secret.encode() not in alice.get(reverse("procedures:tokens")).content
    assert alice.post(reverse("procedures:tokens"), {"name": "", "scope": "all"}).status_code == 422


def test_a_token_is_its_owners_alone(alice, charlie):
    bearer()
    address = reverse("procedures:take_token_back", args=[ApiToken.objects.get().pk])
    assert charlie.post(address).status_code == 404
    assert ApiToken.objects.count() == 1


def test_how_programs_read_is_told_on_a_page(client):
    assert b"/api/1/openapi.json" in client.get("/api/").content
    described = client.get("/api/1/openapi.json").json()
    assert described["openapi"].startswith("3.")
    for path in described["paths"].values():
        for operation in path.values():
            assert operation["summary"]
            assert operation["description"]
