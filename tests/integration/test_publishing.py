"""Publishing freezes the draft; stops stand in its way."""

import pytest
from django.urls import reverse

from procedures import actions, editing
from procedures.actions import Stops
from tests.unit.engine.documents import a_document, a_part, drawn_out

from .authoring import stored, typed, words
from .showing import a_draft, published

pytestmark = pytest.mark.django_db


def stopped_draft():
    return a_draft(a_document(a_part(drawn_out(12), drawn_out(25))))


def page(procedure, name="publish"):
    return reverse(f"procedures:{name}", args=[procedure.slug])


def test_draft_with_a_stop_is_refused_with_links_to_its_steps(alice):
    draft = stopped_draft()
    for response in (alice.get(page(draft)), alice.post(page(draft))):
        text = words(response)
        assert "Not yet." in text
        assert "Bar, step 2: Draw out" in text
        assert "holds more metal" in text
        assert f"/p/{draft.slug}/edit/?part=bar&amp;step=s2" in response.content.decode()
    assert alice.post(page(draft)).status_code == 422
    draft.refresh_from_db()
    assert draft.status == "draft"
    assert draft.latest is None


def test_action_names_the_stops():
    with pytest.raises(Stops) as caught:
        actions.publish(procedure=stopped_draft(), by=None)
    ((frame, finding),) = caught.value.stops
    assert (frame.key, finding.code) == ("s2", "draw_out.target_not_thinner")


def test_published_revision_stays_as_it_is(alice, client):
    hook = a_draft()
    assert alice.post(page(hook)).status_code == 302
    typed(alice, hook, "s2", param__target="10 sq")
    hook.refresh_from_db()
    revision = hook.latest
    assert revision.number == 1
    assert revision.document["parts"][0]["steps"][1]["params"]["target"]["side"] == 12
    assert revision.digest == editing.digest(revision.document)
    assert len(revision.frames_digest) == 64
    assert "□12" in words(client.get(f"/p/{hook.slug}/"))


def test_publishing_again_makes_the_next_revision_only_of_something_new(alice):
    hook = published()
    assert "The draft is the same as revision 1" in words(alice.get(page(hook)))
    alice.post(page(hook))
    assert hook.revisions.count() == 1
    typed(alice, hook, "s2", param__target="10 sq")
    assert "as revision 2" in words(alice.get(page(hook)))
    alice.post(page(hook))
    hook.refresh_from_db()
    assert (hook.latest.number, hook.revisions.count()) == (2, 2)


def test_unpublished_procedure_is_its_owners_again(alice, client):
    hook = published()
    assert alice.post(page(hook, "unpublish")).status_code == 422  # a reason is wanted
    alice.post(page(hook, "unpublish"), {"reason": "The eye tears."})
    assert client.get(f"/p/{hook.slug}/").status_code == 410
    assert alice.get(f"/p/{hook.slug}/").status_code == 200
    assert hook.revisions.count() == 1


def test_deleting_asks_once_and_then_deletes_it_all(alice, client):
    hook = published()
    asked = alice.get(page(hook, "delete"))
    assert "This cannot be undone." in words(asked)
    assert "1 published revision" in words(asked)
    hook.refresh_from_db()
    assert alice.post(page(hook, "delete")).status_code == 302
    assert client.get(f"/p/{hook.slug}/").status_code == 404


def test_details_are_saved(alice):
    hook = a_draft()
    fields = {
        "base": editing.details_digest(stored(hook)),
        "title": "A hook for hats",
        "summary": "Two\r\nlines.",
        "level": "advanced",
        "licence": "CC0-1.0",
        "credits": "Ada of the fens\n\nBert",
        "fire": "coal",
        "forging": "0,05",
        "welding": "",
    }
    assert alice.post(page(hook, "settings"), fields).status_code == 302
    document = stored(hook)
    assert document["credits"] == ["Ada of the fens", "Bert"]
    assert document["summary"] == "Two\nlines."
    assert document["scale"] == {"fire": "coal", "forging": 0.05}
    assert (hook.title, document["level"], document["licence"]) == ("A hook for hats", "advanced", "CC0-1.0")


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("title", "", "required"),
        ("title", "x" * 121, "120"),
        ("level", "wizard", "not one of"),
        ("fire", "dragon", "not one of"),
        ("forging", "6", "at most 5 mm"),
        ("forging", "-1", "-1"),
        ("credits", "x" * 121, "121 letters"),
        ("credits", "one\n" * 41, "41 lines"),
    ],
)
def test_details_that_cannot_be_are_refused_with_the_reason(alice, field, value, said):
    hook = a_draft()
    fields = {
        "base": editing.details_digest(stored(hook)),
        "title": "A hook",
        "level": "beginner",
        "licence": "CC0-1.0",
        "fire": "coal",
        "forging": "",
        "welding": "",
    }
    response = alice.post(page(hook, "settings"), fields | {field: value})
    assert response.status_code == 422
    assert said in words(response)
    assert "scale" not in stored(hook)
