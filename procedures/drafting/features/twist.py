"""Twist: a run turned about its own axis."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare


class Twist(Feature):
    """A twisted run: its length and section stay what they were."""

    id = "twist"
    title = "Twist"
    help = "A run turned about its own axis; it keeps its length and its section."

    length: float = declare.length("Length")
    turns: float = declare.number("Turns", above=0, most=40)
    hand: str = declare.choice("Hand", {"right": "right", "left": "left"}, default="right")
    section: Section | None = declare.section("Section", "Left out: as the run beside it.", required=False)

    @property
    def states(self) -> Section | None:
        return self.section

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if setting.root.shape == "round":
            yield "section", say("A twist of round bar is not to be seen: give it edges.")

    def long(self, setting: Setting) -> float:
        return self.length

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {"where": setting.run(), "turns": self.turns, "hand": self.hand}
        yield Work(Phase.TWIST, "twist", params, {"turns": "turns", "where": "length"})

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.section(setting.root)
