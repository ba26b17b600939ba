"""A class timetable for readers: minutes from the heat plan, words, chart, CSV and calendar."""

import csv
import io
import json
from datetime import UTC, datetime
from xml.etree import ElementTree as ET

import pytest
from icalendar import Calendar

from calculators.wording import METRIC
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.planning.hammers import can_be_powered
from procedures.planning.heat_plan import part_plan
from procedures.presenting.class_chart import Chart
from procedures.presenting.class_files import NoBeginning, calendar, turns_csv
from procedures.presenting.class_plan import ClassPlan
from procedures.presenting.class_signs import legend
from procedures.presenting.timetable import Pace, key_of, step_times
from procedures.printing.gates import gates
from procedures.timetable import ANVIL, POWER, VICE, ClassShop
from tests.unit.engine.documents import a_document, a_part, a_step

BEGINS = datetime(2026, 12, 1, 18, 30)  # noqa: DTZ001 - by the clock on the wall


def demo(name="coat_hook"):
    return replay(read(json.loads((DEMO / f"{name}.json").read_bytes())))


def timed(replayed, **pace):
    return step_times(replayed, Pace(**pace), {one.part.key: gates(one) for one in replayed.parts})


def powered(replayed):
    return frozenset(key_of(f) for part in replayed.parts for f in part.frames if can_be_powered(f))


def a_plan(shop=None, begins=None, **pace):
    replayed = demo()
    pace.setdefault("powered", powered(replayed))
    return ClassPlan(timed(replayed, **pace), shop or ClassShop(power_hammers=1), METRIC, begins)


def text(words):
    return words.replace("\u202f", " ").replace("\xa0", " ")


# -- minutes ---------------------------------------------------------------------------------------


def test_heats_and_minutes_are_those_of_the_heat_plan():
    replayed = demo()
    pace = Pace(lost=0.0)
    for found, planned in zip(
        timed(replayed, lost=0.0), part_plan(replayed.parts[0], pace.profile).steps, strict=True
    ):
        if planned.is_hot:
            assert found.heats[1] == planned.predicted.typical
            assert found.heats[1] * found.fire[1] * 60 == pytest.approx(planned.fire.typical)
            assert found.heats[1] * found.work[1] * 60 == pytest.approx(planned.anvil.typical)


def test_planned_heats_are_the_authors():
    replayed = demo()
    found = timed(replayed, as_planned=True)
    frames = replayed.parts[0].frames
    assert [one.heats for one in found] == [(one.heats + one.welding_heats,) * 3 for one in frames]


def test_what_is_lost_in_each_heat_is_added_to_the_work():
    without, with_it = timed(demo(), lost=0.0), timed(demo(), lost=2.0)
    for one, other in zip(without, with_it, strict=True):
        assert other.work[1] - one.work[1] == pytest.approx(2.0 if one.heats[1] else 0.0)


def test_steps_are_worked_where_their_first_tool_is():
    places = {one.title: one.place for one in timed(demo())}
    assert places["Taper"] == ANVIL
    assert places["Mark out"] == ""
    twisted = a_step("twist", heats=1, where={"on": "bar", "datum": "end", "length": 100}, turns=1)
    assert timed(replay(read(a_document(a_part(twisted)))))[0].place == VICE


def test_only_metal_moved_goes_under_the_power_hammer_and_it_takes_fewer_heats():
    replayed = demo("hat_bracket")
    keys = powered(replayed)
    by_hand, under = timed(replayed), timed(replayed, powered=keys)
    assert {one.title for one in under if one.place == POWER} == {"Taper"}
    for one, other in zip(by_hand, under, strict=True):
        assert other.heats[1] <= one.heats[1]


def test_helper_is_wanted_where_it_is_said():
    assert not any(one.helper for one in timed(demo("pot_stand")))
    welded = [one for one in timed(demo("pot_stand"), helped="welds") if one.helper]
    assert {one.title for one in welded} == {"Rivet", "Weld a ring"}
    assert sum(one.helper for one in timed(demo("pot_stand"), helped="named")) > len(welded)


def test_part_is_made_as_often_as_it_is_wanted_and_before_what_takes_it():
    replayed = demo("door_hinge")
    found = timed(replayed)
    assert len(found) == sum(one.part.quantity * len(one.frames) for one in replayed.parts)


# -- words -----------------------------------------------------------------------------------------


def test_class_of_eight_with_a_shared_power_hammer_is_said_in_words():
    plan = a_plan()
    assert text(plan.headline).startswith("8 students, a piece each, need about 1 h ")
    assert "which fits the session with" in plan.headline
    assert plan.bottleneck_title == "The power hammer holds the class up"
    assert "Students wait" in plan.bottleneck
    assert "One more power hammer" in [one.words for one in plan.changes]
    assert "one more fire" in plan.no_help
    assert "1 power hammer" in plan.reckoned


def test_too_short_a_session_is_said_with_what_it_would_hold():
    plan = a_plan(ClassShop(power_hammers=1, session=80, students=12))
    assert "longer than the session" in plan.headline
    assert plan.level in ("caution", "stop")
    assert "The session is long enough for" in plan.holds


def test_range_is_always_said():
    low, typical, high = (one.minutes for one in a_plan().planned)
    assert low < typical < high
    assert "if all goes well" in a_plan().sure


def test_no_schedule_says_why_and_for_which_step():
    plan = a_plan(ClassShop(power_hammers=1, anvils=0))
    assert plan.error == "There is no anvil, and the work needs one."
    assert plan.error_step == "Cut off"
    assert [one.words for one in plan.changes] == ["One anvil"]


def test_times_are_by_the_clock_where_the_session_has_a_beginning():
    assert a_plan().rows[0][1][0] == "0:20"
    assert a_plan(begins=BEGINS).rows[0][1][0] == "18:50"


# -- chart and files -------------------------------------------------------------------------------


@pytest.mark.parametrize(("by", "rows"), [("students", 8), ("places", 4 * 2 + 4 + 2)])
def test_chart_has_a_row_for_each_and_says_so(by, rows):
    drawn = ET.fromstring(Chart(a_plan(), by).svg())  # noqa: S314 - our own
    assert len(drawn.findall("g")) == rows
    assert "8 students" in drawn.get("aria-label")


def test_chart_stays_in_its_frame():
    plan = a_plan(ClassShop(power_hammers=1, session=60))
    drawn = ET.fromstring(Chart(plan).svg())  # noqa: S314 - our own
    assert "the session ends" in [one.text for one in drawn.iter("text")]
    for one in drawn.iter("rect"):
        assert float(one.get("x")) + float(one.get("width")) <= 1000


def test_legend_has_what_is_drawn():
    words = [words for _, words in legend(a_plan())]
    assert "under the power hammer" in words
    assert "at the vice" not in words


def test_csv_has_every_turn():
    plan = a_plan(begins=BEGINS)
    rows = list(csv.DictReader(io.StringIO(turns_csv(plan))))
    assert len(rows) == len(plan.usual.schedule.entries)
    assert rows[0]["begins"] == "18:50"
    assert {one["place"] for one in rows} >= {"power hammer", "anvil 1", "bench", "teacher"}
    assert max(float(one["ends_min"]) for one in rows) == pytest.approx(
        plan.usual.minutes - plan.shop.clean_down, abs=0.01
    )


def test_calendar_reads_back():
    plan = a_plan(begins=BEGINS)
    made = calendar(
        plan, "Hooks; with, commas", "https://example.org/p/", made=datetime(2026, 1, 1, tzinfo=UTC)
    )
    events = Calendar.from_ical(made).walk("VEVENT")
    assert events[0].decoded("dtstart") == BEGINS
    assert str(events[0]["summary"]) == "Hooks; with, commas"
    assert len({str(one["uid"]) for one in events}) == len(events) == 1 + 1 + len(plan.steps) + 1
    assert all(one.decoded("dtend") > one.decoded("dtstart") for one in events)


def test_calendar_needs_a_day():
    with pytest.raises(NoBeginning, match="the day and the hour"):
        calendar(a_plan(), "Hooks", "https://example.org/")
