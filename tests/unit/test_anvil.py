"""Beside the forge: how long a heat lasts there, by the rule of seconds per mm of area over perimeter."""

import json

import pytest

from calculators.wording import INCH, METRIC
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.planning.heat_plan import heat_plan
from procedures.presenting.anvil import anvil_of, heat_seconds
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out


def a_frame(*steps, number=0, **more):
    return replay(read(a_document(a_part(*steps), **more))).parts[0].frames[number]


def test_heat_lasts_by_the_thinnest_metal_worked():
    # □12 has 3 mm of area over perimeter. 8.5 s a mm at the anvil from 1150 to 850 °C is the rule; from the
    # 1180 °C that work begins at it is 0.915 ρ c / (3 ε σ) (1/1123³ - 1/1453³) 0.7 = 9.1.
    seconds = heat_seconds(a_frame(drawn_out(heats=1), scale={"forging": 0}))
    assert seconds.typical == pytest.approx(3 * 9.1, abs=1)
    assert seconds.low == pytest.approx(seconds.typical / 1.4, abs=1)
    assert seconds.high == pytest.approx(seconds.typical * 1.4, abs=1)


def test_heat_is_as_long_as_the_heat_plan_has_it():
    replayed = replay(read(json.loads((DEMO / "coat_hook.json").read_bytes())))
    plan = heat_plan(replayed)
    for frame in replayed.parts[0].frames:
        seconds, window = heat_seconds(frame), plan.part("hook").step(frame.key).window
        assert (seconds is None) == (window is None)
        assert seconds is None or seconds.typical == max(round(window.typical), 1)


def test_cold_work_and_steps_without_a_heat_have_no_time():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
    assert heat_seconds(a_frame(marked)) is None
    assert heat_seconds(a_frame(drawn_out(heats=0))) is None
    assert heat_seconds(a_frame(drawn_out(side=30, heats=1))) is None  # stopped


def test_a_weld_has_no_clock_and_says_so():
    stored = json.loads((DEMO / "pot_stand.json").read_bytes())
    hoop = replay(read(stored)).part("hoop")
    weld = next(one for one in hoop.frames if one.step.operation == "weld_ring")
    assert weld.heats  # the forging heat beside it would have had a clock
    shown = anvil_of(weld, METRIC)
    assert (shown.seconds, shown.is_weld) == (None, True)
    assert not anvil_of(hoop.frames[0], METRIC).is_weld


def test_sizes_are_typed_as_the_reader_types_them():
    frame = a_frame(drawn_out())
    assert anvil_of(frame, METRIC).decimal
    assert not anvil_of(frame, INCH).decimal
    assert [one.kind for one in anvil_of(frame, METRIC).asked] == ["run", "whole"]
