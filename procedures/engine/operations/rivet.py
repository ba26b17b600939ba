"""Rivet: head a tenon or a rivet over, so that parts cannot come apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.example_parts import drilled, hole, tenoned
from procedures.engine.finding import Finding, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import End
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.place_words import points_words
from procedures.engine.shaping.bringing import other_part, seen_from
from procedures.engine.shaping.checks import end_taken, name_taken
from procedures.engine.shaping.hanging import each_hung, numbered
from procedures.engine.shaping.pin_checks import (
    amount_of_head,
    fits,
    long_enough,
    near_ends_and_others,
    play,
    set_cold,
)
from procedures.engine.shaping.pinning import Pinning
from procedures.engine.shaping.riveting import (
    HEAD_TITLES,
    Heading,
    Pin,
    depth,
    headed,
    outline,
    with_rivet,
)
from procedures.engine.sketch import Sketch


def _bar_and_foot(*holes: float) -> Piece:
    """Return a bar with holes of 7.5 and a foot with a tenon of 26.5, for examples."""
    foot = tenoned("foot", Section.square(12), 73.5, Section.round(7), 26.5)
    marks = {f"H{number}": place for number, place in enumerate(holes, start=1)}
    piece = bar(Section.square(16), 300, marks=marks, bench={"foot": foot})
    for name, place in marks.items():
        piece = piece.featured("bar", hole(name, place, 7.5))
    return piece


class Rivet(Pinning):
    """Heads a tenon of another part, or a loose rivet, through a hole of this one."""

    id = "rivet"
    title = "Rivet"
    family = "weld"
    help = (
        "Make the holes first. What stands out beyond the parts fills the hole and makes the head; how much"
        " follows from the tenon, or from the head for a loose rivet. Several places take a part each."
    )
    synonyms = ("set a rivet", "head over", "clench", "burr over", "riveted tenon", "rivet up")
    heat = (950, 1100)
    usual_heats = (1, 1)
    tools = ("hammer", "rivet set or snap", "dolly or bolster under the other head", "vice")
    power_tools = ("rivet set under a light hammer",)
    helper = "one on the dolly"
    period = "hot rivets, rose or snap heads"
    modern = "the same, or a bolt; arc weld from behind, said so on the record"
    safety = (
        "Hot rivets are handed, not thrown; a dropped one burns through a boot.",
        "Cold heads chip: eyes covered.",
        "Rivets that hold a building up or lift are for engineers to reckon; nothing is certified here.",
    )

    pin: str = declare.choice(
        "What is headed", {"tenon": "a tenon of the other part", "loose": "a loose rivet"}, default="tenon"
    )
    part_end: End = declare.choice(
        "End with the tenon", {"start": "its start", "end": "its end"}, default="start"
    )
    through: str | None = declare.part(
        "Part between", "A further part that the pin goes through, such as a pan.", required=False
    )
    diameter: float | None = declare.length("Rivet", "Diameter of a loose rivet.", required=False)
    head: str = declare.choice("Head", HEAD_TITLES, default="snap")
    hot: bool = declare.flag("Headed hot", default=True)
    grip: float | None = declare.length(
        "Grip", "Thickness of all parts together; as they are when left out.", required=False
    )
    moves: bool = declare.flag("Left free to turn", "As a pivot: headed with play.", default=False)

    @property
    def is_cold(self) -> bool:
        return not self.hot

    # -- where it is -----------------------------------------------------------------------------

    def seat(self, piece: Piece, point: Point) -> Span:
        hole, long = self.hole(piece, point), piece.branch(point.branch).length
        low, high = hole.at - hole.length / 2, hole.at + hole.length / 2
        return Span(point.branch, max(low, 0.0), min(high, long))

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        if self.pin != "tenon" or self.part is None or not self.hot:
            return {}
        root, pin = other_part(piece, self.part).root, self.tenon(piece)
        if self.part_end == "end":
            return {self.part: (Span(root.name, root.length - pin.length, root.length),)}
        return {self.part: (Span(root.name, 0.0, pin.length),)}

    # -- the pin ---------------------------------------------------------------------------------

    def tenon(self, piece: Piece) -> Pin:
        """Return the tenon of the other part. Raises Unworkable where it has none."""
        return self.tenon_of(piece, self.part_end)

    def heading(self, piece: Piece, point: Point) -> Heading:
        """Return how the pin is headed at a hole. Raises Unworkable."""
        branch = piece.branch(point.branch)
        hole = self.hole(piece, point)
        grip = depth(branch, hole) + self.between(piece) + self._mate_depth(piece)
        grip = self.grip if self.grip is not None else grip
        if self.pin == "tenon":
            pin = self.tenon(piece)
            return Heading(pin.section, outline(hole), grip, pin.length - grip, self.head)
        assert self.diameter is not None  # made sure of by `problems`
        bare = Heading(Section.round(self.diameter), outline(hole), grip, 0.0, self.head)
        return replace(bare, standing=bare.wanted)

    def between(self, piece: Piece) -> float:
        """Return how thick the part between is at its hole [mm]."""
        return depth(*self.mate(piece, self.through, "through")) if self.through else 0.0

    def _mate_depth(self, piece: Piece) -> float:
        if self.pin == "tenon" or not self.part:
            return 0.0
        return depth(*self.mate(piece, self.part, "part", self.part_hole))

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        missing = list(self._missing())
        yield from missing
        if missing:
            return
        if self.part:
            names = numbered(piece, self.new_name, len(self.points(piece)))
            yield from name_taken(piece, names, "name")
        if self.pin == "tenon" and self.part:
            other = other_part(piece, self.part)
            yield from end_taken(other, other.root.name, self.part_end, "part_end")
        for point in self.points(piece):
            heading = self.heading(piece, point)
            yield from fits(heading, "where")
            if self.part:
                yield from self.along_its_hole(piece, point)
            yield from self._mates_fit(piece, heading)
            yield from long_enough(heading, "part" if self.pin == "tenon" else "diameter")

    def _missing(self) -> Iterator[Finding]:
        if self.pin == "tenon" and self.part is None:
            yield stop(
                "rivet.no_part",
                "A tenon belongs to another part: none is named.",
                hint="Name the part, or head a loose rivet.",
                field="part",
                source="geometry",
            )
        if self.pin == "loose" and self.diameter is None:
            yield stop(
                "rivet.no_diameter",
                "A loose rivet needs its diameter.",
                hint="Give the diameter of its shank.",
                field="diameter",
                source="geometry",
            )

    def _mates_fit(self, piece: Piece, heading: Heading) -> Iterator[Finding]:
        mates: list[tuple[str | None, str, str | None]] = [(self.through, "through", None)]
        if self.pin == "loose":
            mates.append((self.part, "part", self.part_hole))
        for key, field, name in mates:
            if key:
                _, hole = self.mate(piece, key, field, name)
                yield from fits(replace(heading, hole=outline(hole)), field)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        points = self.points(before)
        heading = self.heading(before, points[0])
        yield from amount_of_head(heading)
        yield from play(heading, hot=self.hot)
        if not self.hot:
            yield from set_cold(heading)
        yield from near_ends_and_others(before, points, heading.diameter)
        if not self.moves:
            yield note(
                "rivet.for_good",
                "Once headed it comes apart only by cutting the head off.",
                hint="Try the whole together first, and draw the parts close before heading.",
                source="common practice, no source",
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        points = tuple(Point(one.branch, self.hole(piece, one).at) for one in self.points(piece))
        headings = [self.heading(piece, one) for one in points]
        between: tuple[str, ...] = ()
        if self.through:
            hole = self.mate(piece, self.through, "through")
            piece, between = self.laid_on(piece, self.through, self.through, points, hole, 0.0)
        names: tuple[str, ...] = ()
        if self.part and self.pin == "tenon":
            piece, names = self._set_tenons(piece, points, headings)
        elif self.part:
            hole = self.mate(piece, self.part, "part", self.part_hole)
            piece, names = self.laid_on(piece, self.part, self.new_name, points, hole, self.between(piece))
        if self.pin == "loose":
            for point, heading in zip(points, headings, strict=True):
                piece = with_rivet(piece, point, heading)
        return self._joined(piece, points, headings, between, names)

    def _set_tenons(
        self, piece: Piece, points: tuple[Point, ...], headings: list[Heading]
    ) -> tuple[Piece, tuple[str, ...]]:
        """Return the piece with a headed copy of the other part through every hole."""
        assert self.part is not None
        other = seen_from(other_part(piece, self.part), self.part_end)
        others = []
        for point, heading in zip(points, headings, strict=True):
            # its new start lies in the face of the bar that is away from it
            hold = self.standing_off(self.hold(point, -self.half(piece, point)))
            others.append((headed(other, self.part, heading), hold))
        return each_hung(piece, others, self.new_name)

    def _joined(
        self,
        piece: Piece,
        points: tuple[Point, ...],
        headings: list[Heading],
        between: tuple[str, ...],
        names: tuple[str, ...],
    ) -> Piece:
        joints, worked = [], []
        for index, (point, heading) in enumerate(zip(points, headings, strict=True)):
            places = [point]
            for name in (*between[index : index + 1], *names[index : index + 1]):
                held = piece.branch(name).attached
                assert held is not None
                places.append(Point(name, held.by))
            if len(places) > 1:
                clearance = heading.clearance if self.moves else 0.0
                called = f"{places[-1].branch} rivet"
                joints.append(Joint("rivet", tuple(places), called, self.part or "", self.moves, clearance))
            section = piece.branch(point.branch).section_at(places[0].at)
            reach = max(section.thickness, heading.diameter) / 2
            long = piece.branch(point.branch).length
            worked.append(Span(point.branch, max(places[0].at - reach, 0.0), min(places[0].at + reach, long)))
        return replace(piece, joints=(*piece.joints, *joints), worked=tuple(worked))

    # -- words and drawing -----------------------------------------------------------------------

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"grip": self.heading(before, self.points(before)[0]).grip}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        heading = self.heading(before, self.points(before)[0])
        across, high = heading.size
        head = say("a head {across:size} across and {high:size} high", across=across, high=high)
        if self.head == "flush":
            head = say("the countersink, flush")
        what = say("the tenon of the {part}", part=self.part) if self.pin == "tenon" else self._loose(heading)
        return say(
            "Set {what} through {between}the {holes} at {places}{side}, draw the parts together and head the "
            "{standing:length} that stand out, {how}, to {head}{play}.",
            what=what,
            places=points_words(before, self.where),
            holes="hole" if len(self.points(before)) == 1 else "holes",
            between=say("the {through} and ", through=self.through) if self.through else "",
            side=say(", the {part} {side}", part=self.part, side=self.side_said(before)) if self.part else "",
            standing=heading.standing,
            how="hot" if self.hot else "cold",
            head=head,
            play=say(", and work it to and fro until it turns freely") if self.moves else "",
        )

    def _loose(self, heading: Heading) -> Sentence:
        return say(
            "a rivet {pin:section}, {long:length} under its head,",
            pin=heading.pin,
            long=heading.grip + heading.standing,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        if self.moves:
            return say("it turns freely and does not wobble")
        return say("the head sits all round, and nothing moves or rattles")

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)

    examples = (
        Example(
            "A foot's tenon ø7, 26.5 long, through 16 of a bar: 10.5 stands out for a head ø11.3 × 5",
            before=_bar_and_foot(150),
            params={"where": [{"on": "bar", "datum": "centre"}], "part": "foot"},
            after=(
                Result(length=300),
                Result("foot", length=89.5, at={8: Section.round(7)}, marks={"T": 69.5}),
            ),
            lost=0,
            says=("10.5 mm that stand out", "11.3 mm across and 5 mm high"),
            source="π/4 × 7² × 10.5 = 404.1; 16 × π/4 × (7.5² - 7²) = 91.1; 313 of 303 for a full head",
        ),
        Example(
            "Three feet from one step, each headed hot: each loses its scale",
            before=_bar_and_foot(60, 150, 240),
            params={
                "where": [{"on": "bar", "datum": "mark", "mark": f"H{number}"} for number in (1, 2, 3)],
                "part": "foot",
            },
            heats=1,
            scale=0.03,
            after=(Result(length=300), Result("foot 1", length=89.5), Result("foot 3", length=89.5)),
            lost=0.41,
            source="3 × 26.5 × π/4 × (7² - 6.94²) = 52.2 mm³",
        ),
        Example(
            "A pricket through a pan and a bracket, the pan between",
            before=bar(
                Section.flat(30, 8),
                200,
                bench={
                    "pricket": tenoned("pricket", Section.round(10), 90, Section.round(6), 18),
                    "pan": drilled("pan", Section.flat(90, 2), 70, 6.5),
                },
            ).featured("bar", hole("P", 100, 6.5)),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "pricket",
                "through": "pan",
                "side": "up",
            },
            after=(Result("pricket", length=100), Result("pan", length=70)),
            says=("8 mm that stand out",),
            lost=0,
            source="18 - (8 + 2) = 8; 90 + 18 - 8",
        ),
        Example(
            "Two straps with a loose rivet ø8 in holes of 8.5: 11.6 stands out of 20",
            before=bar(
                Section.flat(40, 10), 200, bench={"strap": drilled("strap", Section.flat(40, 10), 120, 8.5)}
            ).featured("bar", hole("H", 150, 8.5)),
            params={
                "where": [{"on": "bar", "datum": "end", "offset": 50}],
                "pin": "loose",
                "part": "strap",
                "diameter": 8,
                "side": "up",
                "turned": 90,
            },
            after=(Result(length=200), Result("strap", length=120)),
            says=("a rivet ø8 mm, 31.6 mm under its head", "11.6 mm that stand out"),
            lost=0,
            source="head 1.125 × 8 = 9.0; filling 20 × ((8.5 / 8)² - 1) = 2.6",
        ),
        Example(
            "A long tenon of little room bends over, and set cold it is too thick",
            before=bar(
                Section.square(16),
                300,
                bench={"foot": tenoned("foot", Section.square(12), 80, Section.round(8), 40)},
            ).featured("bar", hole("H1", 8, 9.2)),
            params={
                "where": [{"on": "bar", "datum": "start", "offset": 8}],
                "part": "foot",
                "hot": False,
            },
            after=(Result("foot", length=96),),
            cautions=(
                "rivet.long",
                "rivet.loose_fit",
                "rivet.cold_too_thick",
                "rivet.near_the_end",
                "rivet.for_good",
            ),
            source="80 + 40 - 24",
        ),
        Example(
            "Where there is no hole it is refused",
            before=_bar_and_foot(150),
            params={"where": [{"on": "bar", "datum": "start", "offset": 20}], "part": "foot"},
            refused=("rivet.no_hole",),
        ),
        Example(
            "A hole smaller than the tenon is refused",
            before=bar(
                Section.square(16),
                300,
                bench={"foot": tenoned("foot", Section.square(12), 80, Section.round(8), 40)},
            ).featured("bar", hole("H1", 150, 7.5)),
            params={"where": [{"on": "bar", "datum": "centre"}], "part": "foot"},
            refused=("joint.hole_too_small",),
        ),
        Example(
            "A tenon that ends in its hole is refused",
            before=bar(
                Section.square(16),
                300,
                bench={"foot": tenoned("foot", Section.square(12), 80, Section.round(7), 16)},
            ).featured("bar", hole("H1", 150, 7.5)),
            params={"where": [{"on": "bar", "datum": "centre"}], "part": "foot"},
            refused=("rivet.too_short",),
        ),
        Example(
            "A foot beside a hole that goes up and down is refused",
            before=_bar_and_foot(150),
            params={"where": [{"on": "bar", "datum": "centre"}], "part": "foot", "side": "left"},
            refused=("rivet.across_the_hole",),
        ),
        Example(
            "An end without a shoulder is no tenon",
            before=bar(
                Section.square(16), 300, bench={"foot": bar(Section.round(7), 80, name="foot")}
            ).featured("bar", hole("H1", 150, 7.5)),
            params={"where": [{"on": "bar", "datum": "centre"}], "part": "foot"},
            refused=("rivet.no_tenon",),
        ),
    )
