"""Working back from the finished piece: stock in replays, and cutting lists in seconds."""

import random
from collections.abc import Iterator
from time import perf_counter

from procedures.engine.replay import replay
from procedures.stock.cutting import Shop, Wanted, cutting_plan
from procedures.stock.solving import solve
from procedures.stock.target import Target
from procedures.stock.unknown import Unknown
from tests.bench import Row
from tests.bench._timing import ratio
from tests.bench.replay import WIDTH, a_document

TITLE = "Stock from the finished piece, and cutting lists"
LISTS = 6


def run() -> Iterator[Row]:
    sixty = a_document(60)
    wanted = replay(sixty).parts[0].final.branch("arm 1").length

    def length() -> None:
        solve(sixty, "bar", Target("mass", 10.0), Unknown())

    def section() -> None:
        solve(sixty, "bar", Target("length", wanted + WIDTH / 10, "arm 1"), Unknown("width"))

    yield Row(
        "length of a bar of 60 steps / a replay", ratio(length, lambda: replay(sixty), repeat=10), "x", aim=10
    )
    yield Row(
        "width of it, all roots / a replay", ratio(section, lambda: replay(sixty), repeat=5), "x", aim=10
    )
    slowest, gap, proven = 0.0, 0.0, 0
    for seed in range(LISTS):
        began = perf_counter()
        plan = cutting_plan(*a_list(seed))
        slowest = max(slowest, perf_counter() - began)
        gap = max(gap, plan.gap)
        proven += plan.is_proven
    yield Row("200 pieces of 12 lengths, the slowest", slowest, "s", aim=2)
    yield Row("its gap, the largest", 100 * gap, "%")
    yield Row(f"proven, of {LISTS}", proven, "")


def a_list(seed: int) -> tuple[list[Wanted], Shop]:
    """200 pieces of 12 lengths, three offcuts, and bars of 6 m."""
    chance = random.Random(seed)  # noqa: S311
    lengths = chance.sample(range(90, 1500), 12)
    counts = [17 - (index % 3 == 2) for index in range(12)]
    pieces = [Wanted(f"piece {one}", one, count) for one, count in zip(lengths, counts, strict=True)]
    return pieces, Shop((6000.0,), (1500, 900, 2200), 3, 20)
