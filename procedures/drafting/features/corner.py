"""Corner: the bar turns on the spot, full and square outside."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.engine.shaping.curving import TURNS


class Corner(Feature):
    """A square corner where two runs meet: they are measured to where their middle lines cross."""

    id = "corner"
    title = "Square corner"
    help = "The runs on both sides are measured to where their middle lines cross."
    takes_bar = False

    angle: float = declare.angle("Angle", least=10, most=150, default=90.0)
    fillet: float = declare.length("Inside fillet", "Radius.", least=0, default=2.0)
    turn: str = declare.choice("Turns", TURNS, default="up")

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        where = {"on": setting.at()["on"], "datum": "mark", "mark": setting.high, "toward": "end"}
        params = {"where": where, "angle": self.angle, "fillet": self.fillet, "turn": self.turn}
        yield Work(Phase.BEND, "corner", params, {"angle": "angle", "fillet": "fillet", "where": "angle"})

    def miss(self, setting: Setting, seen: Seen) -> float:
        return 0.0

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        return iter(())
