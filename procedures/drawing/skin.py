"""What a run is like besides its shape: the pattern on its surface, and what heat treatment left it as."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from calculators.wording import UnitSystem
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.treatment import UNTREATED, Treatment

_NEAR = 0.5  # mm: runs that lie nearer to each other than this are one

PATTERNS = {
    "veins": "veins",
    "lines": "lines",
    "crossed": "crossed lines",
    "hammered": "hammer marks",
    "bark": "bark",
    "stamped": "stamps",
    "other": "pattern",
}


@dataclass(frozen=True)
class SkinNote:
    """A run of a branch [mm] of one pattern or of one treatment; `new` when this step made it so."""

    branch: str
    low: float
    high: float
    pattern: str = ""
    treatment: Treatment = UNTREATED
    new: bool = False

    def words(self, units: UnitSystem) -> str:
        """Return what is written at it."""
        return PATTERNS.get(self.pattern, self.pattern) or self.treatment.said.text(units)


def skin_notes(piece: Piece, before: Piece | None) -> Iterator[SkinNote]:
    """Yield the patterns, and the treatments worth showing: those that last, and those just given."""
    old = set(map(_known, _found(before))) if before else set()
    for one in _found(piece):
        new = before is not None and before.has_branch(one.branch) and _known(one) not in old
        lasts = one.pattern or one.treatment.is_hardened or one.treatment.case
        if new or lasts:
            yield SkinNote(one.branch, one.low, one.high, one.pattern, one.treatment, new)


def _known(one: SkinNote) -> tuple[object, ...]:
    return one.branch, one.pattern, one.treatment, round(one.high - one.low)


def _found(piece: Piece) -> Iterator[SkinNote]:
    for branch in piece.branches:
        yield from _runs(branch, _patterns(branch))
        yield from _runs(branch, _treatments(branch))


def _patterns(branch: Branch) -> Iterator[SkinNote]:
    low = 0.0
    for one in branch.segments:
        yield SkinNote(branch.name, low, low + one.length, pattern=one.texture)
        low += one.length


def _treatments(branch: Branch) -> Iterator[SkinNote]:
    low = 0.0
    for one in branch.segments:
        yield SkinNote(branch.name, low, low + one.length, treatment=one.treatment)
        low += one.length


def _runs(branch: Branch, notes: Iterable[SkinNote]) -> Iterator[SkinNote]:
    """Yield the notes that say something, neighbours that say the same as one."""
    last: SkinNote | None = None
    for one in notes:
        if not one.pattern and not one.treatment:
            continue
        if (
            last
            and one.low - last.high < _NEAR
            and (one.pattern, one.treatment)
            == (
                last.pattern,
                last.treatment,
            )
        ):
            last = SkinNote(branch.name, last.low, one.high, one.pattern, one.treatment)
            continue
        if last:
            yield last
        last = one
    if last:
        yield last
