"""Stock solved for random procedures: fed forward it gives its target, or it is refused, and nothing else."""

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from procedures.engine.document import read
from procedures.engine.replay import replay_part
from procedures.stock.solving import NoStock, solve
from procedures.stock.target import Target
from procedures.stock.unknown import Unknown

from .procedures_at_random import SECTIONS, steps

SLOW = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


@SLOW
@given(data=st.data())
def test_stock_of_a_random_procedure_fed_forward_gives_its_target(data):
    run = data.draw(steps())
    stored = {
        "format": "forgesite.procedure",
        "version": 1,
        "title": "Random",
        "scale": {"fire": data.draw(st.sampled_from(["gas", "coke"]))},
        "parts": [
            {
                "key": "bar",
                "name": "Bar",
                "stock": {"section": data.draw(st.sampled_from(SECTIONS)), "length": 400},
                "steps": [{**one, "key": f"s{index}"} for index, one in enumerate(run)],
            }
        ],
    }
    document = read(stored, draft=True)
    planned = replay_part(document, "bar")
    assume(planned.is_complete)
    branch = data.draw(st.sampled_from([one.name for one in planned.final.branches if one.length]))
    wanted = planned.final.branch(branch).length * data.draw(st.sampled_from([0.8, 1.0, 1.1, 1.4]))
    target = Target(
        *data.draw(st.sampled_from([("length", wanted, branch), ("mass", planned.final.mass * 1.1)]))
    )
    unknown = Unknown(data.draw(st.sampled_from(["length", "length", "size"])))
    try:
        found = solve(document, "bar", target, unknown)
    except NoStock:
        return  # what cannot be had is told, and in the tests of one unit by its reason
    for estimate in ("low", "typical", "high"):
        solved = getattr(found, estimate)
        if solved is None:
            continue
        for value in (solved.value, *solved.others):
            changed = unknown.put(document, "bar", value)
            came = target.measured(replay_part(changed, "bar", estimate=estimate))
            assert came == pytest.approx(target.value, abs=1e-6)
