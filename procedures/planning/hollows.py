"""Holes, hollows and cuts that a step made, as metal pushed aside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

from procedures.engine.frames import Frame
from procedures.engine.judging.deeds import family, holes_made
from procedures.engine.pieces.feature import Feature

_HOLE = 1.8  # strain and pressure in one, of the metal a punch displaces: 0.7 × 2.57 (judgement)
_CHISEL = 4.0  # mm, of metal that a hot chisel pushes aside (judgement)
_OPEN = {"round": pi / 4, "square": 1.0, "rectangle": 1.0, "slot": 0.9}
_GROOVE = 0.7  # of width times length times depth (judgement)
_SUNK = 2 / 3  # of the square of the slope: a sheet stretched to a shallow bowl
_GATHERED = ("head", "rivet")
_LEAST = 1.0  # mm³


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done: a volume [mm³], its strain, and the pressure factor, first and last."""

    volume: float
    strain: float
    factor: tuple[float, float] = (1.0, 1.0)

    @property
    def weight(self) -> float:
        """Volume times strain, which the work is in proportion to."""
        return self.volume * self.strain


def hollowed(frame: Frame) -> Iterator[Deed]:
    """Yield what new and larger holes, grooves, dishes and heads displaced."""
    had = (one for branch in frame.before.branches for one in branch.features)
    known = {_name(one): one for one in had}
    made = {name for name, _ in holes_made(frame)}
    for name in made | {one.branch for one in frame.after.worked}:
        if not frame.after.has_branch(name):
            continue
        for feature in frame.after.branch(name).features:
            before = known.get(_name(feature))
            if before is None or _sizes(before) != _sizes(feature):
                yield from _displaced(frame, feature, before)


def _sizes(feature: Feature) -> tuple[str, float, float, float]:
    return feature.shape, feature.length, feature.width, feature.depth


def _name(feature: Feature) -> tuple[str, bool]:
    return feature.name, feature.is_hole


def _displaced(frame: Frame, feature: Feature, before: Feature | None) -> Iterator[Deed]:
    """Yield what a feature pushed aside that it had not before; nothing for one that is put on."""
    through = _through(frame, feature)
    volume = _volume(feature, through) - (_volume(before, through) if before else 0.0)
    if feature.kind == "dish":
        slope = 2 * feature.depth / max(feature.width, 1.0)
        yield Deed(feature.length * feature.width * pi / 4 * through, _SUNK * slope**2)
    elif volume > _LEAST:
        yield Deed(volume, _HOLE)


def _volume(feature: Feature, through: float) -> float:
    if feature.is_hole:
        return _OPEN[feature.shape] * feature.length * feature.width * through
    if feature.kind in _GATHERED:
        return abs(feature.volume) / 2
    return _GROOVE * feature.length * feature.width * feature.depth if feature.kind == "groove" else 0.0


def _through(frame: Frame, feature: Feature) -> float:
    sections = [one.start for metal in (*frame.left, *frame.found) for one in metal.run]
    sizes = [one.width if feature.face == "edge" else one.thickness for one in sections]
    return sum(sizes) / len(sizes) if sizes else 0.0


def cut(frame: Frame) -> Iterator[Deed]:
    """Yield the metal that a hot chisel pushed aside where the bar was cut through or split."""
    if len(frame.after.offcuts) > len(frame.before.offcuts):
        off = frame.after.offcuts[-1].segments
        if off and off[0].start.area > 0:
            yield Deed(off[0].start.area * _CHISEL, _HOLE)
    if family(frame) == "cut":
        had = {one.name for one in frame.before.branches}
        arms = [one for one in frame.after.branches if one.name not in had and one.segments]
        if arms:
            deep = min(arms[0].segments[0].start.thickness, arms[0].segments[0].start.width)
            yield Deed((len(arms) - 1 or 1) * arms[0].length * deep * _CHISEL, _HOLE)
