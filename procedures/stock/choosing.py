"""Which bar to take: the usual sizes near the plan's, each worked through the whole procedure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import log

from calculators.bar_sizes import StockBar
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.document import Document
from procedures.engine.frames import PartReplay

from .rebasing import rebased
from .solving import NoStock, Search, Trial
from .target import Target
from .unknown import NoSuchSize, Unknown

NEAREST = 8
THINNEST, THICKEST = 0.6, 2.6  # of the plan's area: what is beyond is another piece of work; our judgement
ALIKE = 0.02  # of an area
THICK = 100.0  # mm of what stays thick, by which upsetting is told


@dataclass(frozen=True)
class Choice:
    """A bar that might do: how long [mm], how heavy and how much of it is wasted [kg]; what it `gives`.

    `length` is None where it cannot be worked, and `why` says so. With `same_metal` the distances that steps
    are given reach round the metal of the plan, else they are as the plan gives them. `replayed` is the part
    made of it, whose work can be told.
    """

    bar: StockBar
    area_ratio: float
    same_metal: bool
    length: float | None = None
    gives: float | None = None
    mass: float = 0.0
    waste: float = 0.0
    why: Sentence | None = None
    replayed: PartReplay | None = None

    @property
    def work(self) -> Sentence:
        """What it adds to the work, in words."""
        if abs(self.area_ratio - 1) <= ALIKE:
            return say("as planned")
        if self.area_ratio < 1:
            return say(
                "thinner: what stays thick is upset first, {long:length} of it from {taken:length}",
                long=THICK,
                taken=THICK / self.area_ratio,  # equal volume
            )
        return say("{share:percent} more drawing down", share=log(self.area_ratio))


def near(section: Section, bars: Iterable[StockBar]) -> list[StockBar]:
    """Return the bars to try for a planned section, the most alike first."""
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
    """Yield what each of these bars takes so that a target comes out. Raises KeyError for no such part."""
    for one in bars:
        yield choice(document, key, target, one, nominal=nominal)


def choice(document: Document, key: str, target: Target, bar: StockBar, *, nominal: bool = False) -> Choice:
    """Return what a bar takes, by whichever way of keeping to the steps comes nearer to the target."""
    found = [_tried(document, key, target, bar, same, nominal) for same in (False, True)]

    def far(one: Choice) -> tuple[bool, float]:
        return one.length is None, abs((one.gives or 0.0) - target.value)

    return min(found, key=far)


def _tried(
    document: Document, key: str, target: Target, bar: StockBar, same_metal: bool, nominal: bool
) -> Choice:
    part = document.part(key)
    if part is None:
        raise KeyError(key)
    changed = rebased(document, key, bar.section, same_metal=same_metal, nominal=nominal)
    search = Search(changed, key, target, Unknown("length"), nominal, starts=(1.0, 1.4))
    try:
        trial = search.solve().trial
    except (NoStock, NoSuchSize):
        trial = next(iter(search.tried.values()))  # the length it had, and what that gives
    bare = Choice(bar, bar.section.area / part.section.area, same_metal)
    if trial.replayed is None:
        return replace(bare, why=say("It cannot be had so long."))
    if trial.measured is not None:
        mass, waste = _masses(trial.replayed)
        return replace(
            bare,
            length=trial.value,
            gives=trial.measured,
            mass=mass,
            waste=waste,
            replayed=trial.replayed,
        )
    return replace(bare, why=_why(trial))


def _why(trial: Trial) -> Sentence:
    if trial.stop is None:
        return say("The size is not there on it.")
    frame, finding = trial.stop
    return say(
        "Step {number:count}, {title}: {why}", number=frame.number, title=frame.title, why=finding.message
    )


def _masses(replayed: PartReplay) -> tuple[float, float]:
    """Return the mass of the bar and of what of it is not in the finished piece [kg]."""
    piece = replayed.final
    return replayed.start.mass, piece.mass_of(piece.lost() + sum(one.volume for one in piece.offcuts))
