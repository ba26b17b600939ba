"""The heat plan of a long procedure, beside the replay that it is made from."""

from collections.abc import Iterator

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.planning.heat_plan import heat_plan
from procedures.planning.losses import losses_by_plan
from tests.bench import Row
from tests.bench._sample import a_long_procedure
from tests.bench._timing import ratio, seconds

TITLE = "Heat plan of a procedure of 66 steps"


def run() -> Iterator[Row]:
    procedure, _ = a_long_procedure()
    document = read(procedure.document)
    replayed = replay(document)
    plan = heat_plan(replayed)
    assert sum(len(one.steps) for one in plan.parts) >= 60
    yield Row("plan", seconds(lambda: heat_plan(replayed)) * 1000, "ms")
    # A fresh replay each time: what a frame has worked out once, it remembers.
    yield Row(
        "replay and plan / replay", ratio(lambda: heat_plan(replay(document)), lambda: replay(document)), "x"
    )
    yield Row("plan / replay", ratio(lambda: heat_plan(replayed), lambda: replay(document)), "x", aim=5)
    yield Row(
        "with its losses / replay",
        ratio(lambda: losses_by_plan(replayed, plan), lambda: replay(document)),
        "x",
    )
