"""A replay turned into words and numbers: what changed, in which units, with scale and without."""

import pytest

from calculators.number_texts import SPACE
from calculators.sections import Section
from calculators.wording import INCH, METRIC
from procedures.engine.document import read
from procedures.presenting import present
from procedures.presenting.figures import said_run, split_unit
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

AT_50 = {"on": "bar", "datum": "start", "offset": 50}
FLAT = {"section": {"shape": "flat", "width": 30, "thickness": 8}, "length": 200}
MARKED = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])


def shown(*steps, units=METRIC, nominal=False, **more):
    return present(read(a_document(a_part(*steps)), draft=True), units, nominal=nominal, **more)


def row(step, kind):
    return next(one for one in step.figures if one.kind == kind)


def plain(text: str) -> str:
    return text.replace(SPACE, " ")


@pytest.mark.parametrize(
    ("text", "split"),
    [
        (f"35.1{SPACE}g", ("35.1", "g")),
        (f"3{SPACE}ft 2 3/8{SPACE}in", (f"3{SPACE}ft 2 3/8", "in")),
        ("45°", ("45°", "")),
        (f"30{SPACE}×{SPACE}8", (f"30{SPACE}×{SPACE}8", "")),
        ("point", ("point", "")),
    ],
)
def test_unit_is_split_off_the_end_only(text, split):
    assert split_unit(text) == split


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        (Section.square(12), Section.square(12), "□12"),
        (Section.square(12), Section.square(4), "□12 to □4"),
        (Section.flat(17.4, 4), Section.flat(17.6, 4), "17.5 × 4"),
        (Section.square(12), Section.round(12), "□12 to ø12"),
        (Section.square(10), Section.point(), "□10 to point"),
    ],
)
def test_run_is_one_size_unless_a_hammer_would_show_two(start, end, said):
    assert plain(said_run(start, end, METRIC)) == said


def test_a_leaf_is_said_by_its_widest_place():
    where = {"on": "bar", "datum": "end", "length": 20}
    [step] = shown(a_step("spread", where=where, outline="leaf", width=40, thickness=4)).parts[0].steps
    assert plain(row(step, "section").after) == "widest 40 × 4"


def test_a_groove_is_said_by_its_size_along_and_across_the_bar():
    [step] = shown(a_step("fuller", where=[{"on": "bar", "datum": "centre"}], depth=3)).parts[0].steps
    groove = row(step, "hole")
    assert (groove.label, plain(groove.after)) == ("Groove", "10.4 × 20")


def test_figures_say_before_and_after_and_what_changed():
    [step] = shown(drawn_out(side=12, length=60)).parts[0].steps
    section, worked, length, mass = (row(step, kind) for kind in ("section", "worked", "length", "mass"))
    assert (section.before, section.after, section.unit, section.changed) == ("□20", "□12", "mm", True)
    assert (worked.before, worked.after) == ("60", "166.7")
    assert (length.label, length.before, length.after) == ("Whole length", "300", "406.7")
    assert (mass.after, mass.unit, mass.changed) == ("942", "g", False)


def test_cold_marking_changes_no_number():
    [step] = shown(MARKED).parts[0].steps
    assert not [one for one in step.figures if one.changed]
    assert step.heat is None
    assert step.planned == ""


def test_lengths_are_told_in_the_other_view_too():
    [step] = shown(drawn_out(heats=2)).parts[0].steps
    assert plain(step.other_view) == "Nominal: worked part 166.7 mm, whole 406.7 mm"
    [step] = shown(drawn_out(heats=2), nominal=True).parts[0].steps
    assert plain(step.other_view) == "With scale: worked part 159.9 mm, whole 399.9 mm"
    [step] = shown(drawn_out()).parts[0].steps
    assert step.other_view == ""


def test_inches_are_used_throughout():
    [step] = shown(drawn_out(side=12.7, length=50.8), units=INCH).parts[0].steps
    assert plain(step.place) == "the last 2 in of the bar"
    assert row(step, "section").after == "□1/2"
    assert "mm" not in step.instruction + step.check


def test_split_names_its_arms_and_counts_each_for_heats():
    split = a_step("split", where={"on": "bar", "datum": "end", "offset": 100}, children=["left", "right"])
    taper = a_step(
        "taper",
        heats=2,
        where={"on": "arms", "datum": "whole"},
        end_section={"shape": "flat", "width": 6, "thickness": 4},
    )
    first, second = shown(split, taper).parts[0].steps
    assert row(first, "length").label == "Length of bar"
    assert (row(first, "length").before, row(first, "length").after) == ("300", "200")
    assert second.planned == "2 heats for each of 2 = 4"
    assert len(second.heat_boxes) == 4
    assert [one.kind for one in second.figures] == ["section", "worked", "mass"]


def test_hole_is_a_new_figure():
    punch = a_step("punch", heats=1, where=[{"on": "bar", "datum": "centre"}], size=8)
    [step] = shown(punch).parts[0].steps
    hole = row(step, "hole")
    assert (hole.label, hole.before, hole.after, hole.changed) == ("Hole", "", "ø8", True)
    assert not [one for one in step.figures if one.kind == "worked"]


def test_heat_has_its_name_degrees_and_colours():
    [step] = shown(drawn_out(heats=1)).parts[0].steps
    assert step.heat.name == "orange to yellow"
    assert plain(step.heat.degrees) == "1000–1200 °C"
    assert step.heat.color.startswith("#")
    [step] = shown(drawn_out(heats=1), units=INCH).parts[0].steps
    assert plain(step.heat.degrees) == "1832–2192 °F"


def test_stopped_and_unreached_steps_have_words_and_no_numbers():
    first, second = shown(drawn_out(side=30), drawn_out()).parts[0].steps
    assert (first.state, second.state) == ("stopped", "unreached")
    assert first.figures == second.figures == ()
    assert (first.instruction, first.drawing, first.leaves) == ("", "", "")
    assert first.stops == 1
    assert first.warnings[0].word == "Stop"
    assert second.title == "Draw out"


def test_step_of_an_unknown_operation_is_shown_as_it_is_stored():
    [step] = shown(a_step("levitate")).parts[0].steps
    assert step.title == "levitate"
    assert step.tools == step.safety == ()
    assert "levitate" in step.findings[0].text


def test_marks_of_the_bar_are_measured_from_both_ends():
    part = shown(MARKED, drawn_out()).parts[0]
    mark = next(one for one in part.marks if one.uses[0].kind == "mark")
    assert (plain(mark.from_start), plain(mark.from_end), mark.purpose) == (
        "240 mm",
        "60 mm",
        "Mark A; step 2, draw out, edge",
    )


def test_totals_count_every_piece_and_every_gram():
    stored = a_document({**a_part(drawn_out(heats=2)), "quantity": 3})
    whole = present(read(stored))
    facts = {one.label: plain(f"{one.value} {one.unit}") for one in whole.totals}
    assert facts["Bar needed"] == "2.83 kg"
    assert facts["Heats"].strip() == "6"
    part = whole.parts[0]
    assert whole.parts[0].mass_start == METRIC.mass(0.942)
    assert part.replayed.final.mass < 0.942


def test_loose_rivets_count_as_finished_metal_and_other_parts_once():
    hole = {"key": "hole", "operation": "drill", "params": {"where": [AT_50], "size": 8.5}}
    strap = {"key": "strap", "name": "Strap", "stock": FLAT, "steps": [hole]}
    fixed = a_step("rivet", where=[AT_50], part="strap", pin="loose", diameter=8)
    stored = a_document({**a_part(hole, fixed), "stock": FLAT})
    hole_in_strap = {**hole, "params": {"where": [{**AT_50, "on": "strap"}], "size": 8.5}}
    whole = present(read({**stored, "parts": [*stored["parts"], {**strap, "steps": [hole_in_strap]}]}))
    facts = {one.label: plain(f"{one.value} {one.unit}") for one in whole.totals}
    final = whole.parts[0].replayed.final
    assert facts["Finished"] == plain(METRIC.mass(final.mass))
    rivet = final.mass - 2 * whole.parts[1].replayed.final.mass
    assert rivet > 0
    assert facts["Rivets, collars and wire"] == plain(METRIC.mass(rivet))


@pytest.mark.parametrize(
    "cold",
    [
        a_step("bend", where={"on": "bar", "datum": "centre"}, angle=20, inside_radius=40, cold=True),
        a_step("straighten", where={"on": "bar", "datum": "whole"}, takes_out="bow", cold=True),
        a_step("cut_off", at={"on": "bar", "datum": "centre"}),
    ],
    ids=["bend", "straighten", "saw"],
)
def test_no_heat_is_shown_for_work_that_is_done_cold(cold):
    [step] = shown(cold).parts[0].steps
    assert step.heat is None


def test_bar_thin_at_both_ends_is_said_by_its_middle():
    ends = [a_step("scarf", on="bar", end=end, length=14, lip=3) for end in ("start", "end")]
    *_, step = shown(*ends, a_step("planish", where={"on": "bar", "datum": "whole"})).parts[0].steps
    assert row(step, "section").after == "□20"


def test_safety_is_said_once_and_hot_metal_always():
    lines = shown(drawn_out(), drawn_out(side=11)).safety
    assert len(lines) == len(set(lines))
    assert any("Black heat" in one for one in lines)
    assert any("Black heat" in one for one in shown(MARKED).safety)


def test_list_of_steps_draws_nothing(monkeypatch):
    monkeypatch.setattr("procedures.drawing.PartDrawing", None)
    for step in shown(MARKED, drawn_out(heats=1)).steps:
        assert step.title
        assert step.figures
        assert not step.stops + step.cautions
        assert step.leaves or step.number == 1


def test_holes_of_a_part_that_comes_in_are_not_new():
    hole = a_step("drill", where=[AT_50], size=8.5)
    strap = {
        **a_part({**hole, "params": {"where": [{**AT_50, "on": "strap"}], "size": 8.5}}, key="strap"),
        "stock": FLAT,
    }
    stored = a_document({**a_part(hole, a_step("join", where=[AT_50], part="strap")), "stock": FLAT}, strap)
    made, joined = present(read(stored)).parts[0].steps
    assert row(made, "hole").after == "ø8.5"
    assert [one.kind for one in joined.figures if one.kind == "hole"] == []
