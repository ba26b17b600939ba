"""Head: an end upset to a bolt, nail or rivet head."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART
from procedures.engine.shaping.heads import HeadForm

FORMS = {
    "square": "square",
    "hexagon": "hexagon",
    "round": "round",
    "dome": "domed, a ball end",
    "rose": "rose",
}


class Head(Feature):
    """A head of a form, so far across and so high."""

    id = "head"
    title = "Head or ball end"
    help = "It is gathered in a bolster before anything else."
    kind = "end"

    form: str = declare.choice("Form", FORMS, default="square")
    size: float = declare.length("Across", "Across flats, or its diameter.")
    height: float = declare.length("Height")

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if self.size <= max(setting.root.width, setting.root.thickness):
            yield (
                "size",
                say(
                    "A head {size:size} across is no larger than what it stands on, {root:section}.",
                    size=self.size,
                    root=setting.root,
                ),
            )

    def long(self, setting: Setting) -> float:
        return self.height

    def volume(self, setting: Setting) -> float:
        made = HeadForm(self.form, self.size, self.height, None, 0.0).segments(setting.root)
        return sum(one.volume for one in made)

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {
            "on": PART,
            "end": setting.tip,
            "form": self.form,
            "size": self.size,
            "height": self.height,
            "mark": f"under the head {setting.number + 1}",
        }
        yield Work(Phase.UPSET, "head", params, {name: name for name in ("form", "size", "height")})

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield Size("Height", self.height, seen.length)
