"""Hole: punched, drifted or drilled through a run."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare

WAYS = {"punch": "punched", "slit_drift": "slit and drifted", "drill": "drilled"}


class Hole(Feature):
    """A hole in the run that stands before it in the list, so far from where that run begins."""

    id = "hole"
    title = "Hole"
    help = "It lies in the run before it in the list, and is measured from where that run begins."
    kind = "at"
    takes_bar = False

    distance: float = declare.length("From where the run begins", "To its middle.")
    size: float = declare.length("Size", "Its diameter, or the side of a square one.")
    way: str = declare.choice("How", WAYS, default="punch")
    shape: str = declare.choice("Shape", {"round": "round", "square": "square"}, default="round")

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        host = setting.host
        if host is None:
            return
        if self.way == "drill" and self.shape == "square":
            yield "shape", say("A drill makes no square hole: punch it, or slit and drift it.")

    def long(self, setting: Setting) -> float:
        return self.distance

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {
            "where": [setting.at(taken)],
            "size": self.size,
            "shape": self.shape,
            "name": f"hole {setting.number + 1}",
        }
        phase = Phase.HOLE_IN_FINE if setting.host_is_fine else Phase.HOLE
        fields = {"size": "size", "where": "distance", "shape": "shape"}
        yield Work(phase, self.way, params, fields)

    def _at(self, setting: Setting, seen: Seen) -> float:
        name = f"hole {setting.number + 1}"
        return next(one.at for one in seen.branch.features if one.name == name) - seen.low

    def miss(self, setting: Setting, seen: Seen) -> float:
        return self._at(setting, seen) - self.distance

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield Size("From where the run begins", self.distance, self._at(setting, seen))
        name = f"hole {setting.number + 1}"
        got = next(one for one in seen.branch.features if one.name == name)
        yield Size("Size", self.size, got.width, kind="size")
