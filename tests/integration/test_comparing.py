"""Two versions side by side: what was given, what comes of it, the words, and the drawings on request."""

import re

import pytest
from django.urls import reverse

from procedures import actions, editing
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .authoring import typed, words
from .showing import a_draft, a_hook, published

pytestmark = pytest.mark.django_db


def compared(client, hook, status=200, **query):
    response = client.get(reverse("procedures:compare", args=[hook.slug]), query)
    assert response.status_code == status
    return response.content.decode()


def rows(html):
    """The rows of a page, as (label, before, after)."""
    found = re.findall(r'<div class="pairs__row pairs__row--.*?</div>', html, re.DOTALL)
    cells = [re.findall(r"<d[td].*?</d[td]>", one, re.DOTALL) for one in found]
    return [
        tuple(re.sub(r"^(Revision \d+|Draft): ", "", words(cell).strip()) for cell in one) for one in cells
    ]


def twice_published(alice, **changes):
    hook = published()
    typed(alice, hook, "s2", **changes or {"param__target": "10 sq"})
    actions.publish(procedure=hook, by=alice.user)
    hook.refresh_from_db()
    return hook


def test_parameters_and_resulting_sizes_stand_side_by_side(alice, client):
    hook = twice_published(alice)
    found = rows(compared(client, hook, **{"from": 1, "to": 2}))
    assert ("Target section", "□12 mm", "□10 mm") in found
    assert ("Section after it", "□11.8 mm", "□9.8 mm") in found or any(
        one[0] == "Section after it" and one[1] != one[2] for one in found
    )
    assert any(label == "Worked part after it" for label, _, _ in found)
    assert any(label == "Instruction" for label, _, _ in found)


def test_both_unit_systems(alice, client):
    hook = twice_published(alice)
    client.cookies["units"] = "inch"
    html = compared(client, hook, **{"from": 1, "to": 2})
    assert " in" in words(html)
    assert "□10 mm" not in words(html)


def test_words_are_compared(alice, client):
    hook = twice_published(alice, note="Turn it **slowly**.", tongs="V-bit tongs")
    found = rows(compared(client, hook, **{"from": 1, "to": 2}))
    assert ("Note", "Turn it **often**.", "Turn it **slowly**.") in found
    assert ("Tongs", "flat-jaw tongs", "V-bit tongs") in found
    assert not any(label.endswith("after it") for label, _, _ in found)


def test_added_removed_and_moved_steps_are_told(alice, client):
    hook = published()
    actions.move_step(procedure=hook, part="bar", step="s2", to=0, by=alice.user)
    actions.delete_step(procedure=hook, part="bar", step="s1", by=alice.user)
    actions.publish(procedure=hook, by=alice.user)
    text = words(compared(client, hook, **{"from": 1, "to": 2}))
    assert "Steps: 1 removed." in text
    assert "Step 1: Mark out Removed" in text
    back = words(compared(client, hook, **{"from": 2, "to": 1}))
    assert "Steps: 1 added." in back


def test_same_step_that_comes_out_otherwise_is_told(alice, client):
    hook = published(a_document(a_part(drawn_out(14, 100), drawn_out(12, 60))))
    typed(alice, hook, "s1", param__target="13 sq")
    actions.publish(procedure=hook, by=alice.user)
    text = words(compared(client, hook, **{"from": 1, "to": 2}))
    assert "Step 2: Draw out Comes out otherwise" in text
    assert "Steps: 1 changed." in text


def test_drawings_come_from_their_own_addresses(alice, client):
    hook = twice_published(alice)
    html = compared(client, hook, **{"from": 1, "to": 2})
    assert "<svg" not in re.search(r"<main.*</main>", html, re.DOTALL)[0]
    addresses = re.findall(r'hx-get="([^"]+)" hx-trigger="toggle', html)
    assert addresses == [f"/p/{hook.slug}/stages/bar/2/?revision={number}" for number in (1, 2)]
    drawn = [client.get(one, headers={"hx-request": "true"}).content.decode() for one in addresses]
    assert all("<svg" in one for one in drawn)
    assert drawn[0] != drawn[1]


def test_bar_details_and_totals_are_compared(alice, client):
    hook = published()
    base = editing.part_digest(editing.part_of(hook.document, "bar"))
    fields = {"stock": {"section": {"shape": "square", "side": 20}, "length": 400}, "quantity": 2}
    actions.edit_part(procedure=hook, part="bar", fields=fields, base=base, by=alice.user)
    hook.refresh_from_db()
    details = {"title": "Two hooks", "level": "advanced", "credits": ["Ada"]}
    base = editing.details_digest(hook.document)
    actions.edit_details(procedure=hook, details=details, base=base, by=alice.user)
    actions.publish(procedure=hook, by=alice.user)
    found = rows(compared(client, hook, **{"from": 1, "to": 2}))
    assert ("How many", "1", "2") in found
    assert ("Level", "Beginner", "Advanced") in found
    assert ("Credits", "none", "Ada") in found
    assert any(label == "Bar needed" for label, _, _ in found)
    assert any(label == "Bar" for label, _, _ in found)


def test_version_before_is_taken_when_none_is_named(alice, client):
    hook = twice_published(alice)
    assert compared(client, hook).count("pairs__row") == compared(client, hook, **{"from": 1, "to": 2}).count(
        "pairs__row"
    )


def test_same_versions_are_said_to_be_the_same(client):
    hook = published()
    assert "They are the same." in words(compared(client, hook, **{"from": 1, "to": 1}))


def test_draft_is_compared_for_its_owner_alone(alice, charlie, client):
    hook = published()
    typed(alice, hook, "s2", param__target="10 sq")
    html = compared(alice, hook, **{"from": 1, "to": "draft"})
    assert "Draft" in words(html)
    assert ("Target section", "□12 mm", "□10 mm") in rows(html)
    assert f"/p/{hook.slug}/stages/bar/2/?draft" in html
    for stranger in (charlie, client):
        compared(stranger, hook, 404, **{"from": 1, "to": "draft"})
        compared(stranger, a_draft(), 404)


@pytest.mark.parametrize("query", [{"from": "9"}, {"from": "x"}, {"to": "1e3"}, {"to": "-1"}, {"from": "²"}])
def test_version_that_is_not_there_is_not_found(client, query):
    compared(client, published(), 404, **query)


def test_other_procedure_is_compared_where_it_may_be_read(alice, client):
    one, other = published(a_hook(title="One")), published(a_hook(title="Other"))
    text = words(compared(client, one, other=other.slug, **{"from": 1, "to": 1}))
    assert "One, revision 1, by alice" in text
    assert "Other, revision 1, by alice" in text
    compared(client, one, 404, other=a_draft().slug, **{"from": 1, "to": 1})
    compared(client, one, 404, other="no-such-thing", **{"from": 1, "to": 1})
    actions.unpublish(procedure=other, reason="It tears.", by=alice.user)
    assert "It tears." in words(compared(client, one, 410, other=other.slug, **{"from": 1, "to": 1}))


def test_step_that_does_not_read_is_shown_as_it_is_stored(alice):
    draft = a_document(a_part(a_step("draw_out", where="<b>nowhere</b>"), a_step("no_such_thing", odd=[1])))
    hook = published()
    type(hook).objects.filter(pk=hook.pk).update(document=draft)
    text = compared(alice, hook, **{"from": 1, "to": "draft"})
    assert "<b>nowhere" not in text
    assert "nowhere" in text
    assert "[1]" in text
