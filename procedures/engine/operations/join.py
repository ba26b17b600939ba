"""Join: put finished parts together with a pin, a bolt, a tenon, a wedge or a hook."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import dist

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.example_parts import drilled, hole, tenoned
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.pose import pose
from procedures.engine.place_words import point_words, points_words
from procedures.engine.shaping.bringing import other_part, place_on, seen_from
from procedures.engine.shaping.checks import end_taken, name_taken
from procedures.engine.shaping.fitting import Fitting
from procedures.engine.shaping.hanging import hung, numbered
from procedures.engine.shaping.riveting import clearance
from procedures.engine.sketch import Sketch

_HEAVY = 20.0  # kg that one person lifts at most: common practice
_APART = 2.0  # mm that places to be joined may lie apart unless there is bar between: our judgement


class Join(Fitting):
    """Puts a finished part on this one, or joins two places of it, and says what stays free to move."""

    id = "join"
    title = "Put together"
    family = "weld"
    help = (
        "Finish everything and try it dry first. Holes and tenons are compared as they are; a pin or a bolt"
        " itself is not weighed in. Joining two places of this part closes a frame or a loop."
    )
    synonyms = ("assemble", "fit up", "hang", "dry fit", "join", "pin", "bolt together", "wedge", "hinge pin")
    one_of = (("part", "to"),)
    heat = None
    usual_heats = (0, 0)
    tools = ("drift to line holes up", "hammer", "spanner or punch", "trestles")
    helper = "above 20 kg, and to hold what hangs"
    period = "pins, wedges, hooks and tenons"
    modern = "bolts and screws; said so on the record of a reproduction"
    safety = (
        "Know the weight and where it balances before it is lifted.",
        "Keep fingers out of holes while they are lined up: use a drift.",
    )

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.has_tenon and not self.part:
            yield stop(
                "join.tenon_of_what",
                "A tenon belongs to another part: none is named.",
                hint="Name the part, or join by a pin or a hook.",
                field="part",
                source="geometry",
            )
            return
        if self.part:
            names = numbered(piece, self.new_name, len(self.points(piece)))
            yield from name_taken(piece, names, "name")
        if self.has_tenon and self.part:
            other = other_part(piece, self.part)
            yield from end_taken(other, other.root.name, self.part_end, "part_end")
        for point in self.points(piece):
            for pin, found, field in self.fitted(piece, point):
                yield from self.goes_in(pin, found, field)
            if self.part and self.kind != "hook":
                yield from self.along_its_hole(piece, point)
        if self.to is not None:
            self.other_point(piece)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        fits = self.fitted(before, self.points(before)[0])
        rooms = [clearance(found, pin) for pin, found, _ in fits]
        if self.moves:
            yield from self.turns(rooms)
        elif self.heat_of_hole and rooms:
            yield from self.grips(fits[0], rooms[0])
        if self.to is not None:
            yield from self._apart(before)
        if self.kind == "wedge":
            yield from self.wedged(before)
        yield from self.held_fast()
        if after.mass > _HEAVY:
            yield note(
                "join.heavy",
                "The whole weighs {mass:mass} now.",
                hint="Two people lift it.",
                mass=after.mass,
                source="20 kg: common practice",
            )

    def _apart(self, before: Piece) -> Iterator[Finding]:
        first, second = self.points(before)[0], self.other_point(before)
        posed = pose(before).by_name
        gap = dist(
            posed[first.branch].axes_at(first.at).origin, posed[second.branch].axes_at(second.at).origin
        )
        reach = sum(_half(before.branch(one.branch), one.at) for one in (first, second))
        if gap > reach + _APART:
            yield caution(
                "join.places_apart",
                "As drawn the two places lie {gap:length} apart.",
                hint="Bend or set the parts until they meet.",
                gap=gap,
                field="to",
                source="geometry",
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        points = self.points(piece)
        room = [
            min((clearance(one, pin) for pin, one, _ in self.fitted(piece, point)), default=None)
            for point in points
        ]
        names: tuple[str, ...] = ()
        if self.part:
            piece, names = self._put_on(piece, points)
            ends = [Point(name, piece.branch(name).attached.by) for name in names]  # type: ignore[union-attr]
        else:
            ends = [self.other_point(piece)]
        joints = tuple(
            Joint(self.kind, (here, there), f"{there.branch} {self.kind}", self.part or "", self.moves, play)  # type: ignore[arg-type]
            for here, there, play in zip(points, ends, room, strict=True)
        )
        worked = tuple(self.seat(piece, one) for one in points)
        return replace(piece, joints=(*piece.joints, *joints), worked=worked)

    def _put_on(self, piece: Piece, points: tuple[Point, ...]) -> tuple[Piece, tuple[str, ...]]:
        assert self.part is not None
        if self.has_tenon:
            other = seen_from(other_part(piece, self.part), self.part_end)
            shoulder = self.tenon(piece).length
            holds = [self.standing_off(self.hold(one, self.half(piece, one), shoulder)) for one in points]
            return hung(piece, other, holds, self.new_name)
        if self.has_pin:
            mate = self.mate(piece, self.part, "part", self.part_hole)
            return self.laid_on(piece, self.part, self.new_name, points, mate, 0.0)
        other = other_part(piece, self.part)
        at = place_on(other, self.part_hole, "part_hole")
        off = _half(other.root, at)
        holds = [self.lying_on(self.hold(one, self.half(piece, one) + off, at)) for one in points]
        return hung(piece, other, holds, self.new_name)

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        by = {
            "pin": "with a pin",
            "bolt": "with a bolt",
            "tenon": "by its tenon",
            "wedge": "by its tenon, and drive the wedge",
            "hook": "by hooking or laying it on",
        }[self.kind]
        hot = say("")
        if self.heat_of_hole:
            hot = say(", the part with the hole at {heat:temperature}", heat=self.heat_of_hole)
        free = ", and see that it moves freely" if self.moves else ""
        if self.to is not None:
            return say(
                f"Join {{here}} to {{there}} {by}{{hot}}{free}.",
                here=points_words(before, self.where),
                there=point_words(before, self.to),
                hot=hot,
            )
        how = f"Put the {{part}} on at {{places}}, {{side}}, {by}{{hot}}{free}."
        what = say("{part}", part=self.part)
        if self.kind == "hook":
            how = f"Hang or hook the {{part}} at {{places}}, {{side}}{{hot}}{free}."
            if self.part_hole:
                what = say("{part}, by its {place},", part=self.part, place=self.part_hole)
        return say(
            how,
            part=what,
            places=points_words(before, self.where),
            side=self.side_said(before),
            hot=hot,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        if self.moves:
            return say("it moves freely all the way and does not rattle")
        return say("it sits down all round; the whole weighs {mass:mass}", mass=after.mass)

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)

    examples = (
        Example(
            "A strap pinned on through holes of 10.5, free to swing",
            before=bar(
                Section.flat(40, 10), 200, bench={"strap": drilled("strap", Section.flat(40, 10), 120, 10.5)}
            ).featured("bar", hole("H", 150, 10.5)),
            params={
                "where": [{"on": "bar", "datum": "end", "offset": 50}],
                "part": "strap",
                "kind": "pin",
                "diameter": 10,
                "side": "up",
                "turned": 90,
                "moves": True,
            },
            after=(Result(length=200), Result("strap", length=120)),
            lost=0,
            cautions=("join.stays_free",),
            source="10.5 - 10 = 0.5 of play",
        ),
        Example(
            "A spindle wedged in a rail: by its shoulder it stands on it",
            before=bar(
                Section.flat(40, 10),
                600,
                marks={"A": 150, "B": 300},
                bench={"spindle": tenoned("spindle", Section.square(16), 500, Section.square(10), 18)},
            )
            .featured("bar", hole("A", 150, 15))
            .featured("bar", hole("B", 300, 15)),
            params={
                "where": [
                    {"on": "bar", "datum": "mark", "mark": "A"},
                    {"on": "bar", "datum": "mark", "mark": "B"},
                ],
                "part": "spindle",
                "kind": "wedge",
                "side": "up",
            },
            after=(Result("spindle 1", length=518), Result("spindle 2", length=518)),
            says=("Put the spindle on at marks A and B of the bar",),
            source="□10 is 14.1 across its corners, in a hole of 15",
        ),
        Example(
            "A hole of 15.9 put on hot over a tenon of 16 shrinks tight",
            before=bar(
                Section.flat(40, 10),
                200,
                bench={"post": tenoned("post", Section.round(20), 200, Section.round(16), 12)},
            ).featured("bar", hole("H", 100, 15.9)),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "post",
                "kind": "tenon",
                "heat_of_hole": 850,
            },
            after=(Result("post", length=212),),
            cautions=("join.shrinks_tight", "join.not_held"),
            source="15.9 × 1.011 = 16.07 at 850 °C after EN 1993-1-2",
        ),
        Example(
            "The last corner of a frame closes it: a joint, nothing comes in",
            before=bar(Section.flat(30, 5), 400)
            .featured("bar", hole("A", 10, 6.5))
            .featured("bar", hole("B", 390, 6.5)),
            first=tuple(
                (
                    "bend",
                    {
                        "where": {"on": "bar", "datum": "start", "offset": 50 + 100 * side},
                        "angle": 90,
                        "inside_radius": 8,
                    },
                )
                for side in range(4)
            ),
            params={
                "where": [{"on": "bar", "datum": "start", "offset": 10}],
                "to": {"on": "bar", "datum": "end", "offset": 10},
                "kind": "bolt",
                "diameter": 6,
            },
            after=(Result(length=400),),
            cautions=("join.places_apart",),
            source="bent to a square the ends meet; the holes are 20 apart",
        ),
        Example(
            "Too little play for a hinge is cautioned",
            before=bar(
                Section.flat(40, 10), 200, bench={"strap": drilled("strap", Section.flat(40, 10), 120, 10.1)}
            ).featured("bar", hole("H", 150, 10.1)),
            params={
                "where": [{"on": "bar", "datum": "end", "offset": 50}],
                "part": "strap",
                "diameter": 10,
                "moves": True,
            },
            after=(Result("strap", length=120),),
            cautions=("join.play",),
        ),
        Example(
            "A pin thicker than one of the holes is refused",
            before=bar(
                Section.flat(40, 10), 200, bench={"strap": drilled("strap", Section.flat(40, 10), 120, 9.5)}
            ).featured("bar", hole("H", 150, 10.5)),
            params={
                "where": [{"on": "bar", "datum": "end", "offset": 50}],
                "part": "strap",
                "diameter": 10,
            },
            refused=("join.hole_too_small",),
        ),
        Example(
            "A part without a hole cannot be pinned",
            before=bar(
                Section.flat(40, 10), 200, bench={"strap": bar(Section.flat(40, 10), 120, name="strap")}
            ).featured("bar", hole("H", 150, 10.5)),
            params={"where": [{"on": "bar", "datum": "end", "offset": 50}], "part": "strap", "diameter": 10},
            refused=("join.no_mate",),
        ),
    )


def _half(branch: Branch, at: float) -> float:
    """Return half the thickness of a bar at a place [mm]."""
    return branch.section_at(at).thickness / 2
