"""Making the solid of the last step of a long procedure, beside replaying it, and how large its files are."""

from collections.abc import Iterator

from procedures.engine.replay import replay
from procedures.solid.bodies import bodies_of
from procedures.solid.export import glb, stl
from procedures.solid.glowing import glowing, temperature_of
from tests.bench import Row
from tests.bench._timing import ratio, seconds
from tests.bench.replay import a_document
from tests.unit.solid.every_piece import DEMOS, of_demo

TITLE = "A step in the round: the last of 60 steps on 16 branches"


def run() -> Iterator[Row]:
    document = a_document(60)
    last = replay(document).parts[0].frames[-1]
    bodies = bodies_of(last.after, glowing(last))
    made = seconds(lambda: glb(bodies_of(last.after, glowing(last)), temperature_of(last)))
    meshed = ratio(lambda: bodies_of(last.after, glowing(last)), lambda: replay(document))
    whole = ratio(
        lambda: glb(bodies_of(last.after, glowing(last)), temperature_of(last)), lambda: replay(document)
    )
    largest = max(
        len(glb(bodies_of(frame.after, glowing(frame)), temperature_of(frame)))
        for name in DEMOS
        for _, frame in of_demo(name)
    )
    yield Row("glTF of the last step", made * 1000, "ms")
    yield Row("mesh / replay of all 60 steps", meshed, "x")
    yield Row("glTF / replay of all 60 steps", whole, "x", aim=4)
    yield Row("its size", len(glb(bodies, temperature_of(last))) / 1000, "kB", aim=1000)
    yield Row("its STL", len(stl(bodies)) / 1000, "kB")
    yield Row("largest glTF of the demo", largest / 1000, "kB", aim=1000)
