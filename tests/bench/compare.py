"""Comparing: two revisions of 100 steps, beyond their drawings, which come by their own addresses."""

from collections.abc import Iterator

from calculators.wording import METRIC
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.presenting.comparison import compare
from tests.bench import Row
from tests.bench._sample import a_long_bar
from tests.bench._timing import ratio, seconds

TITLE = "Comparing two revisions of 100 steps"


def run() -> Iterator[Row]:
    stored = a_long_bar(100)[0].document
    for name, at in (("the last step", 99), ("the first step", 0)):
        steps = [dict(one) for one in stored["parts"][0]["steps"]]
        steps[at] = {
            **steps[at],
            "params": {**steps[at]["params"], "target": {"shape": "square", "side": 17}},
        }
        changed = {**stored, "parts": [{**stored["parts"][0], "steps": steps}]}
        pair = [(one, read(one)) for one in (stored, changed)]

        def look() -> None:
            found = compare(pair[0], pair[1], METRIC)  # noqa: B023  called before the next turn
            assert any(part.differing for part in found.parts)

        yield Row(f"{name} changed", seconds(look, repeat=10) * 1000, "ms")
        once = ratio(look, lambda: replay(pair[0][1]), repeat=10)  # noqa: B023
        yield Row(f"{name} changed / one replay of 100 steps", once, "x", aim=4)
