"""Forging at random: steps of any operation on whatever the piece has become, with sizes near those it has.

Where `procedures_at_random` shakes the examples, this looks at the piece before each step and names branches,
groups and marks that are there, so that most of what it asks can be tried.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from calculators.sections import Section, SectionError
from procedures.engine.catalogue import catalogue
from procedures.engine.document import Part, Step
from procedures.engine.finding import Unworkable
from procedures.engine.operation import Operation
from procedures.engine.parameters.params import Number, Param, ParamError
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.replay import Frame, work
from procedures.engine.scale import ScaleHabit

NAMES = [
    "A",
    "left",
    "right",
    "mid",
    "{x}",
    "{at:length}",
    "</script>",
    "🔥🔨",
    "سندان",
    "%s",
    "\\",
    "n" * 40,
]
STOCKS = [
    {"shape": "square", "side": 12},
    {"shape": "round", "diameter": 3},
    {"shape": "flat", "width": 30, "thickness": 8},
    {"shape": "flat", "width": 8, "thickness": 30},
    {"shape": "hexagon", "across_flats": 17},
    {"shape": "octagon", "across_flats": 20},
    {"shape": "half_round", "width": 20},
    {"shape": "triangle", "side": 20},
    {"shape": "square", "side": 150},
    {"shape": "tube", "diameter": 40, "wall": 4},
    {"shape": "rounded_flat", "width": 30, "thickness": 10, "radius": 2},
    {"shape": "chamfered_flat", "width": 30, "thickness": 30, "chamfer": 4},
]
ENDS = [{"shape": "point"}, {"shape": "edge", "width": 10}, {"shape": "round", "diameter": 2}]
SCALES = [None, ScaleHabit(), ScaleHabit(fire="coke"), ScaleHabit(forging=0.3, welding=0.5)]
SIZES = [
    0.0,
    0.1,
    0.5,
    1,
    2,
    3,
    5,
    8,
    10,
    12,
    15,
    20,
    25,
    30,
    45,
    60,
    75,
    90,
    100,
    120,
    150,
    180,
    200,
    300,
    360,
]
OFTEN = ["split", "mark_out"]  # without arms and marks most places are not there


def forged_at_random(random: Random, most: int) -> Iterator[Frame]:
    """Yield the frames of a bar worked at random, after those of another that lies on the bench."""
    rod = _bar(random, "rod", {})
    yield from _worked(random, rod, 2)
    yield from _worked(random, _bar(random, random.choice(["bar", *NAMES]), {"rod": rod}), most)


def _bar(random: Random, name: str, bench: dict[str, Piece]) -> Piece:
    section = Section.from_json(random.choice(STOCKS))
    return bar(section, random.choice([5.0, 30.0, 120.0, 300.0, 6000.0]), name=name, bench=bench)


def _worked(random: Random, piece: Piece, most: int) -> Iterator[Frame]:
    scale = random.choice(SCALES)
    part = Part(piece.name, piece.name, piece.stock.section, piece.stock.length)
    bench = dict(piece.bench)
    for number in range(4 * most):
        kind = catalogue()[random.choice([*catalogue(), *OFTEN * 3])]
        if kind.brings_in() and not bench:
            continue
        params = _Choice(random, piece).params(kind)
        step = Step(f"s{number}", kind.id, params, heats=random.choice([0, 1, 2, 5]))
        try:
            kind.from_params(params)
        except ParamError:
            continue
        frame = work(part, step, piece, number=number, scale=scale)
        yield frame
        piece = frame.after
        most -= frame.status == "done"
        if not most:
            return


class _Choice:
    """Chooses parameters for a step on a piece."""

    def __init__(self, random: Random, piece: Piece) -> None:
        self.random = random
        self.piece = piece
        self.kinds: dict[str, Callable[[], Any]] = {
            "flag": lambda: random.random() < 0.5,
            "text": lambda: random.choice(NAMES),
            "name": lambda: random.choice(NAMES),
            "names": self.names,
            "section": self.section,
            "part": lambda: "rod",
            "parts": lambda: ["rod"],
            "branch": self.owner,
            "numbers": lambda: [random.choice([0.5, 1.0, 2.0]) for _ in range(random.choice([2, 3]))],
            "angles": lambda: [random.choice([60.0, 20.0]), random.choice([0.0, -45.0])],
            "place": self.place,
            "position": self.position,
            "positions": lambda: [self.position() for _ in range(random.choice([1, 1, 3]))],
            "marks": lambda: [{"name": random.choice(NAMES), **self.position()} for _ in range(2)],
        }

    def params(self, kind: type[Operation]) -> dict[str, Any]:
        """Return parameters: the needed ones, one of each group that wants one, and some of the others."""
        chosen = {self.random.choice(names) for names in kind.one_of}
        others = {name for names in kind.one_of for name in names} - chosen
        return {
            name: self.value(param)
            for name, param in kind.params().items()
            if name not in others
            and (
                name in chosen
                or (param.required and kind.default(name) is None)
                or self.random.random() < 0.35
            )
        }

    def value(self, param: Param) -> Any:
        """Return a value for a parameter; of a kind not known here, one that will not read."""
        if param.kind == "choice":
            return self.random.choice([key for key, _ in param.choices])  # type: ignore[attr-defined]
        if isinstance(param, Number):
            return self.number(param)
        return self.kinds.get(param.kind, lambda: None)()

    def number(self, param: Number) -> float:
        branch = self.random.choice(self.piece.branches)
        section = branch.segments[0].start
        near = [section.thickness, section.width * self.random.random(), branch.length * self.random.random()]
        value = self.random.choice(SIZES if param.kind != "length" else [*SIZES, *near * 4])
        return int(value) if param.whole else float(value)

    def section(self) -> dict[str, Any]:
        there = self.random.choice(self.random.choice(self.piece.branches).segments).start
        try:
            return there.scaled(self.random.choice([0.3, 0.5, 0.7, 0.9, 1.0, 1.2, 1.5])).to_json()
        except SectionError:
            return self.random.choice(STOCKS + ENDS)

    def owner(self) -> str:
        return self.random.choice([*(one.name for one in self.piece.branches), *self.piece.groups, "nobody"])

    def names(self) -> list[str]:
        holes = [one.name for branch in self.piece.branches for one in branch.features]
        if holes and self.random.random() < 0.5:
            return [self.random.choice(holes)]
        return self.random.sample(NAMES, self.random.choice([2, 2, 3]))

    def place(self) -> dict[str, Any]:
        on, datum = (
            self.owner(),
            self.random.choice(["whole", "start", "end", "end", "centre", "mark", "between"]),
        )
        place = {"on": on, "datum": datum, "mark": self.mark(on), "mark_to": self.mark(on)}
        place["toward"] = self.random.choice(["start", "end", "both"])
        if self.random.random() < 0.4:
            place["offset"] = self.distance(on) / 2
        return {**place, "length": self.distance(on)} if self.random.random() < 0.7 else place

    def position(self) -> dict[str, Any]:
        on, datum = self.owner(), self.random.choice(["start", "end", "centre", "mark"])
        toward = self.random.choice(["start", "end"])
        offset = self.distance(on) * self.random.choice([0.0, 0.5, 1.0])
        return {"on": on, "datum": datum, "offset": offset, "mark": self.mark(on), "toward": toward}

    def mark(self, on: str) -> str:
        names = [mark.name for branch in self.members(on) for mark in self.piece.branch(branch).marks]
        return self.random.choice(names or ["A"])

    def distance(self, on: str) -> float:
        length = min((self.piece.branch(name).length for name in self.members(on)), default=100.0)
        return length * self.random.choice([0.0, 1.0, 0.5, self.random.random(), self.random.random() / 5])

    def members(self, on: str) -> tuple[str, ...]:
        try:
            return self.piece.members(on)
        except Unworkable:
            return ()
