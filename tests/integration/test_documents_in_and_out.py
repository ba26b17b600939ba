"""A procedure's document saved to a file, and taken in from one: all of it or nothing."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from procedures.engine.document import read, write
from procedures.models import Procedure

from .authoring import words
from .showing import a_draft, a_hook, published, retitled

pytestmark = pytest.mark.django_db


def take_in(client, content):
    text = content if isinstance(content, bytes) else json.dumps(content).encode()
    file = SimpleUploadedFile("hook.json", text, content_type="application/json")
    return client.post(reverse("procedures:take_in"), {"file": file})


def test_document_goes_out_and_comes_in_the_same(alice):
    hook = a_draft()
    out = alice.get(reverse("procedures:document", args=[hook.slug]))
    assert out["Content-Disposition"] == f'attachment; filename="{hook.slug}.json"'
    response = take_in(alice, out.content)
    assert response.status_code == 302
    twin = Procedure.objects.exclude(pk=hook.pk).get()
    assert twin.document == write(read(a_hook()))
    assert (twin.owner, twin.status) == (alice.user, "draft")
    assert twin.slug != hook.slug


def test_reader_gets_the_revision_and_the_owner_the_draft(alice, client):
    hook = published()
    retitled(hook, "A better hook")
    address = reverse("procedures:document", args=[hook.slug])
    assert json.loads(client.get(address).content)["title"] == "A hook"
    assert json.loads(alice.get(address).content)["title"] == "A better hook"


def with_fault(*path, value):
    document = a_hook()
    place = document
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return document


def ten_thousand_steps():
    document = a_hook()
    document["parts"][0]["steps"] = [{"key": f"s{n}", "operation": "planish"} for n in range(10_000)]
    return document


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"not json", "line 1, column 1"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"[" * 5000, "nested too deep"),
        (b'{"format": NaN}', "NaN is not a number in JSON"),
        (b'{"title": 1, "title": 2}', "twice"),
        (b'{"title": ' + b"9" * 5000 + b"}", "more digits"),
        (b"{}", "format"),
        (with_fault("format", value="another.thing"), "not a forgesite.procedure document"),
        (with_fault("version", value=99), "Version 99"),
        (with_fault("title", value=""), "title"),
        (with_fault("surprise", value=1), "surprise"),
        (with_fault("parts", 0, "stock", "length", value=-3), "parts/0/stock/length"),
        (with_fault("parts", 0, "stock", "length", value=10**400), "parts/0/stock/length"),
        (with_fault("parts", 0, "steps", 1, "operation", value="levitate"), "parts/0/steps/1/operation"),
        (with_fault("parts", 0, "steps", 1, "params", "target", value={}), "parts/0/steps/1/params/target"),
        (with_fault("parts", 0, "steps", 1, "params", "nonsense", value=1), "parts/0/steps/1/params"),
        (with_fault("parts", 0, "steps", 1, "key", value="s1"), "twice"),
        (ten_thousand_steps(), "There are 10000 steps; at most 1000 are replayed."),
    ],
)
def test_faulty_document_is_refused_with_its_fault_and_nothing_is_taken_in(alice, content, said):
    response = take_in(alice, content)
    assert response.status_code == 422
    assert said in words(response)
    assert not Procedure.objects.exists()


def test_file_too_large_to_be_one_is_refused(alice):
    response = take_in(alice, b'{"title": "' + b"x" * 6_000_000 + b'"}')
    assert response.status_code == 422
    assert "larger than 5 MB" in words(response)


def test_new_procedure_starts_from_a_bar(alice):
    fields = {
        "title": "Gate hook",
        "part": "Hook",
        "section": "ø12",
        "length": "400",
        "material": "mild_steel",
    }
    response = alice.post(reverse("procedures:new"), fields)
    made = Procedure.objects.get()
    assert response.url == f"/p/{made.slug}/edit/?part=hook"
    assert made.slug == "gate-hook"
    assert made.document["parts"][0]["stock"] == {
        "section": {"shape": "round", "diameter": 12.0},
        "length": 400.0,
    }


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("title", "", "required"),
        ("section", "", "Say what bar it starts from"),
        ("section", "brick", "“brick”"),
        ("length", "", "Say how long the bar is."),
        ("length", "-3", "-3"),
        ("length", "1e400 mm", "1e400"),
        ("length", "200 m", "100 m"),
        ("material", "mithril", "not one of"),
    ],
)
def test_new_procedure_without_what_it_needs_is_refused_with_the_reason(alice, field, text, said):
    fields = {
        "title": "Gate hook",
        "part": "Hook",
        "section": "ø12",
        "length": "400",
        "material": "mild_steel",
    }
    response = alice.post(reverse("procedures:new"), fields | {field: text})
    assert response.status_code == 422
    assert said in words(response)
    assert not Procedure.objects.exists()


def test_titles_that_are_alike_get_addresses_of_their_own(alice):
    assert len({a_draft().slug for _ in range(3)}) == 3
    assert a_draft(a_hook(title="Ω")).slug
