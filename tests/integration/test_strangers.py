"""Who does not own a draft can neither see it nor change it; scripts typed anywhere stay text."""

import pytest
from django.urls import reverse

from procedures import actions, editing
from tests.unit.engine.documents import a_document, a_part

from .authoring import HTMX, bench_of, stored, the_form, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db

SCRIPT = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>"

CHANGES = [
    ("edit_step", ["bar", "s2"]),
    ("move_step", ["bar", "s2"]),
    ("duplicate_step", ["bar", "s2"]),
    ("delete_step", ["bar", "s2"]),
    ("insert_step", ["bar"]),
    ("edit_part", ["bar"]),
    ("delete_part", ["bar"]),
    ("add_part", []),
    ("add_photo", ["bar", "s2"]),
    ("undo", []),
    ("redo", []),
    ("settings", []),
    ("publish", []),
    ("unpublish", []),
    ("delete", []),
]
VIEWS = [
    ("edit", []),
    ("settings", []),
    ("publish", []),
    ("delete", []),
    ("piece", ["bar"]),
    ("drawing", ["bar", "s2"]),
]


@pytest.mark.parametrize("make", [a_draft, published], ids=["draft", "public"])
@pytest.mark.parametrize(("name", "more"), CHANGES)
def test_stranger_changes_nothing(client, charlie, name, more, make):
    hook = make()
    before = stored(hook)
    address = reverse(f"procedures:{name}", args=[hook.slug, *more])
    assert charlie.post(address, {"to": "0", "operation": "planish", "title": "Mine"}).status_code == 404
    response = client.post(address)
    assert response.status_code == 302
    assert response.url.startswith("/accounts/login/")
    assert stored(hook) == before
    assert (hook.version, hook.status) == (1, "draft" if make is a_draft else "public")


@pytest.mark.parametrize(("name", "more"), VIEWS)
def test_stranger_sees_no_draft(client, charlie, name, more):
    hook = published()
    address = reverse(f"procedures:{name}", args=[hook.slug, *more])
    assert charlie.get(address).status_code == 404
    assert client.get(address).url.startswith("/accounts/login/")


def test_who_was_signed_out_meanwhile_is_sent_to_sign_in_by_the_whole_page(client):
    hook = a_draft()
    address = reverse("procedures:edit_step", args=[hook.slug, "bar", "s2"])
    here = f"http://testserver/p/{hook.slug}/edit/?part=bar&step=s2"
    response = client.post(address, headers={**HTMX, "hx-current-url": here})
    assert response["HX-Redirect"].startswith("/accounts/login/?next=/p/")


def test_script_in_any_text_is_shown_as_text(alice):
    document = a_document(a_part(), title=SCRIPT[:120], summary=SCRIPT, credits=[SCRIPT])
    document["parts"][0]["name"] = "<script>alert(3)</script>"
    document["parts"][0]["steps"] = [
        {
            "key": "s1",
            "operation": "mark_out",
            "params": {"marks": [{"name": "<script>alert(4)</script>", "on": "bar", "datum": "centre"}]},
            "tongs": SCRIPT[:80],
            "note": f"{SCRIPT}\n\n[a](javascript:alert(5)) ![b](http://elsewhere.example/x.png)",
            "photos": [{"digest": "0" * 64, "alt": SCRIPT, "caption": SCRIPT}],
        },
        {"key": "s2", "operation": "<script>", "params": {"<b>": "<script>alert(6)</script>"}},
    ]
    draft = a_draft(document)
    pages = [
        bench_of(alice, draft, "s1"),
        bench_of(alice, draft, "s2"),
        bench_of(alice, draft),
        *(
            alice.get(reverse(f"procedures:{name}", args=[draft.slug])).content.decode()
            for name in ("settings", "publish", "delete")
        ),
        alice.get(f"/p/{draft.slug}/").content.decode(),
    ]
    for html in pages:
        assert "<script>alert" not in html
        assert "<img src=x" not in html
        assert 'href="javascript' not in html
        assert 'src="http' not in html


def test_script_typed_into_a_field_comes_back_as_text(alice):
    hook = a_draft()
    form = the_form(bench_of(alice, hook, "s2"), "step-form")
    response = alice.post(form.action, form.fields | {"param-target": SCRIPT}, headers=HTMX)
    assert response.status_code == 422
    assert "<script>" not in response.content.decode()
    assert "<img src=x" not in response.content.decode()


def test_conflict_shows_script_as_text(alice):
    hook = a_draft()
    form = the_form(bench_of(alice, hook, "s2"), "step-form")
    base = editing.step_digest(stored(hook, "s2"))
    actions.edit_step(
        procedure=hook, part="bar", step="s2", fields={"note": SCRIPT}, base=base, by=alice.user
    )
    response = alice.post(form.action, form.fields | {"note": SCRIPT + " mine"}, headers=HTMX)
    assert response.status_code == 409
    assert "<script>" not in response.content.decode()


def test_too_many_new_procedures_in_an_hour_are_turned_away(alice, settings):
    settings.ACCOUNT_RATE_LIMITS = {"create": "2/h/user"}
    fields = {"title": "Hook", "part": "Hook", "section": "12 sq", "length": "300", "material": "mild_steel"}
    answers = [alice.post(reverse("procedures:new"), fields) for _ in range(3)]
    assert [one.status_code for one in answers] == [302, 302, 429]
    assert "Too many at once" in words(answers[-1])
