"""Whether the piece still goes through the door of the fire."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, PartReplay
from procedures.engine.judging.deeds import done, is_hot
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import pose
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, square, step, trial

_CHORD = 2.0  # mm: as near as the width of a piece matters at a door


class FireDoor(PartRule):
    """Compares how wide the piece is, put in endwise, with the door of the fire where the smith gives it."""

    code = "access.fire_door"
    title = "Through the door of the fire"
    help = (
        "A scroll or a wide fork that does not go into the forge cannot be heated there any more. The piece "
        "is taken endwise and whole; a wide end that stays outside does no harm."
    )
    source = "geometry, from the door the smith gives"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        if scale.door is not None:
            yield from self._wide(part, scale.door)

    def _wide(self, part: PartReplay, door: float) -> Iterator[Flag]:
        for frame in done(part):
            width = _across(frame.before) if is_hot(frame) else 0.0
            if width > door:
                yield self.flag(
                    frame,
                    "The piece is {width:length} across by now; the door of the fire is {door:length}.",
                    hint="Heat it in an open fire, or do this before it gets so wide.",
                    width=width,
                    door=door,
                )
                return

    examples = (
        Case(
            "A bar bent to a wide U and then worked at its end",
            trial(
                step("bend", where=at(200), angle=90, inside_radius=20),
                step("draw_out", where=end(60), target=square(10)),
                scale={"fire": "gas", "door": 120},
            ),
            fires=("s2",),
        ),
        Case(
            "A narrow piece",
            trial(
                step("bend", where=at(60), angle=90, inside_radius=20),
                step("draw_out", where=end(30), target=square(10)),
                scale={"fire": "gas", "door": 120},
            ),
        ),
        Case(
            "A fire without a door",
            trial(
                step("bend", where=at(200), angle=90, inside_radius=20),
                step("draw_out", where=end(60), target=square(10)),
                scale={"fire": "coke"},
            ),
        ),
    )


def _across(piece: Piece) -> float:
    """Return the larger side of the opening that a piece goes through endwise [mm], its box taken."""
    low, high = [float("inf")] * 3, [float("-inf")] * 3
    for branch in pose(piece, chord=_CHORD).branches:
        for station in (one for segment in branch.segments for one in segment.stations):
            half = max(station.section.width, station.section.thickness) / 2
            for axis, value in enumerate(station.axes.origin):
                low[axis] = min(low[axis], value - half)
                high[axis] = max(high[axis], value + half)
    return sorted(b - a for a, b in zip(low, high, strict=True))[1]
