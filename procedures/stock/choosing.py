"""Which bar to take: the usual sizes near the plan's, each worked through the whole procedure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import log

from calculators.bar_sizes import StockBar
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.document import Document
from procedures.engine.frames import PartReplay

from .rebasing import rebased
from .solving import NoStock, Search, Solved
from .target import Target
from .unknown import NoSuchSize, Unknown

NEAREST = 8
THINNEST, THICKEST = 0.6, 2.6  # of the plan's area: what is beyond is another piece of work; our judgement
ALIKE = 0.02  # of an area


@dataclass(frozen=True)
class Choice:
    """A bar that might do. `length` [mm] is None where it cannot be worked; `why` says so."""

    bar: StockBar
    length: float | None
    mass: float  # kg of bar
    waste: float  # kg of it that is not in the finished piece
    area_ratio: float
    why: Sentence | None = None

    @property
    def work(self) -> Sentence:
        """What it adds to the work, in words."""
        if abs(self.area_ratio - 1) <= ALIKE:
            return say("no more work than planned")
        if self.area_ratio < 1:
            return say("thinner: what stays thick is upset first")
        return say("{share:percent} more drawing down all over", share=log(self.area_ratio))


def near(section: Section, bars: Iterable[StockBar]) -> list[StockBar]:
    """Return the bars to try for a planned section, the most alike first: by area, then of the same shape."""
    found = [one for one in bars if THINNEST <= one.section.area / section.area <= THICKEST]
    return sorted(found, key=lambda one: _unlike(one.section, section))[:NEAREST]


def _unlike(one: Section, planned: Section) -> float:
    shape = 0.0 if one.shape == planned.shape else 0.35
    ratio = one.area / planned.area
    proportion = abs(log((one.width / one.thickness) / (planned.width / planned.thickness)))
    thin = 0.4 if ratio < 1 - ALIKE else 0.0
    return abs(log(ratio)) + shape + proportion + thin


def choices(
    document: Document, key: str, target: Target, bars: Iterable[StockBar], *, nominal: bool = False
) -> Iterator[Choice]:
    """Yield what each of these bars takes so that a target comes out, the same steps on the same metal."""
    part = document.part(key)
    if part is None:
        raise KeyError(key)
    for one in bars:
        ratio = one.section.area / part.section.area
        changed = rebased(document, key, one.section, same_metal=True, nominal=nominal)
        search = Search(changed, key, target, Unknown("length"), nominal)
        try:
            solved: Solved | None = search.solve()
        except (NoStock, NoSuchSize):
            solved = None
        yield _choice(one, ratio, solved, search)


def _choice(bar: StockBar, ratio: float, solved: Solved | None, search: Search) -> Choice:
    if solved is not None and solved.trial.replayed is not None:
        return Choice(bar, solved.value, *_masses(solved.trial.replayed), ratio)
    trial = next(iter(search.tried.values()), None)
    if trial is None or trial.replayed is None:
        return Choice(bar, None, 0.0, 0.0, ratio, say("It cannot be had so long."))
    if trial.stop is None:  # the steps settle the size whatever the length: the same metal does
        return Choice(bar, trial.value, *_masses(trial.replayed), ratio)
    frame, finding = trial.stop
    why = say(
        "Step {number:count}, {title}: {why}", number=frame.number, title=frame.title, why=finding.message
    )
    return Choice(bar, None, 0.0, 0.0, ratio, why)


def _masses(replayed: PartReplay) -> tuple[float, float]:
    piece = replayed.final
    bar = replayed.start.mass
    return bar, piece.mass_of(piece.lost() + sum(one.volume for one in piece.offcuts))
