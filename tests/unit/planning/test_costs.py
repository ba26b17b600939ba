"""Costs of a batch, each sum by hand."""

import json

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.management.commands.load_demo import DEMO
from procedures.planning.costs import Prices, costs
from procedures.planning.heat_plan import heat_plan


@pytest.fixture(scope="module")
def replayed():
    return replay(read(json.loads((DEMO / "coat_hook.json").read_bytes())))


@pytest.fixture(scope="module")
def plan(replayed):
    return heat_plan(replayed)


def reckoned(plan, **more):
    prices = Prices(metal={"hook": 2.0}, **more)
    return costs(plan, [("hook", 0.5)], prices)


def test_metal_is_mass_by_price_and_what_is_bought_beyond(plan):
    made = reckoned(plan, pieces=10, waste=0.2)
    assert made.line("metal").mass == pytest.approx(10 * 0.5 * 1.2)
    assert made.line("metal").cost.typical == pytest.approx(10 * 0.5 * 1.2 * 2.0)
    assert made.line("metal").cost.is_one


def test_time_is_hot_work_and_cold_steps_and_the_rest(plan):
    (part,) = plan.parts
    cold = sum(one.kind == "cold" for one in part.steps)
    assert cold
    made = reckoned(plan, pieces=3, hour=60.0, cold=4.0, each=5.0, setting_up=30.0)
    hot = part.minutes.typical / 60
    assert made.line("time").cost.typical == pytest.approx(3 * hot + 3 * cold * 4 + 3 * 5 + 30)
    low = 3 * part.minutes.low / 60 + 3 * cold * 4 / 1.7 + 3 * 5 + 30
    assert made.line("time").cost.low == pytest.approx(low)


def test_fire_burns_while_hot_work_lasts(plan):
    made = reckoned(plan, pieces=2, fire_hour=6.0, hour=0.0, cold=100.0)
    assert made.line("fuel").cost.high == pytest.approx(2 * plan.parts[0].minutes.high / 3600 * 6)


def test_margin_is_on_all_of_it_and_a_piece_its_share(plan):
    made = reckoned(plan, pieces=4, hour=40.0, finish=2.5, other=12.0, margin=0.25)
    assert made.line("finish").cost.typical == pytest.approx(10.0)
    assert made.total.high == pytest.approx(made.before_margin.high * 1.25)
    assert made.a_piece.low * 4 == pytest.approx(made.total.low)
    assert sum(one.cost.typical for one in made.lines) == pytest.approx(made.before_margin.typical)


def test_nothing_put_in_costs_nothing(plan):
    assert costs(plan, [("hook", 0.5)], Prices()).total.high == 0
