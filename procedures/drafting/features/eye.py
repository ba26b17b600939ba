"""Eye: an end turned round on itself, open or welded."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, radians

from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART
from procedures.engine.shaping.curving import TURNS, depth, plane_of

_BURNT = 1.15  # times: about what two welding heats take off
_LEFT = 0.96  # of the run, by the scale of the heats before: so that the weld keeps to it
MADE = {"bent": "bent round", "welded": "folded back and welded"}


class Eye(Feature):
    """An eye of a given inside diameter, bent round or welded shut."""

    id = "eye"
    title = "Eye"
    help = "It takes the bar of its circle along the middle line; a welded one its seat besides."
    kind = "end"

    inside_diameter: float = declare.length("Inside diameter")
    made: str = declare.choice("Made", MADE, default="bent")
    sweep: float = declare.angle(
        "Sweep", "How far round a bent one goes.", least=180, most=360, default=360.0
    )
    seat: float | None = declare.length(
        "Length of the weld", "Of a welded one: from the stem to where the eye opens.", required=False
    )
    turn: str = declare.choice("Turns", TURNS, default="up")

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if self.made == "welded" and self.seat is None:
            yield "seat", say("Say how long the weld is, from the stem to where the eye opens.")
        if self.made == "bent" and self.seat is not None:
            yield "seat", say("A bent eye has no weld: leave it out, or let the eye be welded.")

    def _circle(self, setting: Setting) -> float:
        deep = depth(setting.root, plane_of(self.turn))
        sweep = 360.0 if self.made == "welded" else self.sweep
        return radians(sweep) * (self.inside_diameter + deep) / 2

    def long(self, setting: Setting) -> float:
        return self._circle(setting) + (self.seat or 0.0)

    def volume(self, setting: Setting) -> float:
        burnt = _BURNT if self.made == "welded" else 1.0
        return burnt * self.long(setting) * self.base(setting).area

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        if self.made == "bent":
            yield self._bent(setting)
            return
        yield from self._welded(setting, taken)

    def _bent(self, setting: Setting) -> Work:
        params = {
            "on": PART,
            "end": setting.tip,
            "inside_diameter": self.inside_diameter,
            "sweep": self.sweep,
            "turn": self.turn,
        }
        return Work(Phase.CURL, "loop", params, {name: name for name in ("inside_diameter", "sweep")})

    def _welded(self, setting: Setting, taken: float) -> Iterator[Work]:
        """Yield the fold and its weld: half of what the circle leaves of the run lies on the other half."""
        run = _LEFT * taken * setting.bar.area / setting.root.area
        circle = self._circle(setting)
        flap = max(run - circle, 1.0) / 2 + circle / 4
        fold = {
            "on": PART,
            "end": setting.tip,
            "flap": flap,
            "gap": self.inside_diameter,
            "turn": self.turn,
        }
        yield Work(Phase.WELD, "fold_back", fold, {"flap": "seat", "gap": "inside_diameter"})
        weld = {
            "on": PART,
            "end": setting.tip,
            "dressed": setting.root.to_json(),
            "eye": self.inside_diameter,
        }
        yield Work(Phase.WELD, "weld_fold", weld, {"eye": "inside_diameter", "seat": "seat", "on": "seat"})

    def miss(self, setting: Setting, seen: Seen) -> float:
        if self.made == "bent":
            return seen.left_over(seen.own["loop"])
        return self._weld(seen) - (self.seat or 0.0)

    def _weld(self, seen: Seen) -> float:
        run = seen.branch.segments_between(seen.low, seen.high)
        return sum(one.length for one in run if one.path.kind != "arc")

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        if self.made == "bent":
            yield from seen.inside("loop", self.inside_diameter, "Inside diameter", diameter=True)
            return
        yield Size("Length of the weld", self.seat or 0.0, self._weld(seen))
        run = seen.branch.segments_between(seen.low, seen.high)
        bent = [one for one in run if one.path.kind == "arc"]
        round_ = sum(one.length for one in bent)
        deep = depth(bent[len(bent) // 2].start, plane_of(self.turn))
        got = round_ / pi - deep
        yield Size("Inside diameter", self.inside_diameter, got, kind="size")
