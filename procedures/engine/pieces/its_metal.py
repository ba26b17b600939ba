"""What is known of a run of metal and goes with it when the run is worked into other segments."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby

from .origin import in_a_row, part_of
from .segment import TOUCH, Segment
from .treatment import Treatment

Run = tuple[Segment, ...]


def of_its_metal(new: Run, old: Run) -> Run:
    """Return the new segments carrying what is known of the old run's metal, by volume fraction.

    That is where on the bar it lay, and the treatment that the heat of the step left it.
    """
    return _with_treatments(_with_origins(new, old), old)


def _with_origins(new: Run, old: Run) -> Run:
    history = in_a_row([(one.origin, one.volume) for one in old])
    total = sum(one.volume for one in new)
    if total <= 0 or not history:
        return new
    carried = []
    done = 0.0
    for one in new:
        low, high = done / total, (done + one.volume) / total
        carried.append(replace(one, origin=part_of(history, low, min(high, 1.0))))
        done += one.volume
    return tuple(carried)


def _with_treatments(new: Run, old: Run) -> Run:
    """Return the new segments as their metal was treated, cut where one treatment ends and another begins.

    A run that has its own is the old one changed, not made anew. A case is stretched with its skin.
    """
    if not any(one.treatment for one in old) or any(one.treatment for one in new):
        return new
    whole, made = _volume(old), _volume(new)
    if made <= 0:
        return new
    stretch = sum(one.skin for one in old) / sum(one.skin for one in new)
    treated: list[Segment] = []
    rest, done = list(new), 0.0
    for treatment, volume in _alike(old):
        done += volume / whole * made
        while rest and _volume(treated) + rest[0].volume <= done + TOUCH * made:
            treated.append(rest.pop(0).treated(treatment.stretched(stretch)))
        if rest and _volume(treated) < done - TOUCH * made:
            first, rest[0] = rest[0].cut(rest[0].at_volume(done - _volume(treated)))
            treated.append(first.treated(treatment.stretched(stretch)))
    return (*treated, *rest)


def _alike(run: Run) -> list[tuple[Treatment, float]]:
    """Return each treatment along a run with the volume [mm³] of the metal that has it."""
    neighbours = groupby(run, key=lambda one: one.treatment)
    return [(treatment, _volume(group)) for treatment, group in neighbours]


def _volume(run: Iterable[Segment]) -> float:
    return sum(one.volume for one in run)
