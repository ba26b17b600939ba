"""What a bar that is not quite its size makes of the finished piece, and which size matters most."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from calculators.bar_sizes import limits
from calculators.sections import Section
from calculators.wording import Sentence
from procedures.engine.document import Document
from procedures.engine.replan import with_part
from procedures.engine.replay import replay_part

from .target import Target
from .unknown import NoSuchSize, Unknown, step_unknowns

MORE = 0.5  # mm: what an eye and a hammer hold a section to; common practice, no source
MOST_SIZES = 60  # given sizes that are tried


@dataclass(frozen=True, slots=True)
class Effect:
    """What 0.5 mm more on a given size makes of the target [mm, or kg for a mass]."""

    said: Sentence
    step: int  # 0 for the bar
    now: float
    change: float


@dataclass(frozen=True, slots=True)
class Spread:
    """What comes of the thinnest and the thickest bar that may be sold as this section."""

    least: Section
    most: Section
    thin: float | None
    thick: float | None


def effects(
    document: Document, key: str, target: Target, *, nominal: bool = False, most: int = MOST_SIZES
) -> list[Effect]:
    """Return what given sizes, `most` of them, do to a target; what matters most first."""
    part = document.part(key)
    if part is None:
        raise KeyError(key)
    planned = target.measured(replay_part(document, key, nominal=nominal))
    if planned is None:
        return []
    found = []
    numbers = {one.key: number for number, one in enumerate(part.steps, start=1)}
    for unknown in _given(document, key, most):
        try:
            now = unknown.value(part)
            changed = unknown.put(document, key, now + MORE)
        except NoSuchSize:
            continue
        became = target.measured(replay_part(changed, key, nominal=nominal))
        if became is not None:
            found.append(Effect(unknown.said(part), numbers.get(unknown.step, 0), now, became - planned))
    return sorted(found, key=lambda one: -abs(one.change))


def _given(document: Document, key: str, most: int) -> Iterator[Unknown]:
    part = document.part(key)
    assert part is not None
    yield Unknown("length")
    yield from (Unknown(kind) for kind in _sizes_of(part.section))
    steps = (one for step in part.steps for one in step_unknowns(part, step.key, sections=True))
    for _, unknown in zip(range(most), steps, strict=False):
        yield unknown


def _sizes_of(section: Section) -> tuple[Literal["width", "thickness", "size"], ...]:
    return ("width", "thickness") if section.shape == "flat" else ("size",)


def spread(document: Document, key: str, target: Target, *, nominal: bool = False) -> Spread | None:
    """Return what the limits of rolled bar make of a target; None where no limits are known."""
    part = document.part(key)
    found = limits(part.section) if part else None
    if part is None or found is None:
        return None
    values = [
        target.measured(replay_part(with_part(document, replace(part, section=one)), key, nominal=nominal))
        for one in found
    ]
    return Spread(*found, *values)
