"""Every example of every operation has a heat plan: finite, in order, with a reason, whatever the shop."""

import pytest

from procedures.engine.catalogue import catalogue
from procedures.engine.exampling import frames
from procedures.planning.curve import curve_of
from procedures.planning.heat_plan import step_plan, with_each_hammer
from procedures.planning.profile import ShopProfile, default
from procedures.planning.reasons import reason_of

SHOPS = [default(), ShopProfile(skill="student", hammer="power", power_energy=600.0, fire="gas")]


@pytest.mark.parametrize("kind", catalogue().values(), ids=lambda one: one.id)
@pytest.mark.parametrize("shop", SHOPS, ids=["usual", "student at a power hammer"])
def test_examples_have_a_plan(kind, shop):
    for example in kind.examples:
        frame = frames(kind, example)[-1]
        plan = step_plan(frame, shop)
        for one in (plan.predicted, plan.blows, plan.hammering, plan.heating, plan.fire, plan.anvil):
            assert 0 <= one.low <= one.typical <= one.high < 1e6, (example.title, one)
        assert reason_of(plan, shop).text()
        assert with_each_hammer(plan, shop) is not None
        assert curve_of(plan, shop) is not None
        if plan.is_hot:
            assert plan.predicted.typical >= 1, example.title
        if frame.status == "done" and kind.heat is None and not plan.is_hot:
            assert plan.blows.high == 0
