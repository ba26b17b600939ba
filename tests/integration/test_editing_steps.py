"""Typing into a step's form: what is saved, what is refused, and what is shown beside the fields."""

import re

import pytest
from django.urls import reverse

from procedures import actions
from procedures.engine.catalogue import catalogue
from procedures.engine.document import read
from procedures.engine.replay import replay
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .authoring import HTMX, bench_of, stored, swapped, the_form, typed, words
from .showing import a_draft, a_hook

pytestmark = pytest.mark.django_db

DRAWN = "s2"  # the step of a_hook that draws 60 mm out to a square of 12


def test_typed_section_is_stored_in_house_units(alice):
    hook = a_draft()
    response = typed(alice, hook, DRAWN, param__target="10 sq")
    assert response.status_code == 302
    assert stored(hook, DRAWN)["params"]["target"] == {"shape": "square", "side": 10.0}


def test_saving_without_a_change_changes_nothing(alice):
    hook = a_draft()
    before = stored(hook)
    assert typed(alice, hook, DRAWN).status_code == 302
    assert typed(alice, hook, "s1").status_code == 302
    assert stored(hook) == before
    assert hook.version == 1


def test_inches_are_read_and_shown_as_inches(alice):
    hook = a_draft()
    alice.cookies["units"] = "inch"
    typed(alice, hook, DRAWN, param__target="3/8 sq", param__where__length="2-1/2")
    params = stored(hook, DRAWN)["params"]
    assert params["target"] == {"shape": "square", "side": pytest.approx(9.525)}
    assert params["where"]["length"] == pytest.approx(63.5)
    fields = the_form(bench_of(alice, hook, DRAWN), "step-form").fields
    assert fields["param-target"] == "□3/8"
    assert fields["param-where-length"] == "2 1/2"


def test_rounding_for_show_never_creeps_into_what_is_stored(alice):
    document = a_hook()
    document["parts"][0]["steps"][1]["params"]["where"]["length"] = 60.123456
    hook = a_draft(document)
    alice.cookies["units"] = "inch"
    typed(alice, hook, DRAWN, tongs="other tongs")
    step = stored(hook, DRAWN)
    assert step["tongs"] == "other tongs"
    assert step["params"] == document["parts"][0]["steps"][1]["params"]


def test_edit_answers_with_what_changed_but_not_with_what_is_typed_in(alice):
    hook = a_draft()
    response = typed(alice, hook, DRAWN, parts=True, param__target="10 sq")
    assert response.status_code == 200
    ids = swapped(response)
    assert {
        "bench-base",
        "bench-undo",
        "bench-saved",
        "bench-summary",
        "bench-numbers",
        "bench-redraw",
    } <= ids
    assert f"line-{DRAWN}" in ids
    assert "line-s1" not in ids  # it comes before the change
    assert "after-param-target" in ids
    assert 'name="param-target"' not in response.content.decode()
    assert "□10" in words(response)


def test_row_of_a_step_before_the_change_is_sent_again_when_it_changes_too(alice):
    """A replay in another process than the one that showed the page sends the whole list."""
    from procedures.views import kept

    hook = a_draft()
    form = the_form(bench_of(alice, hook, DRAWN), "step-form")
    kept.forget()
    response = alice.post(form.action, form.fields | {"param-target": "10 sq"}, headers=HTMX)
    assert "step-list" in swapped(response)


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("param__target", "banana", "banana"),
        ("param__target", "1e400 mm", "1e400"),
        ("param__where__length", "-60", "-60"),
        ("param__where__length", "1e400 mm", "1e400"),
        ("param__where__length", "9**9**9", "9**9**9"),
        ("param__where__length", "nan", "nan"),
        ("param__where__length", "9" * 300, "300 characters"),
        ("param__where__offset", "5 kg", "5 kg"),
        ("heats", "many", "whole number"),
        ("heats", "201", "200"),
        ("tongs", "x" * 81, "80 characters"),
    ],
)
def test_nonsense_is_refused_beside_its_field_and_nothing_is_lost(alice, field, text, said):
    hook = a_draft()
    before = stored(hook)
    response = typed(alice, hook, DRAWN, **{field: text})
    assert response.status_code == 422
    form = the_form(response.content.decode(), "step-form")
    assert form.fields[field.replace("__", "-")] == text  # typed text is shown again as it was
    assert said in words(response)
    assert stored(hook) == before


def test_refusal_as_parts_names_the_wrong_field_and_swaps_no_input(alice):
    hook = a_draft()
    response = typed(alice, hook, DRAWN, parts=True, param__target="banana")
    assert response.status_code == 422
    html = response.content.decode()
    assert 'data-wrong="param-target"' in html
    assert "bench-base" not in swapped(response)
    assert "<input" not in html


def test_limit_is_told_in_the_readers_units(alice):
    step = a_step("planish", where={"on": "bar", "datum": "start", "length": 30})
    draft = a_draft(a_document(a_part(step)))
    alice.cookies["units"] = "inch"
    response = typed(alice, draft, "s1", param__thickness="0")
    assert response.status_code == 422
    assert "must be more than 0 in" in words(response)


def test_step_that_cannot_be_is_saved_with_its_stop(alice):
    hook = a_draft()
    response = typed(alice, hook, DRAWN, parts=True, param__target="25 sq")
    assert response.status_code == 200
    assert stored(hook, DRAWN)["params"]["target"]["side"] == 25
    assert "Stop" in words(response)
    assert "Choose a smaller target" in words(response)


def test_giving_another_of_those_that_exclude_each_other_takes_the_first_away(alice):
    hook = a_draft()
    typed(alice, hook, DRAWN, given__0="final_length", param__final_length="150")
    params = stored(hook, DRAWN)["params"]
    assert params["final_length"] == 150
    assert "target" not in params


def test_field_left_empty_is_not_given_and_the_replay_says_so(alice):
    hook = a_draft()
    response = typed(alice, hook, DRAWN, parts=True, param__target="")
    assert response.status_code == 200
    assert "target" not in stored(hook, DRAWN)["params"]
    assert "Give one of" in words(response)


def test_row_is_added_and_removed_without_script(alice):
    hook = a_draft()
    response = typed(alice, hook, "s1", add="param-marks")
    form = the_form(response.content.decode(), "step-form")
    assert form.fields["param-marks-count"] == "2"
    values = {"param-marks-1-name": "B", "param-marks-1-datum": "start", "param-marks-1-offset": "20"}
    assert alice.post(form.action, form.fields | values).status_code == 302
    assert [one["name"] for one in stored(hook, "s1")["params"]["marks"]] == ["A", "B"]
    assert typed(alice, hook, "s1", remove="param-marks-0").status_code == 302
    assert [one["name"] for one in stored(hook, "s1")["params"]["marks"]] == ["B"]


def test_added_row_left_empty_is_no_mark(alice):
    hook = a_draft()
    form = the_form(typed(alice, hook, "s1", add="param-marks").content.decode(), "step-form")
    alice.post(form.action, form.fields)
    assert len(stored(hook, "s1")["params"]["marks"]) == 1


def test_mark_without_a_name_is_refused_at_its_row(alice):
    hook = a_draft()
    response = typed(alice, hook, "s1", parts=True, param__marks__0__name="")
    assert response.status_code == 422
    assert 'data-wrong="param-marks-0-name"' in response.content.decode()


def test_mend_is_applied_by_one_press(alice):
    params = {
        "where": {"on": "bar", "datum": "start", "length": 30},
        "shape": "round",
        "rule": "across_flats",
        "size": 5,
    }
    draft = a_draft(a_document(a_part(a_step("change_section", **params))))
    html = bench_of(alice, draft, "s1")
    assert "Mend it" in html
    code = html.split('name="mend" value="')[1].split('"')[0]
    assert typed(alice, draft, "s1", mend=code).status_code == 302
    assert stored(draft, "s1")["params"]["rule"] == "size"


def test_step_of_an_unknown_operation_is_kept_and_said_to_be_so(alice):
    draft = a_draft()
    draft.document["parts"][0]["steps"][0] = {
        "key": "s1",
        "operation": "levitate",
        "params": {"height": 3},
        "note": "Up.",
    }
    draft.save()
    html = bench_of(alice, draft, "s1")
    assert "no operation called" in words(html)
    assert typed(alice, draft, "s1", note="Higher.").status_code == 302
    step = stored(draft, "s1")
    assert (step["operation"], step["params"], step["note"]) == ("levitate", {"height": 3}, "Higher.")


def test_parameters_that_no_longer_read_are_shown_as_stored_and_can_be_mended(alice):
    draft = a_draft()
    draft.document["parts"][0]["steps"][1]["params"]["target"] = {"shape": "blob"}
    draft.save()
    html = bench_of(alice, draft, DRAWN)
    assert "blob" in the_form(html, "step-form").fields["param-target"]
    assert "Stop" in words(html)
    assert typed(alice, draft, DRAWN, heats="3").status_code == 302  # another field is saved all the same
    assert stored(draft, DRAWN)["params"]["target"] == {"shape": "blob"}
    typed(alice, draft, DRAWN, param__target="12 sq")
    assert stored(draft, DRAWN)["params"]["target"] == {"shape": "square", "side": 12.0}


def test_group_that_no_longer_exists_is_a_finding_with_what_there_is(alice):
    document = a_hook()
    document["parts"][0]["steps"][1]["params"]["where"]["on"] = "arms"
    html = bench_of(alice, a_draft(document), DRAWN)
    assert "There is no branch or group called arms" in words(html)
    assert "There is: bar." in words(html)
    assert "arms (not there at this step)" in words(html)
    assert the_form(html, "step-form").fields["param-where-on"] == "arms"


def test_stop_keeps_later_steps_as_not_reached(alice):
    hook = a_draft()
    typed(alice, hook, "s1", param__marks__0__offset="900")
    assert "not reached" in words(bench_of(alice, hook, "s1"))
    assert stored(hook, DRAWN)["params"]["target"]["side"] == 12


def test_step_deleted_in_another_window_gives_back_what_was_typed(alice):
    hook = a_draft()
    form = the_form(bench_of(alice, hook, DRAWN), "step-form")
    actions.delete_step(procedure=hook, part="bar", step=DRAWN, by=alice.user)
    values = form.fields | {"param-target": "11 sq", "note": "My long note."}
    response = alice.post(form.action, values, headers=HTMX)
    assert response.status_code == 409
    assert "deleted in another window" in words(response)
    assert "□11" in words(response)
    assert "My long note." in words(response)
    assert alice.post(form.action, values | {"over": "gone"}).status_code == 302
    step = stored(hook, DRAWN)
    assert step["params"]["target"]["side"] == 11
    assert step["note"] == "My long note."


def test_draft_that_no_longer_reads_is_shown_as_that_with_ways_on(alice):
    hook = a_draft()
    hook.document["parts"][0]["stock"]["length"] = -5
    hook.save()
    response = alice.get(reverse("procedures:edit", args=[hook.slug]))
    assert response.status_code == 409
    assert "parts/0/stock/length" in words(response)
    assert alice.get(reverse("procedures:document", args=[hook.slug])).status_code == 200


def test_drawn_out_step_shows_before_and_after(alice):
    html = bench_of(alice, a_draft(a_document(a_part(drawn_out()))), "s1")
    assert "□20" in words(html)
    assert "□12" in words(html)
    assert "<svg" in html


def test_part_is_edited_at_the_bench(alice):
    hook = a_draft()
    form = the_form(bench_of(alice, hook), "part-form")
    values = form.fields | {"section": "ø16", "length": "350", "name": "Peg"}
    response = alice.post(form.action, values, headers=HTMX)
    assert response.status_code == 200
    part = stored(hook)["parts"][0]
    assert part["stock"] == {"section": {"shape": "round", "diameter": 16.0}, "length": 350.0}
    assert (part["key"], part["name"]) == ("bar", "Peg")


@pytest.mark.parametrize(
    ("field", "text"), [("length", "0"), ("length", ""), ("length", "-3"), ("section", ""), ("quantity", "0")]
)
def test_bar_that_cannot_be_is_refused_beside_its_field(alice, field, text):
    hook = a_draft()
    form = the_form(bench_of(alice, hook), "part-form")
    response = alice.post(form.action, form.fields | {field: text}, headers=HTMX)
    assert response.status_code == 422
    assert f'data-wrong="{field}"' in response.content.decode()
    assert stored(hook)["parts"][0]["stock"]["length"] == 300


def test_large_and_small_drawings_come_by_themselves(alice):
    hook = a_draft()
    piece = alice.get(reverse("procedures:piece", args=[hook.slug, "bar"]), {"step": DRAWN})
    assert piece.status_code == 200
    assert "<svg" in piece.content.decode()
    small = alice.get(reverse("procedures:drawing", args=[hook.slug, "bar", DRAWN]))
    assert small.content.startswith(b"<svg")
    assert "author:scale" in small["HX-Trigger-After-Swap"]
    assert alice.get(reverse("procedures:drawing", args=[hook.slug, "bar", "nothing"])).status_code == 404


def test_what_follows_is_shown_beside_what_is_given_and_taken_up_from_there(alice):
    hook = a_draft(a_document(a_part(drawn_out(side=12, length=60))))
    html = bench_of(alice, hook, "s1")
    assert "follows: 166.67 mm" in words(html)
    assert the_form(html, "step-form").fields["param-final_length"] == "166.67"
    typed(alice, hook, "s1", given__0="final_length")
    params = stored(hook, "s1")["params"]
    assert params["final_length"] == pytest.approx(166.67)
    assert "target" not in params
    assert "follows: □12 mm" in words(bench_of(alice, hook, "s1"))


@pytest.mark.parametrize("operation", catalogue().values(), ids=lambda one: one.id)
def test_what_an_operation_says_follows_reads_as_its_parameter(operation):
    for example in operation.examples:
        run = [*example.first, (operation.id, example.params)]
        steps = [{"operation": name, "params": dict(params)} for name, params in run]
        frame = replay(read(a_document(a_part(*steps)), draft=True)).parts[0].frames[-1]
        if frame.status != "done":
            continue
        params = operation.params()
        for name, value in frame.operation.solved(frame.before, frame.after).items():
            if name not in example.params:
                assert params[name].read(params[name].write(value)) == value, (example.title, name)


def test_what_is_not_filled_in_yet_is_told_once(alice):
    draft = a_draft(a_document(a_part(a_step("bend"))))
    assert words(bench_of(alice, draft, "s1")).count("At is needed.") == 1


def test_help_at_the_bench_and_in_the_picker_is_in_the_readers_units(alice):
    draft = a_draft(a_document(a_part(a_step("flatten", where={"on": "bar", "datum": "whole"}, thickness=6))))
    metric = words(bench_of(alice, draft, "s1"))
    assert "about 20 mm by hand" in metric
    alice.cookies["units"] = "inch"
    assert re.findall(r"\d[\s\u202f]mm", words(bench_of(alice, draft, "s1"))) == []
    address = reverse("procedures:edit", args=[draft.slug])
    picker = words(alice.get(address, {"after": ""}))
    assert "at a black heat, 302 to 482 °F" in picker.replace("\N{NO-BREAK SPACE}", " ")
    assert "°C" not in picker
