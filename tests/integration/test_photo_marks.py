"""Marks on photos: typed in rows without script, refused beside the field, kept by undo and revisions."""

import io
import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from procedures import actions
from procedures.engine.annotation import Annotation
from procedures.engine.document import read, write

from .authoring import stored, the_form, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db

ARROW = {"kind": "arrow", "x": "20", "y": "30", "to_x": "50", "to_y": "60", "text": "hold here"}
DIMENSION = {"kind": "dimension", "x": "10", "y": "90", "to_x": "60", "to_y": "90", "length": "45"}
LABEL = {"kind": "label", "x": "80", "y": "10", "text": "the horn"}
SCRIPT = "<script>alert(1)</script>"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def with_photo(client, procedure, alt="The end, drawn out.", shade="firebrick") -> str:
    """Put a photo to the second step; its digest."""
    held = io.BytesIO()
    Image.new("RGB", (1200, 800), shade).save(held, "JPEG")
    file = SimpleUploadedFile("hook.jpg", held.getvalue(), content_type="image/jpeg")
    address = reverse("procedures:add_photo", args=[procedure.slug, "bar", "s2"])
    assert client.post(address, {"file": file, "alt": alt}).status_code == 302
    return stored(procedure, "s2")["photos"][-1]["digest"]


def address(procedure, digest, step="s2") -> str:
    return reverse("procedures:mark_photo", args=[procedure.slug, "bar", step, digest])


def fields(*rows, base="") -> dict[str, str]:
    typed = {f"mark-{index}-{key}": value for index, row in enumerate(rows) for key, value in row.items()}
    return {"mark-TOTAL_FORMS": str(len(rows)), "mark-INITIAL_FORMS": "0", "base": base, **typed}


def mark(client, procedure, digest, *rows, **more):
    base = re.search(r'name="base" value="([^"]+)"', client.get(address(procedure, digest)).content.decode())
    return client.post(address(procedure, digest), fields(*rows, base=base[1]) | more)


def marks(procedure) -> list:
    return stored(procedure, "s2")["photos"][0].get("annotations", [])


def test_rows_become_data_of_the_document_and_come_back_in_the_form(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    assert mark(alice, hook, digest, ARROW, DIMENSION, LABEL, {"kind": "arrow"}).status_code == 302
    assert marks(hook) == [
        {"kind": "arrow", "points": [[0.2, 0.3], [0.5, 0.6]], "text": "hold here"},
        {"kind": "dimension", "points": [[0.1, 0.9], [0.6, 0.9]], "length": 45.0},
        {"kind": "label", "points": [[0.8, 0.1]], "text": "the horn"},
    ]
    form = the_form(alice.get(address(hook, digest)).content.decode(), "marks-form").fields
    assert form["mark-0-to_x"] == "50"
    assert form["mark-1-length"] == "45"
    assert form["mark-2-kind"] == "label"
    assert form["mark-2-to_x"] == ""


def test_saving_what_was_shown_changes_no_stored_digit(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    point = (1 / 3, 2 / 7)
    actions.annotate_photo(
        procedure=hook,
        part="bar",
        step="s2",
        digest=digest,
        annotations=[Annotation("dimension", (point, (0.9, 0.9)), "", 1000 / 3)],
        base=actions.marks_digest({}),
        by=alice.user,
    )
    before = marks(hook)
    form = the_form(alice.get(address(hook, digest)).content.decode(), "marks-form")
    assert alice.post(form.action, form.fields).status_code == 302
    assert marks(hook) == before


def test_marks_are_undone_and_redone_with_the_history(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW)
    mark(alice, hook, digest, ARROW, LABEL)
    for verb, count in (("undo", 1), ("undo", 0), ("redo", 1)):
        alice.post(reverse(f"procedures:{verb}", args=[hook.slug]))
        assert len(marks(hook)) == count


def test_changing_the_words_of_a_photo_keeps_its_marks(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW)
    at = reverse("procedures:edit_photo", args=[hook.slug, "bar", "s2", digest])
    alice.post(at, {"alt": "Another look", "caption": ""})
    photo = stored(hook, "s2")["photos"][0]
    assert photo["alt"] == "Another look"
    assert len(photo["annotations"]) == 1


def test_removed_row_is_gone_and_the_last_one_leaves_nothing(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW, LABEL)
    mark(alice, hook, digest, ARROW | {"DELETE": "on", "x": "nonsense"}, LABEL)
    assert [one["kind"] for one in marks(hook)] == ["label"]
    mark(alice, hook, digest, LABEL | {"DELETE": "on"})
    assert "annotations" not in stored(hook, "s2")["photos"][0]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (ARROW | {"x": "120"}, "120 % lies outside the photo"),
        (ARROW | {"x": "-3"}, "-3 % lies outside the photo"),
        (ARROW | {"y": "nan"}, "nan"),
        (ARROW | {"y": "inf"}, "inf"),
        (ARROW | {"y": "9**9**9"}, "Type a number"),
        (ARROW | {"to_y": ""}, "Say where: 0 to 100 %."),
        (ARROW | {"to_x": "20", "to_y": "30"}, "at least 1 % of the photo apart"),
        (ARROW | {"text": "x" * 500}, "500 characters long; the words of a mark have at most 80"),
        (ARROW | {"length": "45"}, "Only a dimension has a length"),
        (ARROW | {"kind": "star"}, "not one of the available choices"),
        (DIMENSION | {"length": "1e400"}, "1e400"),
        (DIMENSION | {"length": ""}, "A dimension needs a length or words."),
        (LABEL | {"text": ""}, "A label needs words."),
    ],
)
def test_what_cannot_be_a_mark_is_refused_beside_its_field_and_nothing_typed_is_lost(alice, row, said):
    hook = a_draft()
    digest = with_photo(alice, hook)
    response = mark(alice, hook, digest, LABEL, row)
    assert response.status_code == 422
    assert said in words(response)
    html = response.content.decode()
    assert 'class="field__error"' in html
    typed = the_form(html, "marks-form").fields
    assert typed["mark-0-text"] == "the horn"
    for key, value in row.items():
        if key != "kind":
            assert typed[f"mark-1-{key}"] == value
    assert marks(hook) == []


def test_too_many_marks_are_refused_in_words(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    response = mark(alice, hook, digest, *[LABEL] * 100)
    assert response.status_code == 422
    assert "There are 100 marks; a photo takes at most 24" in words(response)
    assert the_form(response.content.decode(), "marks-form").fields["mark-99-text"] == "the horn"


@pytest.mark.parametrize("count", ["", "-1", "x", "99999999999"])
def test_form_that_says_nonsense_of_its_rows_is_no_crash(alice, count):
    hook = a_draft()
    digest = with_photo(alice, hook)
    for button in ({}, {"more": "1"}, {"preview": "1"}):
        response = alice.post(
            address(hook, digest), {"mark-TOTAL_FORMS": count, "mark-INITIAL_FORMS": "0"} | button
        )
        assert response.status_code in (200, 409, 422)
    assert marks(hook) == []


def test_one_more_row_keeps_what_is_typed(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    response = mark(alice, hook, digest, LABEL, more="1")
    assert response.status_code == 200
    typed = the_form(response.content.decode(), "marks-form").fields
    assert typed["mark-TOTAL_FORMS"] == "2"
    assert typed["mark-0-text"] == "the horn"
    assert typed["mark-1-x"] == ""
    assert marks(hook) == []


def test_preview_draws_the_faultless_rows_and_saves_nothing(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    response = mark(alice, hook, digest, ARROW, LABEL | {"x": "300", "text": "nowhere"}, preview="1")
    html = response.content.decode()
    assert response.status_code == 200
    assert "hold here" in html
    assert "nowhere" not in html
    assert "<html" not in html
    assert marks(hook) == []


def test_marks_saved_elsewhere_meanwhile_are_not_overwritten_unseen(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    page = the_form(alice.get(address(hook, digest)).content.decode(), "marks-form").fields
    mark(alice, hook, digest, ARROW)
    response = alice.post(address(hook, digest), fields(LABEL, base=page["base"]))
    assert response.status_code == 409
    assert "changed while you worked on them" in words(response)
    assert "hold here" in words(response)
    again = the_form(response.content.decode(), "marks-form").fields
    assert again["mark-0-text"] == "the horn"
    assert marks(hook)[0]["kind"] == "arrow"
    assert alice.post(address(hook, digest), again).status_code == 302
    assert [one["kind"] for one in marks(hook)] == ["label"]


def test_script_in_words_stays_words_everywhere(alice, client):
    hook = published()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW | {"text": SCRIPT}, LABEL | {"text": SCRIPT + "x" * 50})
    actions.publish(procedure=hook, by=alice.user)
    shown = [
        alice.get(address(hook, digest)),
        alice.get(f"/p/{hook.slug}/edit/?part=bar&step=s2"),
        client.get(f"/p/{hook.slug}/"),
        client.get(f"/p/{hook.slug}/follow/bar/2/"),
    ]
    for response in shown:
        assert response.status_code == 200
        assert "<script>alert" not in response.content.decode()
        assert "&lt;script&gt;alert" in response.content.decode()


def test_readers_see_the_marks_and_hear_their_words(alice, client):
    hook = published()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW, DIMENSION)
    assert 'class="over-photo"' not in client.get(f"/p/{hook.slug}/").content.decode()
    actions.publish(procedure=hook, by=alice.user)
    for page in (f"/p/{hook.slug}/", f"/p/{hook.slug}/follow/bar/2/"):
        html = client.get(page).content.decode()
        assert 'class="over-photo"' in html
        assert (
            "The end, drawn out. Marked on it: 1, arrow in the middle: hold here; "
            "2, dimension at the lower middle: 45\u202fmm."
        ) in html
    client.cookies["units"] = "inch"
    client.post(reverse("procedures:units"), {"units": "inch"})
    assert "1 3/4" in words(client.get(f"/p/{hook.slug}/follow/bar/2/")).replace("\xa0", " ")


def test_revision_and_exported_document_carry_the_marks(alice, client):
    hook = published()
    digest = with_photo(alice, hook)
    mark(alice, hook, digest, ARROW)
    actions.publish(procedure=hook, by=alice.user)
    mark(alice, hook, digest, LABEL)
    file = json.loads(client.get(reverse("procedures:document", args=[hook.slug])).content)
    assert write(read(file))["parts"][0]["steps"][1]["photos"][0]["annotations"] == [
        {"kind": "arrow", "points": [[0.2, 0.3], [0.5, 0.6]], "text": "hold here"}
    ]


def test_strangers_neither_see_nor_change_the_marks(alice, charlie, client):
    hook = published()
    digest = with_photo(alice, hook)
    at = address(hook, digest)
    for verb in ("get", "post"):
        assert getattr(charlie, verb)(at, fields(LABEL)).status_code == 404
        response = getattr(client, verb)(at)
        assert response.status_code == 302
        assert response.url.startswith("/accounts/login/")
    assert marks(hook) == []


def test_only_a_photo_of_the_step_itself_is_marked(alice, charlie):
    hook, theirs = a_draft(), a_draft(owner="charlie")
    digest = with_photo(alice, hook)
    foreign = with_photo(charlie, theirs, shade="navy")
    for at in (
        address(hook, foreign),
        address(hook, "0" * 64),
        address(hook, digest, "s1"),
        address(hook, digest, "s9"),
    ):
        assert alice.get(at).status_code == 404
        assert alice.post(at, fields(LABEL)).status_code == 404
    assert marks(theirs) == []


def test_photo_taken_away_meanwhile_is_said(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    alice.post(reverse("procedures:edit_photo", args=[hook.slug, "bar", "s2", digest]), {"remove": "1"})
    assert alice.post(address(hook, digest), fields(LABEL)).status_code == 404


def test_bench_leads_to_the_marks_and_nags_for_words(alice):
    hook = a_draft()
    digest = with_photo(alice, hook)
    bench = alice.get(f"/p/{hook.slug}/edit/?part=bar&step=s2")
    assert address(hook, digest) in bench.content.decode()
    assert "say what it shows" not in words(bench)
    silent = a_draft(
        {
            **hook.document,
            "parts": json.loads(json.dumps(hook.document["parts"]).replace("The end, drawn out.", "")),
        }
    )
    assert "say what it shows" in words(alice.get(f"/p/{silent.slug}/edit/?part=bar&step=s2"))
    publish = alice.get(reverse("procedures:publish", args=[silent.slug]))
    assert "Photos without words." in words(publish)
    assert f"/p/{silent.slug}/edit/?part=bar&amp;step=s2#photos" in publish.content.decode()
    said = alice.get(reverse("procedures:publish", args=[hook.slug]))
    assert "Photos without words." not in words(said)
