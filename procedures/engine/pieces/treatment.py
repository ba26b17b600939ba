"""What heat treatment and finish left a run of metal as, and what later heat takes of it again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from calculators.materials import CHANGE
from calculators.wording import Sentence, say

State = Literal["", "normalised", "soft", "hard", "tempered"]

LETS_DOWN = 150.0  # °C from which hard steel gives some of its hardness back: from memory
COAT_BURNS = 300.0  # °C at which wax and oil burn off: from memory
CASE_GOES = 1200.0  # °C above which a case soaks away inward and burns off its skin: our judgement


@dataclass(frozen=True, slots=True)
class Treatment:
    """The state of the steel, the depth of a case [mm] and the coat on it.

    `state` is "" as the forging left it; `tempered_at` is in °C and counts only for "tempered". A case is of
    carbon: it stays when its hardness goes, and is lost at a welding heat, or as deep as metal comes off.
    """

    state: State = ""
    tempered_at: float = 0.0
    case: float = 0.0
    coat: str = ""

    def __bool__(self) -> bool:
        return self != UNTREATED

    @property
    def is_hard(self) -> bool:
        """Whether it is glass hard, straight from the quench."""
        return self.state == "hard"

    @property
    def is_hardened(self) -> bool:
        """Whether it was hardened and is so still, let down or not."""
        return self.state in ("hard", "tempered")

    def heated_to(self, temperature: float) -> Treatment:
        """Return what is left of it after a heat [°C] and cooling in air."""
        coat = self.coat if temperature <= COAT_BURNS else ""
        if temperature >= CHANGE:
            return Treatment(case=self.case if temperature <= CASE_GOES else 0.0, coat=coat)
        if temperature < LETS_DOWN or not self.is_hardened:
            return replace(self, coat=coat)
        return replace(self, state="tempered", tempered_at=max(temperature, self.tempered_at), coat=coat)

    def skinned(self, depth: float) -> Treatment:
        """Return what is left of it after metal of this depth [mm] came off all round."""
        return replace(self, case=max(self.case - depth, 0.0)) if self.case else self

    def stretched(self, times: float) -> Treatment:
        """Return it on a skin of the same metal, `times` as small as it was: its case is so much deeper."""
        return replace(self, case=self.case * times) if self.case else self

    @property
    def said(self) -> Sentence:
        """What it is in words: "tempered at 250 °C, case 1.2 mm, waxed"."""
        words = []
        if self.state == "tempered":
            words.append("tempered at {at:temperature}")
        elif self.state:
            words.append(self.state)
        if self.case:
            words.append("case {case:size}")
        if self.coat:
            words.append("{coat}")
        values = {"at": self.tempered_at, "case": self.case, "coat": self.coat}
        used = {name: value for name, value in values.items() if any(f"{{{name}" in one for one in words)}
        return say(", ".join(words) or "as forged", **used)


UNTREATED = Treatment()
