"""Mends that change other steps, and findings that are let stand with a reason."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from procedures import editing
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.engine.rulebook import rulebook
from procedures.models import Procedure
from procedures.presenting import ShownProcedure
from procedures.printing.card import Imprint, card_html
from procedures.printing.sheets import sheet_of
from procedures.report import lines
from tests.unit.engine.documents import a_document, a_part, a_step

from .authoring import HTMX, bench_of, step_keys, stored, typed
from .showing import a_draft, published

HOLE = a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 30}], size=6)
FLAT = a_step("flatten", heats=1, where={"on": "bar", "datum": "end", "length": 60}, thickness=10, bite=20)
CODE = "order.hole_closes"


def a_hole_hammered_shut(length=500):
    """A document whose hole is closed by the step after it."""
    return a_document(a_part(HOLE, FLAT, length=length))


def silence(client, procedure, step="s2", parts=False, **posted):
    address = reverse("procedures:silence", args=[procedure.slug, "bar", step])
    return client.post(address, posted, headers=HTMX if parts else None)


def let_stand(client, procedure, reason="The boss is flattened on purpose."):
    return silence(client, procedure, code=CODE, **{f"reason-{CODE}": reason})


def test_mend_that_moves_a_step_is_offered_by_what_it_does_and_done_by_one_press(alice):
    draft = a_draft(a_hole_hammered_shut())
    assert "Move step 1, Punch, after this" in bench_of(alice, draft, "s2")
    response = typed(alice, draft, "s2", mend=CODE)
    assert response.status_code == 302
    assert step_keys(draft) == ["s2", "s1"]
    assert CODE not in bench_of(alice, draft, "s2")


def test_mend_is_one_edit_that_undo_takes_back(alice):
    draft = a_draft(a_hole_hammered_shut())
    typed(alice, draft, "s2", mend=CODE)
    draft.refresh_from_db()
    assert draft.edits.get(number=draft.head).label == "Mend: Move step 1, Punch, after this"
    alice.post(reverse("procedures:undo", args=[draft.slug]))
    assert step_keys(draft) == ["s1", "s2"]


def test_what_was_typed_with_the_mend_is_saved_too(alice):
    draft = a_draft(a_hole_hammered_shut())
    typed(alice, draft, "s2", mend=CODE, note="Gently.")
    assert stored(draft, "s2")["note"] == "Gently."
    assert step_keys(draft) == ["s2", "s1"]


def test_mend_that_would_stop_a_step_is_refused_with_the_reason(alice):
    # the flat is measured from a mark that only the step of the hole leaves in place
    marked = a_step("mark_out", marks=[{"name": "M", "on": "bar", "datum": "end", "offset": 60}])
    scrolled = a_step("scroll", heats=2, on="bar", inner=15, outer=40, turns=0.5)
    drawn = a_step(
        "draw_out",
        heats=2,
        where={"on": "bar", "datum": "mark", "mark": "N", "toward": "start", "length": 40},
        target={"shape": "square", "side": 15},
    )
    later = a_step("mark_out", marks=[{"name": "N", "on": "bar", "datum": "end", "offset": 130}])
    draft = a_draft(a_document(a_part(marked, scrolled, later, drawn, length=500)))
    code = "order.section_by_scroll"
    assert code in bench_of(alice, draft, "s4")
    response = typed(alice, draft, "s4", parts=True, mend=code)
    assert response.status_code == 422
    assert "That would stop step 2, Draw out: There is no mark N" in response.content.decode()
    assert step_keys(draft) == ["s1", "s2", "s3", "s4"]


def test_mend_that_is_no_longer_found_is_refused(alice):
    draft = a_draft(a_document(a_part(FLAT, HOLE, length=500)))
    response = typed(alice, draft, "s1", parts=True, mend=CODE)
    assert response.status_code == 422
    assert "nothing to mend" in response.content.decode()


# -- letting stand -----------------------------------------------------------------------------------


def test_caution_let_stand_keeps_its_reason_and_is_not_counted(alice):
    draft = a_draft(a_hole_hammered_shut())
    assert let_stand(alice, draft).status_code == 302
    assert stored(draft, "s2")["silenced"] == {CODE: "The boss is flattened on purpose."}
    (_, frame) = replay(read(draft.document)).parts[0].frames
    assert CODE not in [one.code for one in frame.of_level("caution")]
    assert "Let stand:</strong> The boss is flattened on purpose." in bench_of(alice, draft, "s2")


def test_letting_stand_is_undone_and_taken_back(alice):
    draft = a_draft(a_hole_hammered_shut())
    let_stand(alice, draft)
    alice.post(reverse("procedures:undo", args=[draft.slug]))
    assert "silenced" not in stored(draft, "s2")
    let_stand(alice, draft)
    silence(alice, draft, lift=CODE)
    assert "silenced" not in stored(draft, "s2")


def test_no_reason_or_one_too_long_is_refused(alice):
    draft = a_draft(a_hole_hammered_shut())
    for reason, said in (("  ", "Say why"), ("x" * 201, "at most 200")):
        response = silence(alice, draft, parts=True, code=CODE, **{f"reason-{CODE}": reason})
        assert response.status_code == 422
        assert said in response.content.decode()
    assert "silenced" not in stored(draft, "s2")


def test_stop_cannot_be_let_stand(alice):
    thicker = a_step(
        "draw_out",
        where={"on": "bar", "datum": "end", "length": 60},
        target={"shape": "square", "side": 30},
    )
    draft = a_draft(a_document(a_part(thicker)))
    code = "draw_out.target_not_thinner"
    response = silence(alice, draft, "s1", parts=True, code=code, **{f"reason-{code}": "I can."})
    assert response.status_code == 422
    assert "silenced" not in stored(draft, "s1")


def test_what_is_not_found_cannot_be_let_stand(alice):
    draft = a_draft(a_hole_hammered_shut())
    assert silence(alice, draft, "s1", parts=True, code=CODE, **{f"reason-{CODE}": "So."}).status_code == 422


def test_saving_the_step_keeps_what_is_let_stand(alice):
    draft = a_draft(a_hole_hammered_shut())
    page = bench_of(alice, draft, "s2")
    let_stand(alice, draft)
    assert page  # opened before, saved after: letting stand has a form of its own and is no conflict
    typed(alice, draft, "s2", note="Gently.")
    assert stored(draft, "s2")["silenced"]


def test_reason_that_has_become_idle_is_shown_and_can_be_forgotten(alice):
    draft = a_draft(a_hole_hammered_shut())
    let_stand(alice, draft)
    alice.post(reverse("procedures:move_step", args=[draft.slug, "bar", "s1"]), {"to": "1"})
    assert "not found at present: The boss is flattened on purpose." in bench_of(alice, draft, "s2")
    typed(alice, draft, "s2", mend="step.silenced_in_vain")
    assert not stored(draft, "s2").get("silenced")


def test_strangers_let_nothing_stand(alice, charlie):
    draft = a_draft(a_hole_hammered_shut())
    assert let_stand(charlie, draft).status_code == 404
    assert Procedure.objects.get().document == draft.document


def test_readers_see_what_is_let_stand_quietly_with_its_reason(alice, client):
    procedure = published(_silenced())
    html = client.get(reverse("procedures:read", args=[procedure.slug])).content.decode()
    assert "Let stand:</strong> Meant so." in html
    assert "finding--silenced" in html
    warned = html.split("read__warnings")[1].split("</details>")[0]
    assert "it closes" not in warned


def test_the_card_prints_what_is_let_stand_with_its_reason():
    replayed = ShownProcedure(replay(read(_silenced())))
    html = card_html(replayed, sheet_of("", ""), Imprint("Draft", "", "alice", "/p/it/follow/"))
    assert "Caution, let stand" in html
    assert "<b>Let stand:</b> Meant so." in html


def test_the_telephone_shows_what_is_to_be_known_and_not_what_is_let_stand():
    step = ShownProcedure(replay(read(_silenced()))).parts[0].steps[1]
    assert CODE not in [one.code for one in step.warnings]
    assert [one.silenced for one in step.let_stand] == ["Meant so."]


def test_the_replay_says_what_is_silenced_and_why():
    text = "\n".join(lines(replay(read(_silenced()))))
    assert f"caution {CODE}" in text
    assert "(silenced: Meant so.)" in text


def _silenced():
    document = a_hole_hammered_shut()
    document["parts"][0]["steps"][1]["silenced"] = {CODE: "Meant so."}
    return document


# -- the smith's own fire ----------------------------------------------------------------------------


def settings_of(client, procedure, **values):
    fields = {
        "base": editing.details_digest(procedure.document),
        "title": procedure.title,
        "level": "beginner",
        "licence": "CC0-1.0",
        "fire": "coke",
    }
    return client.post(reverse("procedures:settings", args=[procedure.slug]), fields | values)


def test_the_fires_hot_length_is_what_rules_reckon_with(alice):
    long = a_step("twist", heats=1, where={"on": "bar", "datum": "end", "length": 240}, turns=2)
    draft = a_draft(a_document(a_part(long, length=500), scale={"fire": "coke"}))
    assert "this fire heats about 150" in bench_of(alice, draft, "s1")
    assert settings_of(alice, draft, hot_length="260", door="150").status_code == 302
    draft.refresh_from_db()
    assert draft.document["scale"] == {"fire": "coke", "hot_length": 260, "door": 150}
    assert "this fire heats about" not in bench_of(alice, draft, "s1")


def test_a_hot_length_that_no_fire_has_is_refused(alice):
    draft = a_draft(a_hole_hammered_shut())
    response = settings_of(alice, draft, hot_length="6000")
    assert response.status_code == 422
    assert "The hot length is at least" in response.content.decode()


# -- the rules themselves ----------------------------------------------------------------------------


@pytest.mark.django_db
def test_a_finding_of_a_rule_leads_to_what_it_says_why(alice, client):
    draft = a_draft(a_hole_hammered_shut())
    why = f"{reverse('procedures:rules')}#{CODE}"
    assert f'href="{why}"' in bench_of(alice, draft, "s2")
    html = client.get(reverse("procedures:rules")).content.decode()
    for code, rule in rulebook().items():
        assert f'id="{code}"' in html
        assert escape(rule.title) in html
