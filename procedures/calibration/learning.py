"""Readings by whom, where and of which steel: kept apart, and the strange ones asked about, never pooled."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import sqrt

from .belief import Belief, BeliefError, Reading, update
from .quantities import QUANTITIES, Quantity

FAR = 3.0  # predictive standard deviations from which a reading is asked about
LEAST_SITES = 3  # that a prior can be made of


@dataclass(frozen=True, slots=True)
class Subject:
    """Of what, by whom, where and of which steel something is learnt."""

    quantity: str
    person: str = ""
    site: str = ""
    steel: str = ""

    def __post_init__(self) -> None:
        if self.quantity not in QUANTITIES:
            raise BeliefError(f"Nothing is learnt of {self.quantity!r}: one of {', '.join(QUANTITIES)}.")

    @property
    def about(self) -> Quantity:
        """What is learnt."""
        return QUANTITIES[self.quantity]

    @property
    def key(self) -> Subject:
        """What its readings are kept under: without the steel where that makes no difference."""
        return self if self.about.by_steel else replace(self, steel="")


@dataclass(frozen=True, slots=True)
class Asked:
    """A reading so far out that somebody must say what it is: `strangeness` is in predictive sd."""

    subject: Subject
    reading: Reading
    expected: Belief
    strangeness: float


@dataclass
class _Kept:
    readings: list[Reading] = field(default_factory=list)
    asked: list[Asked] = field(default_factory=list)


class Learner:
    """What has been measured, and what follows. It forgets nothing and pools nothing across subjects.

    `priors` replaces what is believed at first of a quantity, as `site_prior` makes it.
    """

    def __init__(self, priors: dict[str, Belief] | None = None) -> None:
        self._priors = {key: one.prior for key, one in QUANTITIES.items()} | (priors or {})
        self._kept: dict[Subject, _Kept] = {}

    def learn(self, subject: Subject, reading: Reading) -> Asked | None:
        """Take a reading in; one too strange to be pooled is left aside, and what to ask returned."""
        kept = self._kept.setdefault(subject.key, _Kept())
        expected = self.belief(subject)
        strangeness = expected.strangeness(reading)
        if strangeness > FAR:
            asked = Asked(subject.key, reading, expected, strangeness)
            kept.asked.append(asked)
            return asked
        kept.readings.append(reading)
        return None

    def answer(self, asked: Asked, *, keep: bool) -> None:
        """Take in what was asked about, where somebody says that it is so, or drop it.

        Raises BeliefError where it was not asked or is answered already.
        """
        kept = self._kept.get(asked.subject, _Kept())
        if asked not in kept.asked:
            raise BeliefError("This reading is not waiting for an answer.")
        kept.asked.remove(asked)
        if keep:
            kept.readings.append(asked.reading)

    def belief(self, subject: Subject) -> Belief:
        """Return what is believed after its own readings."""
        kept = self._kept.get(subject.key)
        return update(self._priors[subject.quantity], kept.readings if kept else ())

    def readings(self, subject: Subject) -> tuple[Reading, ...]:
        """Return the readings it rests on."""
        kept = self._kept.get(subject.key)
        return tuple(kept.readings) if kept else ()

    def waiting(self, subject: Subject | None = None) -> tuple[Asked, ...]:
        """Return what is asked about and not answered yet, of one subject or of all."""
        if subject is not None:
            kept = self._kept.get(subject.key)
            return tuple(kept.asked) if kept else ()
        return tuple(one for kept in self._kept.values() for one in kept.asked)


def site_prior(quantity: str, beliefs: Iterable[Belief]) -> Belief:
    """Return what a new site may begin with, from the beliefs of others that measured.

    Its mean is theirs; its spread is how they differ together with what each is unsure of, and never less
    than half that of the general prior: another shop is another fire. Raises BeliefError for fewer than
    LEAST_SITES that measured anything.
    """
    measured = [one for one in beliefs if one.n]
    if len(measured) < LEAST_SITES:
        raise BeliefError(f"{len(measured)} of at least {LEAST_SITES} sites have measured.")
    count = len(measured)
    mean = sum(one.mean for one in measured) / count
    apart = sum((one.mean - mean) ** 2 for one in measured) / (count - 1)
    unsure = sum(one.sd**2 for one in measured) / count
    return Belief(mean, max(sqrt(apart + unsure), QUANTITIES[quantity].prior.sd / 2))
