"""The datum of a part: a place in its metal that every drawing holds still, so that the rest is seen to move.

It lies on the longest straight run of the finished root branch, where the fewest steps work, and is found
again in every earlier piece by where that metal was on the starting bar.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.replay import PartReplay

Stretch = tuple[float, float]  # from, to [mm]
_ENOUGH = (
    0.15  # of the longest stretch that is not worked: as long as that, the start of the bar is the datum
)


def datum_of(replayed: PartReplay) -> float:
    """Return the place on the part's starting bar [mm] that its drawings hold still."""
    bar, length = replayed.part.key, replayed.start.root.length
    root = replayed.final.root
    low, high = _longest_straight(root)
    ends = [_on_bar(root, at, bar) for at in (low, high)]
    if None in ends or root.length <= TOUCH:
        return 0.0
    low, high = sorted(one for one in ends if one is not None)
    quiet = _quietest(low, high, list(_worked(replayed, bar)))
    if quiet[0] <= TOUCH:
        return 0.0
    return quiet[1] if quiet[1] >= length - TOUCH else (quiet[0] + quiet[1]) / 2


def held_at(piece: Piece, bar: str, place: float) -> float:
    """Return how far along a piece's root [mm] the metal now is that lay at a place on a starting bar.

    Where none of it is on the root, the place on the root whose metal came from nearest to it.
    """
    best: tuple[float, float] | None = None
    low = 0.0
    for segment in piece.root.segments:
        for one in segment.origin:
            if one.bar != bar:
                continue
            inside = min(max(place, min(one.start, one.end)), max(one.start, one.end))
            span = one.end - one.start
            share = one.low + (one.high - one.low) * ((inside - one.start) / span if span else 0.0)
            found = (abs(inside - place), low + segment.at_volume(share * segment.volume))
            if best is None or found[0] < best[0] - TOUCH:
                best = found
        low += segment.length
    return best[1] if best else 0.0


def _on_bar(branch: Branch, at: float, bar: str) -> float | None:
    if not branch.segments:
        return None
    return next((place for on, place in branch.bar_positions(at) if on == bar), None)


def _longest_straight(branch: Branch) -> Stretch:
    """Return the longest straight run of a branch; the whole of it where it is curved all along."""
    best = (0.0, 0.0)
    at = begun = 0.0
    for segment in branch.segments:
        if segment.path.kind != "straight":
            begun = at + segment.length
        at += segment.length
        if at - begun > best[1] - best[0] + TOUCH:
            best = (begun, at)
    return best if best[1] > 0 else (0.0, at)


def _worked(replayed: PartReplay, bar: str) -> Iterator[Stretch]:
    """Yield the stretches of the starting bar that a step works; a step on a whole branch tells nothing."""
    for frame in replayed.frames:
        for span in frame.worked:
            branch = frame.before.branch(span.branch)
            if span.length > 0.95 * branch.length:
                continue
            ends = [_on_bar(branch, at, bar) for at in (span.low, span.high)]
            places = sorted(one for one in ends if one is not None)
            if len(places) == 2:
                yield places[0], places[1]


def _quietest(low: float, high: float, worked: list[Stretch]) -> Stretch:
    """Return the longest stretch between two places on which the fewest steps work."""
    inside = {at for one in worked for at in one if low < at < high}
    places = sorted({low, high} | inside)
    runs: list[tuple[int, Stretch]] = []
    for first, second in itertools.pairwise(places):
        middle = (first + second) / 2
        times = sum(one[0] <= middle <= one[1] for one in worked)
        if runs and runs[-1][0] == times:
            runs[-1] = (times, (runs[-1][1][0], second))
        else:
            runs.append((times, (first, second)))
    if not runs:
        return low, high
    times, (first, last) = min(runs, key=lambda one: (one[0], one[1][0] - one[1][1]))
    at_start, (begin, end) = runs[0]
    if at_start == times and end - begin > _ENOUGH * (last - first):
        return begin, end  # people measure from the start, so that it should stay where it was
    return first, last
