"""Work on the inside of a U or a ring, where hammer and anvil do not get in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, radians, sin

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, holes_made, is_bent, moves_metal
from procedures.engine.judging.rule import Case, PartRule, move_before
from procedures.engine.pieces.path import Arc, Corner, Plane
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.curving import depth
from procedures.engine.trial import at, beginning, end, flat, square, step, trial

_BACK = 150.0  # degrees of turn, from which the bar has come back beside itself; our judgement
_ROOM = 40.0  # mm: the face of a hand hammer, from memory
_LEG = 20.0  # mm: bar beyond the bend that is in the way, and half a hammer's face
_PLANES: tuple[Plane, ...] = ("easy", "hard")


class InsideU(PartRule):
    """Follows the bar on from the worked run, round bends in one plane, to where it comes back beside it.

    Only bends of one branch are followed; what comes near in another way is for the eye.
    """

    code = "access.inside_u"
    title = "Room for the hammer"
    help = (
        "Between the legs of a U, and inside a ring, there has to be room for the hammer or for the anvil's "
        "horn. Draw and punch before the bar is bent back on itself."
    )
    source = "geometry; 40 mm for a hammer's face from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            if moves_metal(frame) or holes_made(frame):
                yield from self._cramped(past, frame)

    def _cramped(self, past: Past, frame: Frame) -> Iterator[Flag]:
        for span in frame.worked:
            branch = frame.before.branch(span.branch)
            if all(one.is_straight for one in branch.segments):
                continue
            ways = (
                (
                    branch.segments_between(span.high, branch.length),
                    Span(branch.name, span.high, branch.length),
                ),
                (branch.segments_between(0.0, span.low)[::-1], Span(branch.name, 0.0, span.low)),
            )
            for run, there in ways:
                gap = min((_gap(run, plane) for plane in _PLANES), default=_ROOM)
                if gap < _ROOM:
                    yield self._flag(past, frame, there, gap)
                    return

    def _flag(self, past: Past, frame: Frame, there: Span, gap: float) -> Flag:
        maker = past.made_so(frame, there, is_bent)
        return self.flag(
            frame,
            "The bar comes back beside this run with {gap:length} between: hammer and anvil do not get in.",
            hint="Do it before the bar is bent round.",
            mend=move_before(frame, maker) if maker else None,
            gap=max(gap, 0.0),
        )

    examples = (
        Case(
            "The end drawn after the bar was bent to a narrow U",
            trial(
                step("bend", where=at(200), angle=180, inside_radius=10, heats=2),
                step("draw_out", where=end(100), target=square(10), heats=2),
            ),
            fires=("s2",),
        ),
        Case(
            "A hole punched in the leg of a square U",
            trial(
                step("bend", where=at(150), angle=90, inside_radius=6),
                step("bend", where=at(190), angle=90, inside_radius=6),
                step("punch", where=[at(60)], size=5, heats=2),
                section=flat(20, 5),
            ),
            fires=("s3",),
        ),
        Case(
            "The end drawn first",
            trial(
                step("draw_out", where=end(100), target=square(10), heats=2),
                step("bend", where=at(200), angle=180, inside_radius=10, heats=2),
            ),
        ),
        Case(
            "A wide U",
            trial(
                step("bend", where=at(300), angle=180, inside_radius=60, heats=2),
                step("draw_out", where=beginning(100), target=square(10), heats=2),
            ),
        ),
        Case(
            "A hook far from the worked end",
            trial(
                step("bend", where=at(60, "start"), angle=180, inside_radius=10, heats=2),
                step("draw_out", where=end(100), target=square(10), heats=2),
            ),
        ),
        Case(
            "A corner of 90° leaves room",
            trial(
                step("bend", where=at(200), angle=90, inside_radius=6),
                step("draw_out", where=end(100), target=square(10), heats=2),
            ),
        ),
    )


def _gap(run: Iterable[Segment], plane: Plane) -> float:
    """Return the room [mm] between a run that is left along the X axis and the bar where it has come back.

    Infinite where it never does, or ends before it could be in the way. `run` goes away from what is worked.
    """
    heading = x = y = 0.0
    aside = thick = 0.0
    beyond = -1.0  # mm of bar since it came back; below 0 before it has
    for one in run:
        path = one.path
        if isinstance(path, Arc | Corner) and path.plane == plane:
            first = heading
            heading += path.turn * path.angle
            x, y = _moved(x, y, first, heading, path)
        else:
            x, y = x + one.length * cos(radians(heading)), y + one.length * sin(radians(heading))
            beyond += one.length if beyond >= 0 else 0.0
        if beyond < 0 and abs(heading) >= _BACK:
            beyond, aside, thick = 0.0, abs(y), depth(one.end, plane)
    in_the_way = beyond >= _LEG and x <= _LEG
    return aside - thick if in_the_way else float("inf")


def _moved(x: float, y: float, first: float, last: float, path: Arc | Corner) -> tuple[float, float]:
    """Return the point at the end of a bend that turns the heading from `first` to `last` [degrees]."""
    if isinstance(path, Corner):
        for heading, length in ((first, path.before), (last, path.after)):
            x, y = x + length * cos(radians(heading)), y + length * sin(radians(heading))
        return x, y
    a, b, r = radians(first), radians(last), path.turn * path.radius
    return x + r * (sin(b) - sin(a)), y + r * (cos(a) - cos(b))
