"""The heat plan: the four hand jobs, what decides the number of heats, sharing, waiting, members, losses."""

import json
from dataclasses import replace
from math import log

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.planning.curve import curve_of
from procedures.planning.heat_plan import heat_plan, with_each_hammer
from procedures.planning.losses import losses_by_plan
from procedures.planning.profile import ShopProfile, default
from procedures.planning.ranges import UNSURE, Calibration, Correction, whole_heats
from procedures.planning.reasons import reason_of
from procedures.planning.sharing import could_share, groups
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

STRIKER = ShopProfile(striker=True, hammer="striker")
POWER = ShopProfile(power_energy=162.0, hammer="power")
BARE = {"forging": 0}  # no scale: the sums are those of the bar as it is


def a_plan(*steps, shop=None, **part):
    return heat_plan(replay(read(a_document(a_part(*steps, **part), scale=BARE))), shop)


def the_step(*steps, number=-1, shop=None, **part):
    return a_plan(*steps, shop=shop, **part).parts[0].steps[number]


def demo(name):
    return replay(read(json.loads((DEMO / f"{name}.json").read_bytes())))


def whole(on="bar"):
    return {"on": on, "datum": "whole"}


def end(length, on="bar"):
    return {"on": on, "datum": "end", "length": length}


# The four hand jobs of the trial that settled the constants: blows, seconds, heats of a smith with 1.2 kg,
# a striker with 4 kg and a power hammer of 25 kg. Everybody is good to a factor of 1.7.

DRAW = a_step("draw_out", heats=4, where=end(35), target={"shape": "flat", "width": 24, "thickness": 7})
POINT = a_step("taper", heats=2, where=end(20), end_section={"shape": "point"})
UPSET = a_step("upset", heats=2, where=end(50), final_length=25)
FLATTEN = a_step("flatten", heats=2, where=end(50), thickness=4, bite=12)
JOBS = {
    "draw": (
        DRAW,
        {"shape": "flat", "width": 25, "thickness": 20},
        [(418, 246, 8), (115, 144, 5), (59, 15, 1)],
    ),
    "point": (POINT, {"shape": "square", "side": 12}, [(72, 42, 3), (18, 22, 2), (9, 2, 1)]),
    "upset": (UPSET, {"shape": "square", "side": 16}, [(112, 66, 2), (32, 40, 1), (14, 4, 1)]),
    "flatten": (FLATTEN, {"shape": "round", "diameter": 12}, [(77, 45, 3), (20, 25, 2), (10, 2, 1)]),
}


def job(name, shop):
    step, section, _ = JOBS[name]
    document = a_document(a_part(step), scale=BARE)
    document["parts"][0]["stock"]["section"] = section
    return heat_plan(replay(read(document)), shop).parts[0].steps[0]


SHOPS = (default(), STRIKER, POWER)
DONE_WITH = [  # an upset has no tool for the power hammer, but for short stubby blanks
    pytest.param(name, SHOPS[place], JOBS[name][2][place], id=f"{name}, {SHOPS[place].hammer}")
    for name in JOBS
    for place in range(3)
    if (name, place) != ("upset", 2)
]


@pytest.mark.parametrize(("name", "shop", "expected"), DONE_WITH)
def test_hand_jobs_come_out_inside_their_ranges(name, shop, expected):
    blows, seconds, heats = expected
    step = job(name, shop)
    assert step.hammer == shop.used
    assert step.blows.low <= blows <= step.blows.high
    assert step.hammering.low <= seconds * 1.05
    assert step.hammering.high >= seconds * 0.95
    energy = [max(whole_heats(step.need.energy * by), 1) for by in (1 / UNSURE, UNSURE)]
    assert energy[0] <= heats <= energy[1]


def test_power_hammer_turns_many_heats_into_the_fewest_the_craft_takes():
    by_hand, by_power = job("draw", default()), job("draw", POWER)
    assert by_hand.predicted.typical >= 6
    assert whole_heats(by_power.need.energy) == 1
    assert by_power.predicted.typical == by_power.need.craft == 2


# -- what decides ------------------------------------------------------------------------------------


def said(step, shop=None):
    return reason_of(step, shop or default()).text().replace("\u202f", " ")


def test_energy_decides_and_the_sentence_says_it():
    step = the_step(drawn_out(side=10, length=60, heats=2))
    assert step.need.by == "energy"
    assert "of hammering, and a heat allows about" in said(step)


def test_reach_decides_where_the_work_is_long():
    step = the_step(
        a_step(
            "bend",
            heats=1,
            where={"on": "bar", "datum": "start", "offset": 40},
            meaning="arc_start",
            angle=180,
            inside_radius=150,
        ),
        side=8,
        length=900,
    )
    assert step.need.by == "reach"
    assert "must be hot, and the fire makes 150 mm hot at once" in said(step)


def test_craft_decides_where_hammering_is_nothing():
    punched = a_step("punch", heats=1, where=[{"on": "bar", "datum": "start", "offset": 40}], size=6)
    assert the_step(punched).predicted.typical == 1
    student = the_step(punched, shop=ShopProfile(skill="student"))
    assert (student.predicted.typical, student.need.by) == (2, "craft")
    assert "as a student usually takes" in said(student, ShopProfile(skill="student"))


def test_power_hammer_is_not_for_every_step():
    assert job("draw", POWER).hammer.title == "power hammer"
    assert job("upset", POWER).hammer.title == "hand hammer"  # a holder for short stubby blanks only
    bent = a_step(
        "bend",
        heats=1,
        where={"on": "bar", "datum": "start", "offset": 40},
        meaning="arc_start",
        angle=90,
        inside_radius=20,
    )
    assert the_step(bent, side=12, shop=POWER).hammer.title == "hand hammer"


def test_twist_takes_no_blows():
    step = the_step(a_step("twist", heats=1, where=end(100), turns=2), side=12)
    assert step.hammer is None
    assert step.blows.typical == 0
    assert step.hammering.typical > 0


def test_cold_work_has_neither_heats_nor_blows():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
    filed = a_step("drill", where=[{"on": "bar", "datum": "start", "offset": 40}], size=6)
    for step in a_plan(marked, filed).parts[0].steps:
        assert (step.kind, step.predicted.high, step.blows.high) == ("cold", 0, 0)
        assert said(step) == "Cold work: no heat."


def test_what_is_stopped_is_not_planned():
    step = the_step(drawn_out(side=30, heats=1))
    assert (step.kind, step.predicted.high) == ("not_done", 0)


def test_welds_have_their_usual_heats_and_a_window():
    step = heat_plan(demo("gate_strap")).part("strap").step("weld")
    assert step.kind == "welded"
    assert step.predicted.typical == 2
    assert 1 < step.welding_window < 5
    assert "strike at once" in said(step)


def test_only_a_rivet_is_heated_and_it_is_hot_work():
    steps = heat_plan(demo("pot_stand")).part("hoop").steps
    rivet = next(one for one in steps if one.frame.step.operation == "rivet")
    assert (rivet.kind, rivet.planned, rivet.predicted.typical) == ("forged", 3, 3)


# -- ranges and people -------------------------------------------------------------------------------


def test_ranges_are_a_factor_of_1_7_either_way():
    blows = job("draw", default()).blows
    assert blows.high / blows.typical == pytest.approx(1.7)
    assert blows.typical / blows.low == pytest.approx(1.7)


def test_own_readings_move_and_narrow_the_range():
    own = Calibration(blows=Correction(mean=log(1.3), sd=0.15, readings=6))
    replayed = replay(read(a_document(a_part(drawn_out(heats=2)), scale=BARE)))
    usual, mine = (heat_plan(replayed, None, one).parts[0].steps[0].blows for one in (Calibration(), own))
    assert mine.typical == pytest.approx(1.3 * usual.typical)
    assert mine.high / mine.low < usual.high / usual.low
    assert own.readings == 6


def test_student_takes_more_blows():
    assert (
        job("draw", ShopProfile(skill="student")).blows.typical > 1.7 * job("draw", default()).blows.typical
    )


def test_cooler_habit_takes_more_heats():
    usual, cool = default(), ShopProfile(start=1000.0)
    assert job("draw", cool).need.energy > 1.3 * job("draw", usual).need.energy


def test_harder_steel_takes_more_blows():
    # the trial: 0.45 % C 6 % more, 0.8 % C 13 % more
    def blows(material):
        document = a_document(a_part(drawn_out(heats=2), side=20), scale=BARE)
        document["parts"][0]["material"] = material
        return heat_plan(replay(read(document))).parts[0].steps[0].blows.typical

    assert 1 < blows("high_carbon") / blows("mild_steel") < 1.6


def test_each_hammer_that_suits_a_step_is_told():
    step = job("draw", default())
    titles = [one.hammer.title for one in with_each_hammer(step, default())]
    assert titles == ["hand hammer", "striker with a sledge", "power hammer"]
    blows = [one.blows.typical for one in with_each_hammer(step, default())]
    assert blows == sorted(blows, reverse=True)
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
    assert with_each_hammer(the_step(marked), default()) == []


# -- members, sharing, waiting -----------------------------------------------------------------------


def test_every_member_counts():
    part = heat_plan(demo("hat_bracket")).part("bracket")
    arms, pegs = part.step("arms"), part.step("pegs")
    assert arms.frame.members == 2
    assert arms.planned == 6
    assert arms.predicted.typical % 2 == 0
    assert said(arms).startswith("11 heats for each of 2") or "for each of 2" in said(arms)
    assert pegs.predicted.typical == 4


def test_the_other_member_cools_while_it_waits():
    waiting = heat_plan(demo("hat_bracket")).part("bracket").step("arms").waiting
    assert waiting.others == 1
    assert 850 < waiting.temperature < 1180
    assert waiting.workable


def test_step_without_a_heat_is_done_in_the_one_before():
    plan = a_plan(drawn_out(side=18, length=30, heats=1), a_step("straighten", where=end(30)))
    first, second = plan.parts[0].steps
    assert second.shares
    assert second.leader == first.key
    assert second.predicted.typical == 0
    assert "In the heat before it" in said(second)
    assert [len(one) for one in groups(plan.parts[0])] == [2]


def test_step_that_does_not_fit_says_how_many_heats_more():
    plan = a_plan(drawn_out(side=18, length=30, heats=1), drawn_out(side=10, length=30))
    second = plan.parts[0].steps[1]
    assert second.shares
    assert second.predicted.typical >= 1
    assert "do not fit" in said(second)


def test_cold_work_between_ends_the_heat():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
    plan = a_plan(drawn_out(side=18, length=30, heats=1), marked, drawn_out(side=17, length=30))
    last = plan.parts[0].steps[2]
    assert not last.shares
    assert not last.starts_hot


def test_two_light_steps_on_one_end_could_share():
    punched = a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 20}], size=5)
    again = a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 40}], size=5)
    found = list(could_share(a_plan(punched, again).parts[0]))
    assert [[step.frame.number for step in one.steps] for one in found] == [[1, 2]]
    assert found[0].seconds < found[0].allows


def test_steps_at_both_ends_do_not_share():
    here = a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 20}], size=5)
    there = a_step("punch", heats=1, where=[{"on": "bar", "datum": "start", "offset": 20}], size=5)
    assert not list(could_share(a_plan(here, there, length=900).parts[0]))


# -- time and losses ---------------------------------------------------------------------------------


def test_first_heat_is_longer_than_those_after_it():
    step = job("draw", default())
    assert step.heating.typical > 2 * step.reheating.typical > 0
    # □20 in 1250 °C from cold to 1150 takes 220 s, a reheat 87 s; 25 x 20 to 1180 is some 15 % more
    assert 200 < step.heating.typical < 330


def test_lying_on_the_floor_takes_twice_as_long():
    slow = job("draw", ShopProfile(slower=2.0))
    assert slow.heating.typical == pytest.approx(2 * job("draw", default()).heating.typical)


def test_sums_are_those_of_the_steps():
    part = heat_plan(demo("coat_hook")).part("hook")
    assert part.predicted.typical == sum(one.predicted.typical for one in part.steps)
    assert part.minutes.typical == pytest.approx(sum(one.minutes.typical for one in part.steps))
    assert part.planned == 13


def test_predicted_heats_cost_scale_and_change_no_document():
    replayed = demo("hat_bracket")
    before = replayed.document
    loss = losses_by_plan(replayed, heat_plan(replayed))[0]
    assert loss.scale[1] > loss.scale[0]
    assert loss.mass[1] < loss.mass[0]
    assert loss.mass[0] - loss.mass[1] == pytest.approx(loss.scale[1] - loss.scale[0], rel=0.05)
    assert replayed.document == before == demo("hat_bracket").document


def test_curve_goes_in_out_and_in_again():
    step = job("draw", default())
    curve = curve_of(step, default())
    assert [one.where for one in curve[:4]] == ["fire", "carried", "anvil", "fire"]
    times = [at for one in curve for at, _ in one.points]
    assert times == sorted(times)
    assert curve[0].points[0] == (0.0, 20.0)
    assert max(at for one in curve for _, at in one.points) == step.limits.start
    assert curve[2].points[-1][1] == pytest.approx(step.limits.stop)


def test_no_curve_of_cold_work():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "start", "offset": 10}])
    assert curve_of(the_step(marked), default()) == ()


@pytest.mark.parametrize("name", sorted(one.stem for one in DEMO.glob("*.json")))
@pytest.mark.parametrize(
    "shop",
    [
        default(),
        ShopProfile(skill="student"),
        replace(POWER, power_energy=20000.0),
        ShopProfile(hand_energy=0.5),
        ShopProfile(contact=0.0, transfer=60.0),
    ],
)
def test_every_plan_is_finite_and_in_order(name, shop):
    for part in heat_plan(demo(name), shop).parts:
        for step in part.steps:
            for one in (step.predicted, step.blows, step.hammering, step.fire, step.anvil):
                assert 0 <= one.low <= one.typical <= one.high < 1e7
            assert said(step, shop)
