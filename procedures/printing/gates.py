"""The gates of a part: after which steps a class stops, measures and has it signed before going on."""

from __future__ import annotations

from itertools import zip_longest

from procedures.engine.frames import Frame, PartReplay
from procedures.engine.judging.deeds import done, family, moves_metal, run_after, welds


def gates(part: PartReplay) -> dict[int, str]:
    """Return what is looked at after which step, by its number.

    After the marking out, after the last taper, before each weld, and wherever the author inspects: common
    practice in teaching, no source.
    """
    found: dict[int, str] = {}
    frames = list(done(part))
    tapers = [one for one in frames if _tapers(one)]
    for frame in tapers[-1:]:
        found[frame.number] = "the tapers, even and to length"
    for frame, following in zip_longest(frames, frames[1:]):
        if _marks(frame) and not (following and _marks(following)):
            found[frame.number] = "the marks, from the right end"
        if following and welds(following) and not welds(frame):
            found[frame.number] = "ready to weld, both people at their place"
        if family(frame) == "check":
            found[frame.number] = "measured, and the sizes written down"
    return found


def _marks(frame: Frame) -> bool:
    return family(frame) == "prepare" and frame.step.kind is not None and frame.step.kind.heat is None


def _tapers(frame: Frame) -> bool:
    return moves_metal(frame) and any(not one.is_even for one in run_after(frame))
