"""Drawing the steps of one bar: what a step costs, and that it grows no faster than what there is to draw."""

from collections.abc import Iterator
from statistics import median
from time import process_time

from procedures.drawing import PartDrawing
from procedures.engine.document import Document, read
from procedures.engine.replay import replay
from tests.bench import Row
from tests.bench._sample import a_long_bar
from tests.bench.replay import a_document

TITLE = "Drawings of the steps of one bar, none kept, as processor time"
SHORT, LONG = 30, 120  # steps


def run() -> Iterator[Row]:
    short, long = (a_step(read(a_long_bar(count)[0].document)) for count in (SHORT, LONG))
    yield Row(f"a step of {SHORT} runs", short * 1000, "ms")
    yield Row(f"a step of {LONG} runs", long * 1000, "ms")
    yield Row(
        f"the same / {LONG // SHORT} steps of {SHORT} runs", long / short / (LONG / SHORT), "x", aim=1.5
    )
    yield Row("a step of 60 on 16 branches", a_step(a_document(60)) * 1000, "ms")


def a_step(document: Document) -> float:
    """The time [s] of a drawing, of three goes over the last ten steps."""
    part = replay(document).parts[0]
    times = []
    for _ in range(3):
        pen = PartDrawing(part)
        assert pen.scales  # found beforehand: it takes all steps
        began = process_time()
        for frame in part.frames[-10:]:
            pen.step(frame)
        times.append((process_time() - began) / 10)
    return median(times)
