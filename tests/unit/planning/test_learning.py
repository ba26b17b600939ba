"""What pieces teach a shop, by the readings of invented smiths whose truth is known."""

import json
from math import exp, log
from random import Random

import pytest

from procedures.calibration import QUANTITIES
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.learning import Forged, Lessons, expected, in_the_fire, scale_as_learnt
from procedures.management.commands.load_demo import DEMO
from procedures.planning.heat_plan import heat_plan
from procedures.planning.profile import default
from procedures.predicting import Place
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

STEEL = "Mild steel"


@pytest.fixture(scope="module")
def hook():
    return read(json.loads((DEMO / "coat_hook.json").read_bytes()))


@pytest.fixture(scope="module")
def plan(hook):
    return expected(hook, default())


def forged(key=1, **more):
    bare = {"heats": {}, "in_all": None, "sizes": {}, "counted": [], "answers": {}}
    return Forged(key, **{**bare, **more})


def counted(plan, factor):
    """Blows counted at the step that takes most."""
    step = max(plan, key=lambda one: one.blows)
    return [{"part": step.part, "step": step.step, "blows": round(step.blows * factor), "seconds": None}]


def steel_of(plan):
    return plan[0].steel


def test_what_is_expected_is_the_heat_plan(hook, plan):
    steps = {one.key: one for part in heat_plan(replay(hook)).parts for one in part.steps}
    assert {one.step for one in plan} == set(steps)
    for one in plan:
        assert one.heats == steps[one.step].predicted.typical
        assert one.blows == steps[one.step].blows.typical
        assert one.planned == steps[one.step].planned


def test_heats_by_step_are_held_against_those_steps_alone(plan):
    step = max(plan, key=lambda one: one.heats)
    lessons = Lessons([(forged(heats={(step.part, step.step): 3}), plan)])
    (one,) = lessons.readings
    assert one.reading.value == pytest.approx(log(3 / step.heats))
    assert one.predicted == step.heats


def test_heats_in_all_are_held_against_all(plan):
    (one,) = Lessons([(forged(in_all=20), plan)]).readings
    assert one.reading.value == pytest.approx(log(20 / sum(step.heats for step in plan)))


def test_own_pace_moves_the_plan_of_its_steel_alone(hook, plan):
    lessons = Lessons([(forged(n, counted=counted(plan, 1.5)), plan) for n in range(8)])
    own = lessons.calibrations()
    assert set(own) == {steel_of(plan)}
    belief = lessons.belief("blows", steel_of(plan))
    # prior 0 +- 0.5, eight readings of ln 1.5 good to 0.3: (8 ln 1.5 / 0.09) / (1/0.25 + 8/0.09)
    assert belief.mean == pytest.approx((8 * log(1.5) / 0.09) / (1 / 0.25 + 8 / 0.09), abs=0.01)
    usual = heat_plan(replay(hook))
    narrowed = heat_plan(replay(hook), by_steel=own)
    before, after = usual.parts[0].blows, narrowed.parts[0].blows
    assert after.typical / before.typical == pytest.approx(exp(belief.mean))
    assert after.high / after.low < before.high / before.low
    other = heat_plan(replay(hook), by_steel={"Wrought iron": own[steel_of(plan)]})
    assert other.parts[0].blows == before


def test_plan_is_never_surer_than_one_piece_scatters(plan):
    lessons = Lessons([(forged(n, counted=counted(plan, 1.0)), plan) for n in range(200)])
    assert lessons.calibrations()[steel_of(plan)].blows.sd >= QUANTITIES["blows"].reading_sd


def test_reading_far_out_waits_and_moves_nothing(plan):
    usual = [(forged(n, counted=counted(plan, 1.0)), plan) for n in range(5)]
    far = counted(plan, 30.0)
    lessons = Lessons([*usual, (forged(9, counted=far), plan)])
    (asked,) = lessons.asked
    assert asked.piece == 9
    alone = Lessons(usual).belief("blows", steel_of(plan))
    assert lessons.belief("blows", steel_of(plan)) == alone
    key = asked.key
    counts = Lessons([*usual, (forged(9, counted=far, answers={key: True}), plan)])
    assert counts.belief("blows", steel_of(plan)).n == 6
    assert counts.belief("blows", steel_of(plan)).mean > alone.mean
    without = Lessons([*usual, (forged(9, counted=far, answers={key: False}), plan)])
    assert without.belief("blows", steel_of(plan)) == alone
    assert not counts.asked
    assert not without.asked
    assert {one.state for one in without.readings} == {"counts", "left out"}


# -- scale, by weight --------------------------------------------------------------------------------


def whole_bar():
    """A short bar that is hot all through at each of its four heats, of which no step takes anything."""
    return read(a_document(a_part(drawn_out(side=16, length=80, heats=4), side=20, length=80)))


def test_loss_by_weight_is_a_share_of_the_metal_in_the_fire():
    plan = expected(whole_bar(), default())
    (step,) = plan
    heats, hot = in_the_fire(plan, "bar", 0, {})
    assert heats == 4
    assert hot == pytest.approx(20 * 20 * 80 * 7.85e-6, rel=0.01)  # kg: mild steel
    weighed = hot * (1 - 0.03) ** 4  # three in a hundred at every heat
    place = Place("bar", step.step, "piece", "", "mass")
    lessons = Lessons([(forged(sizes={place: weighed}), plan)])
    (one,) = lessons.readings
    assert one.reading.value == pytest.approx(0.03, abs=1e-4)
    assert lessons.belief("loss", step.steel).mean > 0.028


def test_weight_after_a_cold_step_is_of_the_heats_before_it():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 20}])
    drawn = drawn_out(side=16, length=80, heats=4)
    plan = expected(read(a_document(a_part(drawn, marked, side=20, length=80))), default())
    hot, cold = plan
    assert (cold.heats, cold.planned) == (0, 0)
    weighed = in_the_fire(plan, "bar", 0, {})[1] * (1 - 0.03) ** 4
    place = Place("bar", cold.step, "piece", "", "mass")
    (one,) = Lessons([(forged(sizes={place: weighed}), plan)]).readings
    assert one.reading.value == pytest.approx(0.03, abs=1e-4)
    assert one.steel == hot.steel


def test_another_bar_and_a_weight_of_more_than_there_was_teach_no_loss():
    plan = expected(whole_bar(), default())
    place = Place("bar", plan[0].step, "piece", "", "mass")
    assert not Lessons([(forged(sizes={place: 0.2}, other_bar=True), plan)]).readings
    (heavier,) = Lessons([(forged(sizes={place: 2.0}), plan)]).readings
    assert heavier.state == "asked"
    (gone,) = Lessons([(forged(sizes={place: 0.0}), plan)]).readings
    assert gone.state == "refused"


def test_scale_as_learnt_follows_the_belief():
    document = whole_bar()
    plan = expected(document, default())
    place = Place("bar", plan[0].step, "piece", "", "mass")
    part = heat_plan(replay(document)).parts[0]
    masses = [scale_as_learnt(part, Lessons([]).belief("loss", plan[0].steel))[1]]
    for share in (0.01, 0.04):
        weighed = in_the_fire(plan, "bar", 0, {})[1] * (1 - share) ** 4
        lessons = Lessons([(forged(n, sizes={place: weighed}), plan) for n in range(6)])
        low, typical, high = scale_as_learnt(part, lessons.belief("loss", plan[0].steel))
        assert low < typical < high
        masses.append(typical)
    assert masses[1] < masses[0] < masses[2]


# -- spread ------------------------------------------------------------------------------------------


def test_width_after_flattening_is_a_reading_of_the_spread():
    where = {"on": "bar", "datum": "end", "length": 60}
    flattened = a_step("flatten", heats=1, where=where, thickness=8, bite=20)
    plan = expected(read(a_document(a_part(flattened))), default())
    before, after = plan[0].width
    place = Place("bar", plan[0].step, "run", "bar", "width")
    wide = before * (after / before) ** 1.1
    (one,) = Lessons([(forged(sizes={place: wide}), plan)]).readings
    assert (one.quantity, one.state) == ("spread", "counts")
    assert one.reading.value == pytest.approx(1.1)
    given = a_step("flatten", heats=1, where=where, thickness=8, width=30)
    told = expected(read(a_document(a_part(given))), default())
    assert told[0].width is None  # what the author gives is no prediction


# -- coverage ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("pieces", [1, 4, 12])
def test_beliefs_cover_the_truth_of_many_smiths_as_often_as_they_say(plan, pieces):
    """800 smiths whose truth is drawn from the prior: 80 % intervals hold 75 to 85 of a hundred."""
    chance = Random(20270309 + pieces)  # noqa: S311 - smiths, not secrets
    held = 0
    smiths = 800
    for _ in range(smiths):
        truth = chance.gauss(0, 0.5)
        made = [
            (forged(n, counted=counted(plan, exp(truth + chance.gauss(0, 0.3)))), plan) for n in range(pieces)
        ]
        lessons = Lessons(made)
        # who is asked about a reading that is so says that it counts
        answers = {one.piece: {one.key: True} for one in lessons.asked}
        if answers:
            again = [
                (forged(one.key, counted=one.counted, answers=answers.get(one.key, {})), plan)
                for one, _ in made
            ]
            lessons = Lessons(again)
        low, high = lessons.belief("blows", steel_of(plan)).interval(0.8)
        held += low <= truth <= high
    assert 0.75 <= held / smiths <= 0.85
