"""Shoulder: a sharp step where a run meets a thinner one."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Seen, Setting, Size, declare


class Shoulder(Feature):
    """A square step between two runs of even section; the thinner one is set in from it."""

    id = "shoulder"
    title = "Shoulder"
    help = "A sharp step between two stems: the thinner one is set in over the edge of the anvil."
    takes_bar = False

    fillet: float = declare.length("Fillet", "Radius in its corner.", default=2.0)

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if setting.first.is_close(setting.last):
            yield "", say("The runs on both sides are alike: there is no step between them.")
        elif min(setting.first.area, setting.last.area) >= setting.bar.area:
            yield "", say("Neither run is thinner than the bar, {bar:section}.", bar=setting.bar)

    def miss(self, setting: Setting, seen: Seen) -> float:
        return 0.0

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        return iter(())
