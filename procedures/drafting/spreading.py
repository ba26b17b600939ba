"""Ends that are spread: the step, and the sizes of what comes of it."""

from __future__ import annotations

from collections.abc import Iterator

from .feature import THIN, Phase
from .seen import Seen, Size
from .setting import Setting, Work


def spread(setting: Setting, outline: str, width: float, thickness: float) -> Work:
    """Return the step that spreads a run to an outline, pointing to its free end."""
    params = {
        "where": setting.run(),
        "outline": outline,
        "width": width,
        "thickness": thickness,
        "wide_end": setting.tip,
    }
    phase = Phase.FINE if thickness < THIN else Phase.DRAW
    return Work(phase, "spread", params, {"width": "width", "thickness": "thickness", "where": "length"})


def spread_sizes(seen: Seen, length: float, width: float, thickness: float) -> Iterator[Size]:
    """Yield the length, the greatest width and the thickness of a spread end."""
    yield seen.long(length)
    run = seen.branch.segments_between(seen.low, seen.high)
    widest = max((one.widest for one in run), key=lambda one: one.width)
    yield Size("Greatest width", width, widest.width, kind="size")
    yield Size("Thickness", thickness, widest.thickness, kind="size")
