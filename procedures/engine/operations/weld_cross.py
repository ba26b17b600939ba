"""Cross weld: weld another part across a bar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Attachment, Feature
from procedures.engine.pieces.origin import part_of, turned
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH, Segment, uniform
from procedures.engine.place_words import point_words
from procedures.engine.shaping.bringing import mark_words, other_part, place_on, two_sides_named
from procedures.engine.shaping.checks import bent_metal, in_the_way
from procedures.engine.shaping.dressing import origin_of
from procedures.engine.shaping.halves import halves, parted_at_an_end
from procedures.engine.shaping.hanging import hung
from procedures.engine.shaping.holes import free_names, holes_between
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    thin_by_weld,
    unlike_steels,
    weldable,
)
from procedures.engine.sketch import Sketch

_FLUSH = 1.05  # of the thicker bar, below which it is nearly flush and needs several heats: from memory
_ROOM = 1.02  # of both bars, as sections are measured: from memory


@dataclass(frozen=True, slots=True)
class Crossing:
    """Two bars across each other, `thick` mm where they cross: sections of the bar and of the other."""

    under: Section
    over: Section
    thick: float

    def stays(self, metal: float) -> float:
        """Return what of the other's metal in the crossing [mm³] stays on the bar as a patch."""
        patch = max(self.thick - self.under.thickness, 0.0) * self.under.width * self.over.width
        return min(patch, metal)

    def each_arm(self, metal: float) -> float:
        """Return by how much each arm gets longer [mm] of the metal [mm³] that lay in the crossing."""
        return (metal - self.stays(metal)) / (2 * self.over.area)


class WeldCross(Operation):
    """Forge-welds another part across a bar; its two sides become arms, longer by what is driven out."""

    id = "weld_cross"
    title = "Cross weld"
    family = "weld"
    help = (
        "Give the thickness where they cross. What does not stay there goes half into each arm. Upset both"
        " there first, or the arms come out thin at the root."
    )
    synonyms = ("cross weld", "lattice weld", "weld across", "crossing")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer and flatter", "set hammer for the corners")
    power_tools = ("light blows only, the first by hand",)
    helper = "nearly always: one for each bar"
    period = "forge weld, both bars upset in the middle and scarfed thin where they cross"
    modern = "arc weld; halved and riveted it is as old"
    safety = (FLUX, "Two people name their parts before the iron leaves the fire.", CODED)

    where: Position = declare.position("Crossing", "Its middle, on this part.")
    part: str = declare.part("Other part", "It is finished before this step and comes in whole.")
    part_mark: str | None = declare.name(
        "Mark on it", "Where it crosses; its middle when left out.", required=False
    )
    thickness: float = declare.length("Thickness at the crossing", "Over both when welded.")
    side: str = declare.choice("It lies", {"up": "above the bar", "down": "below the bar"}, default="up")
    arms: tuple[str, ...] | None = declare.names(
        "Names of its two sides", "The left one first: beyond the mark.", required=False, least=2
    )
    group: str = declare.name("Group", "Of the two sides.", default="arms")

    # -- where it is -----------------------------------------------------------------------------

    def point(self, piece: Piece) -> Point:
        """Return the middle of the crossing on this part. Raises Unworkable for several."""
        points = piece.points(self.where)
        if len(points) > 1:
            raise Unworkable(
                stop(
                    "weld_cross.one_at_a_time",
                    "{on} has {count:count} members; a part is welded across one of them.",
                    hint="Name one branch in each step.",
                    on=self.where.on,
                    count=len(points),
                    field="where",
                    source="geometry",
                )
            )
        return points[0]

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        point = self.point(piece)
        half = self.other_section(piece).width / 2
        return (Span(point.branch, point.at - half, point.at + half),)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return (self.point(piece),)

    def other_section(self, piece: Piece) -> Section:
        """Return the section of the other part where it crosses. Raises Unworkable."""
        other = other_part(piece, self.part)
        return other.root.section_at(place_on(other, self.part_mark, "part_mark"))

    def crossing(self, piece: Piece) -> Crossing:
        """Return the crossing to be, of the sections there are. Raises Unworkable."""
        point = self.point(piece)
        under = piece.branch(point.branch).section_at(point.at)
        return Crossing(under, self.other_section(piece), self.thickness)

    def seat(self, piece: Piece) -> Span:
        """Return the run of the other part that lies in the crossing. Raises Unworkable."""
        other = other_part(piece, self.part)
        at = place_on(other, self.part_mark, "part_mark")
        half = self.crossing(piece).under.width / 2
        return Span(other.root.name, at - half, at + half)

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        return {self.part: (self.seat(piece),)}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the two sides of the other part."""
        return self.arms or (f"{self.part} 1", f"{self.part} 2")

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from two_sides_named(piece, self.names, self.group)
        other, seat = other_part(piece, self.part), self.seat(piece)
        yield from fire_welds(piece, other, field="part")
        (span,) = self.spans(piece)
        sides = ((piece, span, "where"), (other, seat, "part_mark"))
        for whole, run, field in sides:
            branch = whole.branch(run.branch)
            if run.low < -TOUCH or run.high > branch.length + TOUCH:
                yield stop(
                    "weld_cross.off_the_end",
                    "The crossing reaches {over:length} beyond the end of {branch}.",
                    hint="Set it further in; at an end it is a jump weld or a lap.",
                    over=max(-run.low, run.high - branch.length),
                    branch=branch.said,
                    field=field,
                    source="geometry",
                )
                return
            yield from bent_metal(branch, run, field)
            yield from weldable(branch, run, field)
            yield from in_the_way(whole, branch, run, field, holes=holes_between(branch, run), welds=True)
        if parted_at_an_end(other, seat.low, seat.high) or other.is_closed(other.root.name):
            yield stop(
                "weld_cross.no_two_sides",
                "The {part} has not two sides where it crosses.",
                hint="Choose a place between its ends.",
                part=self.part,
                field="part_mark",
                source="geometry",
            )
        yield from self._thickness(piece)

    def _thickness(self, piece: Piece) -> Iterator[Finding]:
        crossing = self.crossing(piece)
        thin, both = crossing.under.thickness, crossing.under.thickness + crossing.over.thickness
        if self.thickness > _ROOM * both:
            yield stop(
                "weld_cross.too_thick",
                "The two together are {both:size} thick: a weld makes them no thicker than that.",
                hint="Give less than {both:size}.",
                both=both,
                field="thickness",
                source="geometry",
            )
        elif self.thickness < thin - TOUCH:
            yield stop(
                "weld_cross.too_thin",
                "The bar itself is {thin:size} thick there.",
                hint="Draw it down first, or give {thin:size} at least.",
                thin=thin,
                field="thickness",
                source="geometry",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        crossing = self.crossing(before)
        thicker = max(crossing.under.thickness, crossing.over.thickness)
        if self.thickness < _FLUSH * thicker:
            yield caution(
                "weld_cross.nearly_flush",
                "Welded to {thick:size} it is nearly flush with a bar of {bar:size}.",
                hint="Plan several welding heats, or leave it thicker.",
                thick=self.thickness,
                bar=thicker,
                field="thickness",
                source="5 % from memory",
            )
        other, seat = other_part(before, self.part), self.seat(before)
        (span,) = self.spans(before)
        yield from thin_by_weld(before.branch(span.branch), span)
        yield from thin_by_weld(other.root, seat)
        yield from unlike_steels(before.material, other.material, "part")
        yield from heat_band(before.material, self.heat)

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        (span,) = self.spans(piece)
        crossing, seat, other = self.crossing(piece), self.seat(piece), other_part(piece, self.part)
        middle = (span.low + span.high) / 2
        metal = other.root.volume_between(seat.low, seat.high)
        stays = crossing.stays(metal)
        origin = origin_of(other.root, seat.low, seat.high)
        more = crossing.each_arm(metal)
        before, beyond = halves(other, seat.low, seat.high)
        root = replace(uniform(crossing.over, more), origin=part_of(origin, 0.5, 1.0))
        tail = replace(uniform(crossing.over, more), origin=turned(part_of(origin, 0.0, 0.5)))
        for half, name, sense, run in (
            (beyond, self.names[0], 1, root),
            (before, self.names[1], -1, tail),
        ):
            hold = self._hold(Point(span.branch, middle), crossing, sense)
            piece, _ = hung(piece, _longer(half, run), [hold], name)
        piece = piece.featured(span.branch, self._patch(piece, span, crossing, stays))
        piece = replace(piece, received=piece.received + stays)
        places = (Point(span.branch, middle), *(Point(name, 0.0) for name in self.names))
        joint = Joint("cross_weld", places, f"{self.part} weld", self.part)
        worked = (span, *(Span(name, 0.0, max(more, TOUCH)) for name in self.names))
        return replace(piece.grouped(self.group, self.names), joints=(*piece.joints, joint), worked=worked)

    def _hold(self, at: Point, crossing: Crossing, sense: int) -> Attachment:
        """Return how an arm hangs: from the edge of the bar, its face level with that of the crossing."""
        up = self.thickness - crossing.under.thickness / 2 - crossing.over.thickness / 2
        aside = sense * crossing.under.width / 2
        face = 1 if self.side == "up" else -1
        return Attachment(at.branch, at.at, angle=90.0 * sense, offset=aside, up=face * up)

    def _patch(self, piece: Piece, span: Span, crossing: Crossing, volume: float) -> Feature:
        branch = piece.branch(span.branch)
        (name,) = free_names(branch, f"{self.part} patch", 1)
        return Feature(
            "patch",
            name,
            (span.low + span.high) / 2,
            "rectangle",
            crossing.over.width,
            crossing.under.width,
            volume,
            side="top" if self.side == "up" else "bottom",
        )

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        longer = after.worked[1].length
        return say(
            "Lay the {part} across the bar at {place}, by {mark}, weld and flatten the crossing to "
            "{thick:size}: each side of the {part} gets {longer:length} longer.",
            part=self.part,
            place=point_words(before, self.where),
            mark=mark_words(self.part, self.part_mark),
            thick=self.thickness,
            longer=longer,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        arms = [after.branch(name).length for name in self.names]
        return say(
            "{thick:size} at the crossing, square, {first:length} and {second:length} beyond the bar",
            thick=self.thickness,
            first=arms[0],
            second=arms[1],
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
        for name in self.names:
            sketch.length(Span(name, 0.0, after.branch(name).length))

    examples = (
        Example(
            "20 × 8 across 40 × 10, 12 thick where they cross: each side gets 15.0 longer",
            before=bar(
                Section.flat(40, 10),
                300,
                bench={"cross": bar(Section.flat(20, 8), 240, name="cross", marks={"L": 200})},
            ),
            params={
                "where": {"on": "bar", "datum": "start", "offset": 120},
                "part": "cross",
                "thickness": 12,
                "arms": ["left", "right"],
            },
            after=(
                Result(length=300),
                Result("left", length=115, marks={"L": 75}),
                Result("right", length=115),
            ),
            lost=0,
            source="patch 40 × 20 × 8 = 6400, 2 × 800 = 1600 stays; 4800 / (2 × 160) = 15; 120 - 20 + 15",
        ),
        Example(
            "With two welding heats the arms come out shorter",
            before=bar(
                Section.flat(40, 10), 300, bench={"cross": bar(Section.flat(20, 8), 240, name="cross")}
            ),
            params={"where": {"on": "bar", "datum": "centre"}, "part": "cross", "thickness": 12},
            welding_heats=2,
            weld_scale=0.1,
            after=(Result("cross 1", length=113.75),),
            source="39.6 × 9.6 and 19.6 × 7.6: 39.6 × 148.96 = 5899, 2.4 × 776.2 = 1863 stays; "
            "4036 / 297.92 = 13.55; 120 - 19.8 + 13.55",
        ),
        Example(
            "Nearly flush it is cautioned",
            before=bar(
                Section.flat(40, 10), 300, bench={"cross": bar(Section.flat(20, 8), 240, name="cross")}
            ),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "part": "cross",
                "thickness": 10,
                "side": "down",
            },
            after=(Result("cross 2", length=120),),
            cautions=("weld_cross.nearly_flush",),
            source="none stays: 6400 / 320 = 20; 120 - 20 + 20",
        ),
        Example(
            "Thicker than both together is refused",
            before=bar(
                Section.flat(40, 10), 300, bench={"cross": bar(Section.flat(20, 8), 240, name="cross")}
            ),
            params={"where": {"on": "bar", "datum": "centre"}, "part": "cross", "thickness": 20},
            refused=("weld_cross.too_thick",),
        ),
        Example(
            "Across the very end of the bar it is refused",
            before=bar(
                Section.flat(40, 10), 300, bench={"cross": bar(Section.flat(20, 8), 240, name="cross")}
            ),
            params={"where": {"on": "bar", "datum": "end"}, "part": "cross", "thickness": 12},
            refused=("weld_cross.off_the_end",),
        ),
    )


def _longer(half: Piece, run: Segment) -> Piece:
    """Return a half with a run put before its start; none where it is too short to tell."""
    if run.length < TOUCH:
        return half
    root = half.root
    longer = replace(
        root,
        segments=(run, *root.segments),
        marks=tuple(
            one if one.holds == "start" else replace(one, at=one.at + run.length) for one in root.marks
        ),
        features=tuple(one.moved(lambda at: at + run.length) for one in root.features),
    )
    return half.with_branch(longer).carrying(root.name, lambda at: at + run.length)
