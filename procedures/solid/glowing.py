"""What of a piece glows after a step: the metal that its heats made hot, wherever the step moved it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from procedures.engine.frames import Frame
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.metal import Stretch, metal_of
from procedures.engine.pieces.origin import Slice
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment

_GAP = 0.5  # mm: hot runs nearer to each other than this are one
_DIM = 525.0  # °C: "just visible" (Stirling, 1905, as quoted)
_LEAST = 1.0  # mm: a shorter run is not shown hot


def temperature_of(frame: Frame) -> float | None:
    """Return the middle of a step's heat [°C], or None where nothing is seen to glow."""
    if frame.status != "done" or frame.operation is None or frame.operation.heat is None:
        return None
    if not (frame.step.heats or frame.welding_heats):
        return None
    low, high = frame.operation.heat
    middle = (low + high) / 2
    return middle if middle >= _DIM else None


def glowing(frame: Frame) -> tuple[Span, ...]:
    """Return the runs of the piece that glow, as the step left it.

    The engine knows the hot runs as they were before the step. Metal is followed by where on the starting bar
    it was; what came in from another part is cold but for where that part was in the fire.
    """
    if temperature_of(frame) is None:
        return ()
    hot = [
        stretch
        for span in (*frame.heated, *frame.worked)
        for stretch in metal_of(frame.before, span).stretches
    ]
    return tuple(span for branch in frame.after.branches for span in _joined(branch, _hot_runs(branch, hot)))


def _hot_runs(branch: Branch, hot: list[Stretch]) -> Iterator[tuple[float, float]]:
    low = 0.0
    for segment in branch.segments:
        for one in segment.origin:
            for stretch in hot:
                part = _in_common(one, stretch)
                if part:
                    yield tuple(low + at for at in _places(segment, part))  # type: ignore[misc]
        low += segment.length


def _in_common(one: Slice, stretch: Stretch) -> tuple[float, float] | None:
    """Return the shares of a segment's volume that a slice has in common with a length of bar."""
    first, last = min(one.start, one.end), max(one.start, one.end)
    low, high = max(first, stretch.low), min(last, stretch.high)
    if one.bar != stretch.bar or high <= low or last <= first:
        return None
    ends = [one.low + (one.high - one.low) * (at - one.start) / (one.end - one.start) for at in (low, high)]
    return min(ends), max(ends)


def _places(segment: Segment, shares: tuple[float, float]) -> tuple[float, float]:
    low, high = (segment.at_volume(min(max(one, 0.0), 1.0) * segment.volume) for one in shares)
    return low, high


def _joined(branch: Branch, runs: Iterable[tuple[float, float]]) -> Iterator[Span]:
    whole: list[tuple[float, float]] = []
    for low, high in sorted(runs):
        if whole and low <= whole[-1][1] + _GAP:
            whole[-1] = whole[-1][0], max(whole[-1][1], high)
        else:
            whole.append((low, high))
    for low, high in whole:
        low = 0.0 if low < _GAP else low
        high = branch.length if high > branch.length - _GAP else high
        if high - low >= _LEAST:
            yield Span(branch.name, low, high)
