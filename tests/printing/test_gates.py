"""Where a class stops, measures and signs before it goes on."""

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.printing.gates import gates
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

MARKS = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])
TAPER = a_step(
    "taper",
    where={"on": "bar", "datum": "end", "length": 60},
    end_section={"shape": "square", "side": 6},
)
INSPECT = a_step("inspect", where={"on": "bar", "datum": "whole"})


def gates_of(*steps) -> dict[int, str]:
    return gates(replay(read(a_document(a_part(*steps)), draft=True)).parts[0])


def test_nothing_to_sign_without_steps_or_after_plain_drawing():
    assert gates_of() == {}
    assert gates_of(drawn_out(side=16)) == {}


def test_the_last_of_the_marks_the_last_taper_and_every_inspection_are_gates():
    second = a_step("mark_out", marks=[{"name": "B", "on": "bar", "datum": "start", "offset": 40}])
    found = gates_of(MARKS, second, TAPER, INSPECT)
    assert sorted(found) == [2, 3, 4]
    assert "marks" in found[2]
    assert "tapers" in found[3]
    assert "measured" in found[4]


def test_a_weld_is_gated_by_the_step_before_it():
    strap = {"section": {"shape": "flat", "width": 30, "thickness": 6}, "length": 300}
    end = {"on": "bar", "end": "start"}
    fold = a_step("fold_back", **end, flap=45, gap=13)
    dressed = {"shape": "flat", "width": 30, "thickness": 8}
    weld = a_step("weld_fold", **end, dressed=dressed, eye=13) | {"welding_heats": 2}
    steps = replay(read(a_document(a_part(fold, weld) | {"stock": strap}), draft=True)).parts[0]
    assert [frame.status for frame in steps.frames] == ["done", "done"], steps.frames[1].findings
    assert gates(steps) == {1: "ready to weld, both people at their place"}


def test_a_step_that_did_not_come_about_is_no_gate():
    assert gates_of(drawn_out(side=30), INSPECT) == {}
