"""Jump weld: weld the end of a bar square on to a face of another part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import sqrt

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Attachment, Branch, End, Feature
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.bringing import mark_words, one_branch, other_part, place_on, two_sides_named
from procedures.engine.shaping.checks import end_taken, in_the_way, plain_bar
from procedures.engine.shaping.halves import end_taken_off, halves, parted_at_an_end
from procedures.engine.shaping.hanging import hung
from procedures.engine.shaping.holes import Face, free_names, holes_between
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    hot_end,
    mean_area,
    thin_by_weld,
    unlike_steels,
    weldable,
)
from procedures.engine.sketch import Sketch

_ANY = 1.02  # times as thick, below which nothing was upset: our judgement
_UPSET = 1.3  # diameters the end is to be upset to: common practice
_PLATE = 0.5  # of the rod's thickness, below which the plate burns first: from memory
_LEAST, _MOST = 0.3, 0.5  # of the rod's thickness that the weld drives in: from memory


class WeldJump(Operation):
    """Forge-welds the end of a bar on to the middle of another part, whose two sides become arms."""

    id = "weld_jump"
    title = "Jump weld"
    family = "weld"
    help = (
        "The bar gets shorter by what it is driven in; that metal stays round it as a fillet. The other part"
        " becomes two arms, from the weld outwards, so that each side can be worked on."
    )
    synonyms = ("T weld", "tee weld", "butt weld", "stub weld", "jump up a rod")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer", "round-edged fuller for the fillet", "swage block or hole")
    power_tools = ("light blows only, straight down the bar",)
    helper = "always: one holds each piece, and a third strikes where there is one"
    period = "forge weld, the end upset and crowned, the fillet worked with a fuller"
    modern = "arc weld; a tenon and rivet holds without welding and is as old"
    safety = (FLUX, "Two people name their parts before the iron leaves the fire.", CODED)

    on: str = declare.branch("On", "The bar whose end is driven on.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    jump: float = declare.length("Driven in", "How much shorter the bar gets; 0.3 to 0.5 of its thickness.")
    zone: float = declare.length("Hot zone", "Of this bar.")
    part: str = declare.part("Other part", "It is finished before this step and comes in whole.")
    part_mark: str | None = declare.name(
        "Mark on it", "Where the bar is set; its middle when left out.", required=False
    )
    part_zone: float = declare.length("Hot zone of the other", "Half on each side of the mark.")
    face: Face = declare.choice("Set on", {"flat": "its flat face", "edge": "its edge"}, default="flat")
    arms: tuple[str, ...] | None = declare.names(
        "Names of its two sides", "The one beyond the mark first.", required=False, least=2
    )
    group: str = declare.name("Group", "Of the two sides.", default="arms")

    # -- where it is -----------------------------------------------------------------------------

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return (hot_end(one_branch(piece, self.on), self.end, self.zone, "zone"),)

    def driven(self, branch: Branch) -> Span:
        """Return the end that is driven in. Raises Unworkable."""
        return hot_end(branch, self.end, self.jump, "jump")

    def seat(self, piece: Piece) -> Span:
        """Return the hot run of the other part. Raises Unworkable."""
        other = other_part(piece, self.part)
        at = place_on(other, self.part_mark, "part_mark")
        low, high = at - self.part_zone / 2, at + self.part_zone / 2
        return Span(other.root.name, max(low, 0.0), min(high, other.root.length))

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        return {self.part: (self.seat(piece),)}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the two sides of the other part."""
        return self.arms or (f"{self.part} 1", f"{self.part} 2")

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        (span,) = self.spans(piece)
        branch = piece.branch(span.branch)
        yield from fire_welds(piece, other_part(piece, self.part), field="part")
        yield from end_taken(piece, branch.name, self.end, "end")
        for found in plain_bar(branch, span):
            yield replace(found, field="zone")
        yield from in_the_way(piece, branch, span, "zone", holes=holes_between(branch, span))
        yield from two_sides_named(piece, self.names, self.group)
        yield from self._too_far(branch)
        yield from self._on_the_other(piece)

    def _too_far(self, branch: Branch) -> Iterator[Finding]:
        if self.jump > self.zone + TOUCH:
            yield stop(
                "weld_jump.driven_beyond_the_heat",
                "{jump:length} cannot be driven in where only {zone:length} is hot.",
                hint="Take a longer heat, or drive it in less.",
                jump=self.jump,
                zone=self.zone,
                field="jump",
                source="geometry",
            )
        elif self.jump > branch.length - TOUCH:
            yield stop(
                "weld_jump.nothing_left",
                "All of {branch} would be driven in.",
                hint="Drive it in less.",
                branch=branch.said,
                field="jump",
                source="geometry",
            )

    def _on_the_other(self, piece: Piece) -> Iterator[Finding]:
        other, seat = other_part(piece, self.part), self.seat(piece)
        at = place_on(other, self.part_mark, "part_mark")
        if parted_at_an_end(other, at, at) or other.is_closed(other.root.name):
            yield stop(
                "weld_jump.no_two_sides",
                "The bar is set where the {part} has not two sides.",
                hint="Set it between the ends; end to end is a lap weld.",
                part=self.part,
                field="part_mark",
                source="geometry",
            )
        yield from weldable(other.root, seat, "part_zone")
        holes = holes_between(other.root, seat)
        yield from in_the_way(other, other.root, seat, "part_zone", holes=holes, welds=True)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        (span,) = self.spans(before)
        branch, other, seat = before.branch(span.branch), other_part(before, self.part), self.seat(before)
        behind = self._behind(branch, span)
        thickness = min(behind.thickness, behind.width)
        yield from self._as_thick(branch, span, behind)
        plate = _through(other.root.section_at((seat.low + seat.high) / 2), self.face)
        if plate < _PLATE * thickness:
            yield caution(
                "weld_jump.thin_plate",
                "The {part} is {plate:size} thick there: it burns before a bar of {bar:size} is hot.",
                hint="Keep {least:size}, or fit a tenon and rivet it.",
                part=self.part,
                plate=plate,
                bar=thickness,
                least=_PLATE * thickness,
                field="part",
                source="half the thickness from memory",
            )
        if not _LEAST * thickness - TOUCH <= self.jump <= _MOST * thickness + TOUCH:
            yield note(
                "weld_jump.unusual_jump",
                "{jump:length} driven in is {share:number} of the thickness; 0.3 to 0.5 is usual.",
                jump=self.jump,
                share=self.jump / thickness,
                field="jump",
                source="from memory",
            )
        yield from thin_by_weld(branch, span)
        yield from thin_by_weld(other.root, seat)
        yield from unlike_steels(before.material, other.material, "part")
        yield from heat_band(before.material, self.heat)

    def _behind(self, branch: Branch, span: Span) -> Section:
        """Return the section of the bar behind its hot end."""
        if self.end == "end":
            return branch.section_at(max(span.low - TOUCH, 0.0))
        return branch.section_at(min(span.high + 2 * TOUCH, branch.length))

    def _as_thick(self, branch: Branch, span: Span, behind: Section) -> Iterator[Finding]:
        times = sqrt(branch.largest_between(span.low, span.high).area / behind.area)
        if times < _UPSET:
            yield caution(
                "weld_jump.not_upset",
                "The {end} of {branch} is no thicker than the bar behind it: {wanted:number} times is wanted."
                if times < _ANY
                else "The {end} of {branch} is {times:number} times as thick as the bar behind it; "
                "{wanted:number} times is wanted.",
                hint="Upset it first, and crown it so that the middle welds before the edges.",
                end=self.end,
                branch=branch.said,
                times=times,
                wanted=_UPSET,
                field="on",
                source="common practice; Manly, 1916, on upsetting and crowning the end",
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        branch = one_branch(piece, self.on)
        driven = self.driven(branch)
        area = mean_area(branch, driven)
        shorter = end_taken_off(branch, self.end, driven.length)
        at = shorter.length if self.end == "end" else 0.0
        shift = 0.0 if self.end == "end" else -driven.length
        piece = piece.with_branch(shorter).carrying(
            branch.name, lambda place: min(max(place + shift, 0.0), shorter.length)
        )
        piece = piece.featured(branch.name, self._fillet(shorter, at, area * driven.length))
        piece, names = self._with_sides(piece)
        places = (Point(branch.name, at), *(Point(name, 0.0) for name in names))
        joint = Joint("jump_weld", places, f"{self.part} weld", self.part)
        left = max(self.zone - driven.length, min(1.0, shorter.length))
        weld = hot_end(shorter, self.end, min(left, shorter.length), "zone")
        return replace(piece.grouped(self.group, names), joints=(*piece.joints, joint), worked=(weld,))

    def _fillet(self, branch: Branch, at: float, volume: float) -> Feature:
        """Return the metal driven in, as it stays round the end of the bar."""
        section = branch.section_at(at)
        wide = max(section.width, section.thickness)
        (name,) = free_names(branch, f"{self.part} fillet", 1)
        return Feature("fillet", name, at, "round", self.jump, wide + 2 * self.jump, volume)

    def _with_sides(self, piece: Piece) -> tuple[Piece, tuple[str, ...]]:
        """Return the piece with the two sides of the other part hung on the end of the bar."""
        other = other_part(piece, self.part)
        at = place_on(other, self.part_mark, "part_mark")
        before, beyond = halves(other, at, at)
        ahead = _through(other.root.section_at(at), self.face) / 2
        for half, name, sense in ((beyond, self.names[0], 1), (before, self.names[1], -1)):
            turn = {"elevation": 90.0 * sense} if self.face == "flat" else {"angle": 90.0 * sense}
            hold = Attachment(self.on_branch(piece), self.end, ahead=ahead, **turn)
            piece, _ = hung(piece, half, [hold], name)
        return piece, self.names

    def on_branch(self, piece: Piece) -> str:
        """Return the name of the bar that is driven on."""
        return one_branch(piece, self.on).name

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        branch = after.branch(self.on_branch(before))
        return say(
            f"Jump the {self.end} of {{on}} on to {{where}}, {FACE_WORDS[self.face]}, drive it in "
            "{jump:length} and fuller the fillet all round: {long:length} of {on} is left.",
            on=owner_words(before, self.on),
            where=mark_words(self.part, self.part_mark),
            jump=self.jump,
            long=branch.length,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "square to the {part} both ways, {long:length} to its face, and no crack round the fillet",
            part=self.part,
            long=after.branch(self.on_branch(before)).length,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            branch = after.branch(span.branch)
            sketch.length(Span(branch.name, 0.0, branch.length))

    examples = (
        Example(
            "ø12 driven 5 in: 295 left, and a fillet of 565 mm³",
            before=bar(
                Section.round(12),
                300,
                marks={"R": 100},
                bench={"blade": bar(Section.flat(40, 6), 110, name="blade", marks={"M": 40})},
            ),
            params={
                "on": "bar",
                "jump": 5,
                "zone": 30,
                "part": "blade",
                "part_mark": "M",
                "part_zone": 36,
                "arms": ["wing left", "wing right"],
                "group": "wings",
            },
            after=(
                Result(length=295, worked=25, marks={"R": 100}),
                Result("wing left", length=70),
                Result("wing right", length=40),
            ),
            lost=0,
            cautions=("weld_jump.not_upset",),
            source="π/4 × 12² × 5 = 565.5 stays as the fillet",
        ),
        Example(
            "With two welding heats of an upset end the fillet is smaller",
            before=bar(Section.round(12), 300, bench={"blade": bar(Section.flat(40, 6), 110, name="blade")}),
            first=(
                (
                    "upset",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 36},
                        "target": {"shape": "round", "diameter": 16},
                    },
                ),
            ),
            params={"on": "bar", "jump": 5, "zone": 30, "part": "blade", "part_zone": 36},
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(length=279.25, end=Section.round(15.6)), Result("blade 1", length=55)),
            lost=7.3,
            source="300 - 36 + 36 × 144 / 256 - 5; ø15.6 and ø11.6 over 20.25 + 9.75, 39.6 × 5.6 over 36",
        ),
        Example(
            "At the start of a bar, on the edge of the other",
            before=bar(
                Section.square(12),
                200,
                marks={"A": 50},
                bench={"plate": bar(Section.flat(50, 8), 120, name="plate")},
            ),
            params={
                "on": "bar",
                "end": "start",
                "jump": 4,
                "zone": 25,
                "part": "plate",
                "part_zone": 40,
                "face": "edge",
            },
            after=(Result(length=196, marks={"A": 46}), Result("plate 2", length=60)),
            source="200 - 4",
        ),
        Example(
            "A plate thinner than half the bar burns first",
            before=bar(Section.round(16), 200, bench={"plate": bar(Section.flat(60, 5), 120, name="plate")}),
            params={"on": "bar", "jump": 6, "zone": 30, "part": "plate", "part_zone": 40},
            after=(Result(length=194),),
            cautions=("weld_jump.thin_plate",),
        ),
        Example(
            "Set at the very end of the other part it is refused",
            before=bar(
                Section.round(12),
                200,
                bench={"plate": bar(Section.flat(60, 8), 120, name="plate", marks={"E": 0})},
            ),
            params={"on": "bar", "jump": 5, "zone": 30, "part": "plate", "part_mark": "E", "part_zone": 40},
            refused=("weld_jump.no_two_sides",),
        ),
        Example(
            "Driven in further than it is hot is refused",
            before=bar(Section.round(12), 200, bench={"plate": bar(Section.flat(60, 8), 120, name="plate")}),
            params={"on": "bar", "jump": 20, "zone": 15, "part": "plate", "part_zone": 40},
            refused=("weld_jump.driven_beyond_the_heat",),
        ),
    )


FACE_WORDS = {"flat": "square on its face", "edge": "square on its edge"}


def _through(section: Section, face: Face) -> float:
    """Return how thick a bar is [mm] behind a face of it."""
    return section.thickness if face == "flat" else section.width
