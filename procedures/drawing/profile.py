"""The sections of a branch worth naming: its profile without the small steps that heats leave behind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.place import Span

# By how much sections may differ and still be one: mm, and share of the size itself.
_FINE = (0.12, 0.015)  # in a run that was worked
_COARSE = (0.4, 0.035)  # elsewhere
_SHORT = 0.5  # mm: slivers of bar that heats of different reach leave behind
_MANY = 5  # sizes in the worked runs of one branch
_ALL = 0.95  # of a branch: work on more than this of it brings out no part


@dataclass(frozen=True)
class SectionNote:
    """A cross-section and the run of a branch that has it; `low` is `high` where a taper only reaches it."""

    branch: str
    low: float
    high: float
    section: Section
    worked: bool


@dataclass(frozen=True)
class _Corner:
    at: float
    section: Section
    fine: tuple[float, float]  # how far the profile may miss it


def section_notes(branch: Branch, worked: Sequence[Span]) -> Iterator[SectionNote]:
    """Yield a note for each run of one section, and for each end that a taper reaches.

    Worked runs are looked at closely, unless that finds more in them than a drawing can tell.
    """
    spans = [one for one in worked if one.branch == branch.name]
    notes = list(_section_notes(branch, spans, spans))
    if sum(one.worked for one in notes) > _MANY:
        notes = list(_section_notes(branch, spans, ()))
    yield from notes


def _section_notes(branch: Branch, spans: Sequence[Span], close: Sequence[Span]) -> Iterator[SectionNote]:
    corners = _corners(branch, close)
    if not corners:
        return
    ends = sorted({0, len(corners) - 1, *_worked_ends(corners)})
    profile = _Profile(corners)
    needed = {index for low, high in pairwise(ends) for index in profile.needed(low, high)}
    kept = [corners[index] for index in sorted(needed | set(ends))]
    last: Section | None = None
    for one, two in pairwise(kept):
        if two.at - one.at < _SHORT:
            continue
        hit = _is_worked(one.at, two.at, spans)
        fine = max(one.fine, two.fine)
        if _apart(one.section, two.section, fine) <= 1:
            last = _longest(branch, one.at, two.at) or one.section
            yield SectionNote(branch.name, one.at, two.at, last, hit)
            continue
        if last is None or _apart(last, one.section, fine) > 1:
            yield SectionNote(branch.name, one.at, one.at, one.section, hit)
        last = two.section
        if not _goes_on(kept, two):
            yield SectionNote(branch.name, two.at, two.at, two.section, hit)


def _goes_on(kept: Sequence[_Corner], corner: _Corner) -> bool:
    """Whether an even run of the same section follows, which will be named itself."""
    place = next(index for index, one in enumerate(kept) if one is corner)
    if place + 1 >= len(kept):
        return False
    after = kept[place + 1]
    even = _apart(corner.section, after.section, max(corner.fine, after.fine)) <= 1
    return even and after.at - corner.at >= _SHORT


def _corners(branch: Branch, spans: Sequence[Span]) -> list[_Corner]:
    part = [one for one in spans if one.length < _ALL * branch.length]
    corners = []
    low = 0.0
    for one in branch.segments:
        high = low + one.length
        middle = (low + high) / 2
        close = any(span.low <= middle <= span.high for span in part)
        ends = [(low, one.start), (high, one.end)]
        if one.bulge:
            ends.insert(1, (low + one.widest_at, one.widest))
        for at, section in ends:
            corners.append(_Corner(at, section, _FINE if close else _COARSE))
        low = high
    return corners


def _worked_ends(corners: Sequence[_Corner]) -> Iterator[int]:
    """Yield the corners on both sides of a step where worked metal begins or ends."""
    for index, (one, two) in enumerate(pairwise(corners)):
        fine = min(one.fine, two.fine)
        if two.at - one.at < _SHORT and fine == _FINE and _apart(one.section, two.section, fine) > 1:
            yield from (index, index + 1)


_ALIKE = 1e-9  # rounding


class _Profile:
    """The corners of a branch in columns, so that many are looked at at once."""

    def __init__(self, corners: Sequence[_Corner]) -> None:
        self.at = np.array([one.at for one in corners])
        self.sizes = np.array([one.section.g for one in corners])
        self.least, self.share = np.array([one.fine for one in corners]).T[:, :, None]

    def needed(self, low: int, high: int) -> Iterator[int]:
        """Yield the corners that a straight profile between two would miss, by Douglas and Peucker's way."""
        waiting = [(low, high)]
        while waiting:
            low, high = waiting.pop()
            place = self._missed(low, high) if high - low > 1 else None
            if place is not None:
                yield place
                waiting += [(low, place), (place, high)]

    def _missed(self, low: int, high: int) -> int | None:
        """Return the corner that a straight profile between two misses most, or None where it misses none."""
        inside = slice(low + 1, high)
        at, long = self.at[inside], self.at[high] - self.at[low]
        shares = np.clip((at - self.at[low]) / long, 0.0, 1.0) if long > 0 else np.zeros(len(at))
        sizes = self.sizes[inside]
        straight = self.sizes[low] + np.outer(shares, self.sizes[high] - self.sizes[low])
        fine = np.maximum(self.least[inside], self.share[inside] * np.maximum(sizes, straight))
        missed = (abs(sizes - straight) / fine).max(axis=1)
        worst = missed.max()
        if worst <= 1:
            return None
        # Of corners missed alike, as on a bar notched all along, one near the middle is taken, or the two
        # halves would be as unlike as can be and the work grow with the square of the corners.
        alike = np.flatnonzero(missed > worst - _ALIKE) + low + 1
        return int(alike[np.argmin(abs(2 * alike - low - high))])


def _apart(one: Section, two: Section, fine: tuple[float, float]) -> float:
    """Return how many times more than is let pass two sections differ, in their most different measure."""
    if one == two:
        return 0.0
    least, share = fine
    return max(abs(a - b) / max(least, share * max(a, b)) for a, b in zip(one.g, two.g, strict=True))


def _longest(branch: Branch, low: float, high: float) -> Section | None:
    """Return the section of the longest even segment within a run."""
    best: tuple[float, Section] | None = None
    for one in branch.segments_between(low, high):
        if one.is_even and (best is None or one.length > best[0]):
            best = (one.length, one.start)
    return best[1] if best else None


def _is_worked(low: float, high: float, spans: Sequence[Span]) -> bool:
    """Whether more than half of a run was worked."""
    return sum(max(min(one.high, high) - max(one.low, low), 0.0) for one in spans) > (high - low) / 2
