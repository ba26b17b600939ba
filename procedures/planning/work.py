"""The work of a step, from its frame alone: which metal is strained, how far, and under what.

It knows no operation by name. Section, curve, twist, holes and cuts before and after say what was done; a
step that changes none of them moves no metal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import log, pi, radians, sqrt

from calculators.hot_work import BITE, Job, path_strain, pressure_factor, slab_factor
from procedures.engine.frames import Frame
from procedures.engine.judging.deeds import family, turned
from procedures.engine.pieces.metal import Metal, Run, metal_of

from .hollows import Deed, cut, hollowed
from .slices import Slice, slices_of

_OPENED = 0.15  # strain where what is worked cannot be told before from after (judgement)
_CORNERS = 0.5  # of the change of how full of metal the sides are (judgement)
_LEAST_STRAIN = 0.002  # less is the rounding of a size
_SHEAR = sqrt(3.0)
_MEAN_RADIUS = 0.38  # of the root of the area: a square's and a round's within 1 %
_SAME = (0.7, 1.4)  # of the volume: beyond it the runs before and after are not the same metal


@dataclass(frozen=True, slots=True)
class Work:
    """What a step asks for on one member: its job, and the share of it that a wrench does and no hammer."""

    job: Job
    levered: float = 0.0

    @property
    def is_levered(self) -> bool:
        """Whether it is done with a wrench and not with blows."""
        return self.levered > 0.5


def work_of(frame: Frame) -> Work | None:
    """Return the work of a step on one of its members, or None where it moves no metal."""
    struck, levered = list(_struck(frame)), list(_levered(frame))
    whole = sum(one.weight for one in (*struck, *levered))
    found = modulus_of(frame.found) or heated_modulus(frame)
    left = modulus_of(frame.left) or found
    if whole <= 0 or not found:
        return None
    hot = max(_volume(frame.found), *(one.volume for one in (*struck, *levered)))
    factors = [sum(one.weight * one.factor[end] for one in (*struck, *levered)) / whole for end in (0, 1)]
    job = Job(
        hot / frame.members,
        whole / hot,
        (found, left),
        (factors[0], factors[1]),
        frame.before.material.carbon,
    )
    return Work(job, sum(one.weight for one in levered) / whole)


def modulus_of(metals: tuple[Metal, ...]) -> float:
    """Return the volume per skin [mm] of some metal together; 0 where there is none."""
    runs = [one for metal in metals for one in metal.run]
    skin = sum(one.skin for one in runs)
    return sum(one.volume for one in runs) / skin if skin > 0 else 0.0


def thinnest_modulus(frame: Frame) -> float:
    """Return the volume per skin [mm] of the thinnest segment worked, as it is before or after.

    Of what is heated where no length is worked, as at a cut; 0 where there is no metal at all.
    """
    runs = (one for metal in (*frame.found, *frame.left) for one in metal.run)
    return min((one.modulus for one in runs if one.volume > 0), default=heated_modulus(frame))


def heated_modulus(frame: Frame) -> float:
    """Return the volume per skin [mm] of what its heats make hot, of the other parts where only they are."""
    metals = tuple(metal_of(frame.before, span) for span in frame.heated)
    if not metals and frame.operation:
        brought = frame.operation.brought(frame.before)
        metals = tuple(
            metal_of(frame.before.bench[key], span) for key, spans in brought.items() for span in spans
        )
    return modulus_of(metals)


def _volume(metals: tuple[Metal, ...]) -> float:
    return sum(one.volume for metal in metals for one in metal.run)


def _struck(frame: Frame) -> Iterator[Deed]:
    pairs = list(_pairs(frame))
    for before, after in pairs:
        yield from _reshaped(before, after)
        yield from _bent(before, after)
    yield from hollowed(frame)
    yield from cut(frame)
    if not pairs and family(frame) == "bend":
        volume = min(_volume(frame.found), _volume(frame.left))
        yield Deed(volume, _OPENED)


def _levered(frame: Frame) -> Iterator[Deed]:
    for before, after in _pairs(frame):
        turns = abs(sum(one.twist for one in after) - sum(one.twist for one in before))
        length = sum(one.length for one in after)
        if turns > 0 and length > 0:
            volume = sum(one.volume for one in after)
            radius = _MEAN_RADIUS * sqrt(volume / length)
            yield Deed(volume, 2 * pi * turns / length * radius / _SHEAR)


def _pairs(frame: Frame) -> Iterator[tuple[Run, Run]]:
    """Yield (run before, run after) where both are the same metal; what scale took is no work."""
    found_hot = frame.found
    if frame.hot is not None and frame.hot is not frame.before:
        found_hot = tuple(metal_of(frame.hot, one) for one in frame.worked)
    if len(found_hot) != len(frame.left):
        return
    for found, left in zip(found_hot, frame.left, strict=True):
        first, second = (sum(one.volume for one in metal.run) for metal in (found, left))
        same = found.span.branch == left.span.branch and first > 0
        if same and _SAME[0] <= second / first <= _SAME[1]:
            yield found.run, left.run


# -- section and curve -------------------------------------------------------------------------------


def _reshaped(before: Run, after: Run) -> Iterator[Deed]:
    if all(
        one.start is two.start and one.end is two.end for one, two in zip(before, after, strict=False)
    ) and len(before) == len(after):
        return
    length = sum(one.length for one in before)
    pairs = slices_of(before, after)
    strain = sum(one.share * _strain(one, length) for one in pairs)
    if strain < _LEAST_STRAIN:
        return
    volume = sum(one.volume for one in before)
    longer = sum(one.length for one in after)
    if longer < length:  # upset: the bar is struck on its end
        ends = [sqrt(volume / along) for along in (length, longer)]
        factors = tuple(slab_factor(side, along) for side, along in zip(ends, (length, longer), strict=True))
    else:
        thick = [sum(one.share * one.sizes[place] for one in pairs) for place in (1, 3)]
        bite = min(BITE, length, max(pairs[0].sizes[:2]))
        factors = tuple(pressure_factor(bite, one) for one in thick)
    yield Deed(volume, strain, (factors[0], factors[1]))


def _strain(one: Slice, length: float) -> float:
    """Return the strain of a slice; a smith takes no longer bites than the bar is wide (judgement).

    Corners that are made or taken off, as of square to round, strain what moves there besides.
    """
    strain = path_strain(*one.sizes, max(min(BITE, length, max(one.sizes[:2])), 1.0))
    return strain + _CORNERS * abs(log(one.filled[0] / one.filled[1]))


def _bent(before: Run, after: Run) -> Iterator[Deed]:
    """Bending strains the outside by half a thickness over the radius, the mean fibre by half of that."""
    bent = _turned(after) - _turned(before)
    length = sum(one.length for one in after)
    volume = sum(one.volume for one in after)
    if abs(bent) < 0.01 or length <= 0 or volume <= 0:
        return
    thick = sqrt(volume / length)
    strain = abs(bent) / length * thick / 4
    yield Deed(volume, strain)


def _turned(run: Run) -> float:
    """Return how far a run turns [radians], whichever way."""
    return radians(sum(turned(one) for one in run))
