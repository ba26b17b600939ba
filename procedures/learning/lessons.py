"""What the pieces of one person in one shop come to: beliefs, and what must be asked about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from procedures.calibration import QUANTITIES, Asked, Belief, Learner, Subject
from procedures.planning.plans import PartPlan
from procedures.planning.ranges import Calibration, Correction

from .expected import Expected, mass_in_fire
from .pieces import Forged, Learnt, readings


class Lessons:
    """What one person's pieces in one shop come to: every reading with its fate, and the beliefs."""

    def __init__(self, pieces: Iterable[tuple[Forged, Sequence[Expected]]]) -> None:
        self._learner = Learner()
        self._subjects: dict[Subject, None] = {}
        self.readings = [
            self._taken_in(one, forged.answers) for forged, plan in pieces for one in readings(forged, plan)
        ]

    def _taken_in(self, one: Learnt, answers: Mapping[str, bool]) -> Learnt:
        if one.reading is None:
            return one
        subject = Subject(one.quantity, steel=one.steel).key
        self._subjects[subject] = None
        answer = answers.get(one.key)
        if answer is False:
            return replace(one, state="left out")
        asked = self._learner.learn(subject, one.reading)
        if asked is None:
            return one
        if answer is None:
            return replace(one, state="asked", why=_why(asked))
        self._learner.answer(asked, keep=True)
        return one

    @property
    def beliefs(self) -> list[tuple[Subject, Belief]]:
        """What is believed of each quantity and steel of which anything was read, in their usual order."""
        order = list(QUANTITIES)
        found = sorted(self._subjects, key=lambda one: (order.index(one.quantity), one.steel))
        return [(one, self._learner.belief(one)) for one in found]

    def belief(self, quantity: str, steel: str = "") -> Belief:
        """Return what is believed of a quantity of a steel."""
        return self._learner.belief(Subject(quantity, steel=steel))

    @property
    def asked(self) -> list[Learnt]:
        """The readings that wait for an answer."""
        return [one for one in self.readings if one.state == "asked"]

    def calibrations(self) -> dict[str, Calibration]:
        """Return the corrections that narrow a heat plan, by steel; none of a steel never measured."""
        steels = {subject.steel for subject, belief in self.beliefs if belief.n}
        return {steel: self._calibration(steel) for steel in steels if steel}

    def _calibration(self, steel: str) -> Calibration:
        return Calibration(*(self._correction(one, steel) for one in ("blows", "seconds", "heats")))

    def _correction(self, quantity: str, steel: str) -> Correction:
        belief = self.belief(quantity, steel)
        if not belief.n:
            return Correction()
        # One more piece of work scatters as each reading did, so a plan is never surer than that.
        return Correction(belief.mean, belief.predictive_sd(QUANTITIES[quantity].reading_sd), belief.n)


def _why(asked: Asked) -> str:
    return (
        f"{asked.strangeness:.1f} standard deviations from what was to be expected. "
        "A slip of the pen, another steel, or really so?"
    )


def scale_as_learnt(part: PartPlan, belief: Belief) -> tuple[float, float, float]:
    """Return the scale [kg] that a part loses in its predicted heats: likely least, typical, likely most.

    By a belief about the loss of a heat; four times in five the truth is between. Less than nothing is none.
    """
    hot = [(round(one.predicted.typical), mass_in_fire(one.frame)) for one in part.steps if one.is_hot]
    low, high = belief.interval(0.8)

    def lost(share: float) -> float:
        return sum(mass * (1 - (1 - min(max(share, 0.0), 1.0)) ** heats) for heats, mass in hot)

    return lost(low), lost(belief.mean), lost(high)
