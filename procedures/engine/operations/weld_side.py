"""Weld on at the side: weld the end of another part to the side of a bar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Attachment, End
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import point_words
from procedures.engine.shaping.bringing import SIDES, other_part, seen_from
from procedures.engine.shaping.checks import end_taken, in_the_way, name_taken, no_such_bar, plain_bar
from procedures.engine.shaping.dressing import dressable, dressed, origin_of
from procedures.engine.shaping.hanging import hung, numbered
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.parting import Cut
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    hot_end,
    mean_area,
    not_upset,
    short_lap,
    thin_by_weld,
    too_little_metal,
    unequal_mass,
    unlike_steels,
    weldable,
)
from procedures.engine.sketch import Sketch


class WeldSide(Operation):
    """Forge-welds an end of another part into the side of a bar; the rest of it stands off as a branch."""

    id = "weld_side"
    title = "Weld on at the side"
    family = "weld"
    help = (
        "The seat and the hot end of the other part become one run of the dressed section, the place given in"
        " its middle. Raise or upset the seat first."
    )
    synonyms = ("side weld", "branch weld", "spur weld", "wrapped weld", "weld a spur", "weld a branch")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer and anvil face", "fuller for the throat")
    power_tools = ("light blows only, the first by hand",)
    helper = "to bring the other part from the fire"
    period = "forge weld, the end scarfed to a tongue or wrapped part way round"
    modern = "arc weld; a rivet or a collar holds without welding and is as old"
    safety = (FLUX, "Two people name their parts before the iron leaves the fire.", CODED)

    where: Position = declare.position("Seat", "Its middle, on this part.")
    seat: float = declare.length("Length of the seat", "How much of this bar is worked into the weld.")
    part: str = declare.part("Other part", "It is finished before this step and comes in whole.")
    part_end: End = declare.choice(
        "End of the other part", {"start": "its start", "end": "its end"}, default="start"
    )
    part_zone: float = declare.length("Hot zone of the other", "What goes into the weld.")
    dressed: Section = declare.section("Dressed section", "What the weld measures when done.")
    side: str = declare.choice("It stands", SIDES, default="left")
    angle: float = declare.angle(
        "Angle", "Between it and this bar, towards the bar's end.", default=90.0, above=0, most=179
    )
    turned: float = declare.angle(
        "Turned",
        "About its own length: positive is clockwise, seen from the bar.",
        default=0.0,
        least=-180,
        most=180,
    )
    name: str | None = declare.name("Name of the branch", "That of the part when left out.", required=False)

    # -- where it is -----------------------------------------------------------------------------

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self._seat(piece, one) for one in piece.points(self.where))

    def _seat(self, piece: Piece, point: Point) -> Span:
        branch = piece.branch(point.branch)
        low, high = point.at - self.seat / 2, point.at + self.seat / 2
        over = max(-low, high - branch.length)
        if over > TOUCH:
            raise Unworkable(
                stop(
                    "weld_side.off_the_bar",
                    "The seat reaches {over:length} beyond the end of {branch}.",
                    hint="Set it further in, or make it shorter.",
                    over=over,
                    branch=branch.said,
                    field="where",
                    source="geometry",
                )
            )
        return Span(branch.name, max(low, 0.0), min(high, branch.length))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.where)

    def uses(self, piece: Piece) -> Mapping[str, int]:
        return {self.part: len(piece.points(self.where))}

    def other_zone(self, piece: Piece) -> Span:
        """Return the hot zone of the other part. Raises Unworkable."""
        return hot_end(other_part(piece, self.part).root, self.part_end, self.part_zone, "part_zone")

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        return {self.part: (self.other_zone(piece),)}

    @property
    def new_name(self) -> str:
        """The name of the new branch, or the group of them."""
        return self.name or self.part

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        other, far = other_part(piece, self.part), self.other_zone(piece)
        yield from fire_welds(piece, other, field="part")
        yield from end_taken(other, other.root.name, self.part_end, "part_end")
        for found in plain_bar(other.root, far):
            yield replace(found, field="part_zone")
        holes = holes_between(other.root, far)
        yield from in_the_way(other, other.root, far, "part_zone", holes=holes)
        if far.length > other.root.length - TOUCH:
            yield stop(
                "weld_side.nothing_left",
                "All of the {part} goes into the weld: nothing would stand off.",
                hint="Take a shorter zone.",
                part=self.part,
                field="part_zone",
                source="geometry",
            )
        names = numbered(piece, self.new_name, len(piece.points(self.where)))
        yield from name_taken(piece, names, "name")
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from weldable(branch, span, "where")
            yield from dressable(branch, span, "where")
            yield from in_the_way(piece, branch, span, "where", holes=holes_between(branch, span))
            yield from no_such_bar(branch, span, self.dressed, "dressed")
            # what does not overlap makes the weld longer, so the whole of both is there to fill it
            there = mean_area(branch, span) + mean_area(other.root, far)
            yield from too_little_metal(self.dressed, there)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        other, far = other_part(before, self.part), self.other_zone(before)
        span = self.spans(before)[0]
        own = before.branch(span.branch)
        yield from thin_by_weld(own, span)
        yield from thin_by_weld(other.root, far)
        yield from short_lap(
            far.length, other.root.section_at((far.low + far.high) / 2).thickness, "part_zone"
        )
        yield from not_upset(own, (span,), "where")
        yield from unequal_mass(own, span, other.root, far, self.part)
        yield from unlike_steels(before.material, other.material, "part")
        yield from heat_band(before.material, self.heat)

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        other = seen_from(other_part(piece, self.part), self.part_end)
        zone = self.part_zone
        metal = other.root.volume_between(0.0, zone)
        rest = Cut(other.root.name, zone, "end", 0.0).made(other, "")
        holds, worked = [], []
        for span in self.spans(piece):
            origin = origin_of(other.root, 0.0, zone)
            piece = dressed(piece, span, self.dressed, metal, origin)
            weld = piece.worked[-1]
            worked.append(weld)
            holds.append(self._hold(weld))
        piece, names = hung(piece, rest, holds, self.new_name)
        joints = tuple(
            Joint(
                "side_weld",
                (Point(one.branch, (one.low + one.high) / 2), Point(name, 0.0)),
                f"{name} weld",
                self.part,
            )
            for one, name in zip(worked, names, strict=True)
        )
        return replace(piece, joints=(*piece.joints, *joints), worked=tuple(worked))

    def _hold(self, weld: Span) -> Attachment:
        """Return how the other part hangs: from the middle of the weld, against its face."""
        middle = (weld.low + weld.high) / 2
        sense = 1 if self.side in ("up", "left") else -1
        if self.side in ("up", "down"):
            up = sense * self.dressed.thickness / 2
            return Attachment(weld.branch, middle, elevation=sense * self.angle, up=up, roll=self.turned)
        aside = sense * self.dressed.width / 2
        return Attachment(weld.branch, middle, angle=sense * self.angle, offset=aside, roll=self.turned)

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        free = after.branch(after.joints[-1].places[1].branch)
        return say(
            f"Weld {{zone:length}} of the {self.part_end} of the {{part}} on at {{place}}, "
            "{side}, and dress the weld to {dressed:section}: it comes to {long:length}, and {free:length} "
            "of the {part} stands off at {angle:angle}.",
            zone=self.part_zone,
            part=self.part,
            place=point_words(before, self.where),
            side=SIDES[self.side],
            dressed=self.dressed,
            long=worked_length(after),
            free=free.length,
            angle=self.angle,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{dressed:section} along {long:length}, and no dark line where the {part} goes in",
            dressed=self.dressed,
            long=worked_length(after),
            part=self.part,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)
        for joint in after.joints[len(before.joints) :]:
            if joint.kind == "side_weld":
                sketch.angle(joint.places[1].branch, self.angle)

    examples = (
        Example(
            "A spur of □10 on □12: 16 of it in the weld, a seat of 24 dressed to □13",
            before=bar(
                Section.square(12),
                300,
                marks={"W": 225, "E": 280},
                bench={"spur": bar(Section.square(10), 70, name="spur", marks={"T": 40})},
            ),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "W"},
                "seat": 24,
                "part": "spur",
                "part_zone": 16,
                "dressed": {"shape": "square", "side": 13},
                "angle": 45,
            },
            after=(
                Result(
                    length=305.9, worked=29.92, section=Section.square(13), marks={"W": 227.96, "E": 285.92}
                ),
                Result("spur", length=54, marks={"T": 24}),
            ),
            lost=0,
            cautions=("weld.not_upset",),
            source="(24 × 144 + 16 × 100) / 169 = 29.92; 300 - 24 + 29.92; 70 - 16 = 54",
        ),
        Example(
            "With two welding heats both scale",
            before=bar(Section.square(12), 300, bench={"spur": bar(Section.square(10), 70, name="spur")}),
            params={
                "where": {"on": "bar", "datum": "start", "offset": 100},
                "seat": 24,
                "part": "spur",
                "part_zone": 16,
                "dressed": {"shape": "square", "side": 13},
                "side": "up",
            },
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(length=303.84, worked=27.84), Result("spur", length=54)),
            lost=2.76,
            source="□11.6 and □9.6: (24 × 134.56 + 16 × 92.16) / 169 = 27.83",
        ),
        Example(
            "A leaf on each of two arms, from two of the part",
            before=bar(Section.flat(24, 12), 300, bench={"leaf": bar(Section.square(8), 90, name="leaf")}),
            first=(
                (
                    "split",
                    {"where": {"on": "bar", "datum": "end", "offset": 120}, "children": ["left", "right"]},
                ),
            ),
            params={
                "where": {"on": "arms", "datum": "end", "offset": 40},
                "seat": 20,
                "part": "leaf",
                "part_zone": 12,
                "dressed": {"shape": "square", "side": 12},
                "side": "up",
            },
            after=(
                Result("left", length=125.33, worked=25.33),
                Result("right", length=125.33),
                Result("leaf 1", length=78),
                Result("leaf 2", length=78),
            ),
            source="(20 × 144 + 12 × 64) / 144 = 25.33",
        ),
        Example(
            "A seat beyond the end of the bar is refused",
            before=bar(Section.square(12), 300, bench={"spur": bar(Section.square(10), 70, name="spur")}),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 5},
                "seat": 24,
                "part": "spur",
                "part_zone": 16,
                "dressed": {"shape": "square", "side": 13},
            },
            refused=("weld_side.off_the_bar",),
        ),
        Example(
            "A section that seat and spur cannot fill is refused",
            before=bar(Section.square(12), 300, bench={"spur": bar(Section.square(10), 70, name="spur")}),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "seat": 24,
                "part": "spur",
                "part_zone": 16,
                "dressed": {"shape": "square", "side": 18},
            },
            refused=("weld.too_little_metal",),
        ),
        Example(
            "A part that all goes into the weld is refused",
            before=bar(Section.square(12), 300, bench={"spur": bar(Section.square(10), 30, name="spur")}),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "seat": 24,
                "part": "spur",
                "part_zone": 30,
                "dressed": {"shape": "square", "side": 13},
            },
            refused=("weld_side.nothing_left",),
        ),
    )
