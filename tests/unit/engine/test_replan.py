"""Going on from what was measured: the sums by hand, and the ways back."""

import pytest

from calculators.sections import Section
from procedures.engine.document import read
from procedures.engine.finding import Level
from procedures.engine.replan import Measured, gauges, outlook, with_measured
from procedures.engine.replay import replay
from procedures.engine.ways_back import best_first, ways

from .documents import a_document, a_part, a_step, drawn_out

MARKED = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
RUN = 60 * 400 / 144  # □20 drawn to □12
POINT = {
    "where": {"on": "bar", "datum": "end", "length": 40},
    "end_section": {"shape": "square", "side": 4},
    "thin_end": "end",
}


def a_plan(*steps, length=300, **more):
    return replay(read(a_document(a_part(*(steps or (drawn_out(),)), length=length), **more)))


def two_steps():
    """□20 × 300, its last 60 drawn to □12, then 40 of that tapered to □4."""
    return a_plan(drawn_out() | {"key": "s1"}, a_step("taper", key="s2", **POINT))


def by_id(plan, *measured):
    return {one.id: one for one in ways(plan, "bar", measured)}


def test_what_can_be_measured_is_the_run_and_the_whole():
    run, whole = gauges(a_plan().parts[0].frames[0])
    assert (run.kind, run.branch, run.section) == ("run", "bar", Section.square(12))
    assert run.length == pytest.approx(RUN)
    assert (whole.kind, whole.section) == ("whole", None)
    assert whole.length == pytest.approx(240 + RUN)


def test_a_step_that_is_stopped_has_nothing_to_measure():
    stopped = a_plan(drawn_out(side=25)).parts[0].frames[0]
    assert stopped.status == "stopped"
    assert gauges(stopped) == ()


@pytest.mark.parametrize("kind", ["run", "whole"])
def test_what_is_measured_as_planned_changes_nothing(kind):
    plan = two_steps()
    first = next(one for one in gauges(plan.parts[0].frames[0]) if one.kind == kind)
    seen = outlook(plan, "bar", [Measured("s1", kind, "bar", first.length, first.section)])
    assert [one.now for one in seen.finished] == pytest.approx([one.planned for one in seen.finished])
    assert [one.now for one in seen.coming] == pytest.approx([one.planned for one in seen.coming])
    assert seen.new_findings == ()
    assert [one.id for one in ways(plan, "bar", [Measured("s1", kind, "bar", first.length)])] == ["accept"]


def test_a_run_measured_short_is_thicker_and_the_rest_follows():
    # 160 for 166.67: the side is 12 √(166.67/160); the taper's 40 mm hold more metal and come out longer
    seen = outlook(two_steps(), "bar", [Measured("s1", "run", "bar", length=160)])
    side = 12 * (RUN / 160) ** 0.5
    taper = 40 * side**2 / ((side**2 + side * 4 + 16) / 3)  # its thick end stays what the run is now
    (bar,) = seen.finished
    assert bar.now == pytest.approx(240 + 160 - 40 + taper)
    planned_taper = 40 * 144 / ((144 + 48 + 16) / 3)
    assert bar.planned == pytest.approx(240 + RUN - 40 + planned_taper)
    run = next(one for one in seen.coming if one.kind == "run")
    assert (run.step, run.planned, run.now) == (2, pytest.approx(planned_taper), pytest.approx(taper))


def test_a_thick_run_is_drawn_further_and_all_is_as_planned():
    plan = a_plan(drawn_out() | {"key": "s1"}, a_step("taper", key="s2", **POINT), scale={"forging": 0})
    found = by_id(plan, Measured("s1", "run", "bar", section=Section.square(12.8)))
    assert set(found) >= {"accept", "draw_further"}
    (bar,) = found["draw_further"].finished
    assert bar.now == pytest.approx(bar.planned)
    assert best_first(list(found.values()))[0].id == "draw_further"


def test_missing_metal_is_made_up_by_a_thinner_run():
    found = by_id(a_plan(), Measured("s1", "run", "bar", length=150, section=Section.square(12)))
    assert set(found) == {"accept", "draw_out"}
    drawn = found["draw_out"].replayed.final.root
    assert drawn.length == pytest.approx(240 + RUN)
    assert drawn.section_at(drawn.length - 5).width < 12 * (150 / RUN) ** 0.5 + 1e-6
    assert found["accept"].finished[0].now == pytest.approx(240 + 150)
    assert found["accept"].miss == pytest.approx((RUN - 150) / (240 + RUN))


def test_what_is_too_long_is_cut_or_jumped_up():
    found = by_id(a_plan(), Measured("s1", "run", "bar", length=180))
    assert set(found) == {"accept", "cut", "upset"}
    assert found["cut"].finished[0].now == pytest.approx(240 + RUN)
    assert found["upset"].finished[0].now == pytest.approx(240 + RUN)
    assert "13.3" in found["cut"].said.text()


def test_the_heat_of_a_way_takes_its_scale():
    # a heat of 0.05 mm a face on the thick run, before it is drawn to □12
    plan = a_plan(drawn_out() | {"key": "s1"}, scale={"forging": 0.05})
    found = by_id(plan, Measured("s1", "run", "bar", section=Section.square(12.8)))
    thick = RUN * 144 / 12.8**2
    (bar,) = found["draw_further"].finished
    assert bar.now == pytest.approx(240 + thick * 12.7**2 / 144)


def test_nothing_is_cut_where_the_run_ends_in_the_middle():
    middle = a_step(
        "draw_out",
        where={"on": "bar", "datum": "start", "offset": 50, "length": 60},
        target={"shape": "square", "side": 12},
    )
    found = by_id(a_plan(middle), Measured("s1", "run", "bar", length=180))
    assert set(found) == {"accept", "upset"}


def test_a_later_run_is_drawn_to_another_section_to_make_the_length():
    # 10 mm of bar are missing from the start; the run drawn last makes up for it
    plan = a_plan(MARKED, drawn_out() | {"key": "s2"})
    found = by_id(plan, Measured("s1", "whole", "bar", length=290, section=Section.square(20)))
    (bar,) = found["later"].finished
    assert bar.is_near
    assert bar.now == pytest.approx(240 + RUN, abs=0.5)
    assert "step 2" in found["later"].said.text()
    frame = found["later"].replayed.frames[-1]
    assert frame.after.root.section_at(frame.after.root.length).width < 12


def test_measurements_follow_each_other():
    plan = two_steps()
    first = Measured("s1", "run", "bar", length=160)
    second = Measured("s2", "whole", "bar", length=410)
    both = with_measured(plan, "bar", [first, second]).parts[0]
    assert both.final.root.length == pytest.approx(410)
    assert [one.key for one in both.frames] == ["s1", "measured-1", "s2", "measured-2"]
    again = with_measured(plan, "bar", [first, Measured("s1", "whole", "bar", length=405)]).parts[0]
    assert [one.key for one in again.frames] == ["s1", "measured-1", "measured-2", "s2"]
    assert again.frames[2].after.root.length == pytest.approx(405)


def test_metal_stays_in_the_ledger():
    plan = two_steps()
    final = with_measured(plan, "bar", [Measured("s1", "run", "bar", length=150)]).parts[0].final
    assert final.volume == pytest.approx(plan.parts[0].final.volume)
    less = [Measured("s1", "run", "bar", length=150, section=Section.square(12))]
    final = with_measured(plan, "bar", less).parts[0].final
    assert final.lost("measured") == pytest.approx((RUN - 150) * 144)


def test_measurements_of_what_is_not_there_are_left_out():
    plan = two_steps()
    for one in (
        Measured("no", "run", "bar", 1),
        Measured("s1", "run", "arm", 1),
        Measured("s1", "run", "bar"),
    ):
        assert with_measured(plan, "bar", [one]) is plan


def test_a_later_step_that_no_longer_works_is_told():
    # 40 mm of taper asked of a run that is only 30 long now, and of a bar of 30
    plan = a_plan(MARKED, a_step("taper", key="s2", **POINT), length=60)
    seen = outlook(plan, "bar", [Measured("s1", "whole", "bar", length=30, section=Section.square(20))])
    assert [(number, one.level) for number, one in seen.new_findings] == [(2, Level.STOP)]
    assert [one.now for one in seen.finished] == [None]
    (accept, *others) = best_first(
        list(ways(plan, "bar", [Measured("s1", "whole", "bar", 30, Section.square(20))]))
    )
    assert accept.miss < 1 or all(one.miss == 1.0 for one in (accept, *others))
