"""Weld a ring: close a bar by welding its end to its start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from calculators.formulas.ring_blank import blank_length
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import TOUCH, Segment
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import bent_metal, end_taken, folded_metal, in_the_way, no_such_bar
from procedures.engine.shaping.curving import TURNS, Turn, depth, plane_of, sense_of
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.rings import Ring, gap_between_ends
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    hot_end,
    mean_area,
    not_scarfed,
    not_upset,
    opposite_scarfs,
    short_lap,
    thin_by_weld,
    too_little_metal,
    weldable,
)
from procedures.engine.sketch import Sketch

_REACH = 6.0  # thicknesses inside, below which the horn does not go in: from memory
_MEETS = 1.0  # mm: what is trued without a word: our judgement
_CLOSE_ENOUGH = 0.01  # of the inside size wanted, to which it is left alone: our judgement


class WeldRing(Operation):
    """Closes a bar to a ring, a link or a frame: the two ends become one run, and a joint holds them."""

    id = "weld_ring"
    title = "Weld a ring"
    family = "weld"
    help = (
        "Scarf the ends on opposite faces first. The length of bar decides the size: the weld itself needs no"
        " allowance, only what its heats burn away."
    )
    synonyms = ("link", "hoop", "band", "welded ring", "chain link", "frame", "tyre", "tire")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer and anvil face", "horn or mandrel to true it")
    power_tools = ("light blows only, the first by hand",)
    helper = "for hoops above 400 mm"
    period = "forge weld: bent egg-shaped, welded flat, then rounded on the horn"
    modern = "arc weld, dressed; say so on the record of a reproduction"
    safety = (
        FLUX,
        "Chain, lifting rings and hooks come only from makers licensed to test them.",
        CODED,
    )

    on: str = declare.branch("On", "The bar, or the group whose every member is closed by itself.")
    form: str = declare.choice(
        "Shape when done",
        {"ring": "a ring", "link": "a link with straight sides", "as_bent": "as it is bent, such as a frame"},
        default="ring",
    )
    zone: float = declare.length("Hot zone", "At each end: what goes into the weld.")
    dressed: Section | None = declare.section(
        "Dressed section", "Of the weld; as the bar beside it when left out.", required=False
    )
    width: float | None = declare.length("Inside width", "Of a link.", required=False)
    inside: float | None = declare.length(
        "Inside size wanted", "Diameter of a ring, length of a link; only compared.", required=False
    )
    turn: Turn = declare.choice(
        "Bent", TURNS, "For a bar still straight; a bent one keeps its side.", default="up"
    )

    # -- where it is -----------------------------------------------------------------------------

    def zones(self, branch: Branch) -> tuple[Span, Span]:
        """Return the hot zones at the start and at the end. Raises Unworkable."""
        first = hot_end(branch, "start", self.zone, "zone")
        last = hot_end(branch, "end", self.zone, "zone")
        if first.high > last.low + TOUCH:
            raise Unworkable(
                stop(
                    "weld_ring.zones_overlap",
                    "Two hot zones of {zone:length} are more than {branch} has: {long:length}.",
                    hint="Take shorter zones.",
                    zone=self.zone,
                    branch=branch.said,
                    long=branch.length,
                    field="zone",
                    source="geometry",
                )
            )
        return first, last

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(one for name in piece.members(self.on) for one in self.zones(piece.branch(name)))

    def ring(self, branch: Branch) -> Ring:
        """Return the closed line to be: in the plane of the bar's own bends, or as given."""
        arcs = [one.path for one in branch.segments if isinstance(one.path, Arc)]
        plane, sense = (arcs[0].plane, arcs[0].turn) if arcs else (plane_of(self.turn), sense_of(self.turn))
        return Ring(plane, sense, self.width if self.form == "link" else None)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from fire_welds(piece, field="on")
        yield from self._sizes()
        for name in piece.members(self.on):
            branch = piece.branch(name)
            zones = self.zones(branch)
            yield from end_taken(piece, name, "start", "on")
            yield from end_taken(piece, name, "end", "on")
            yield from opposite_scarfs(branch, "on")
            for zone in zones:
                yield from weldable(branch, zone, "zone")
                for found in folded_metal(branch, zone):
                    yield replace(found, field="on")
                yield from in_the_way(piece, branch, zone, "zone", holes=holes_between(branch, zone))
                if self.form == "as_bent":
                    yield from bent_metal(branch, zone, "zone")
            if self.dressed is not None:
                yield from no_such_bar(branch, zones[1], self.dressed, "dressed")
                yield from too_little_metal(self.dressed, sum(mean_area(branch, one) for one in zones))
            yield from self._shape(piece, branch)

    def _sizes(self) -> Iterator[Finding]:
        if (self.form == "link") != (self.width is not None):
            yield stop(
                "weld_ring.width_of_a_link",
                "An inside width is given for a link, and for nothing else.",
                hint="Give the width of the link, or choose another shape.",
                field="width",
                source="geometry",
            )

    def _shape(self, piece: Piece, branch: Branch) -> Iterator[Finding]:
        if self.form == "link" and self.width is not None:
            side = self.ring(branch).side(branch.length, branch.section_at(branch.length / 2))
            if side <= 0:
                yield stop(
                    "weld_ring.too_short_for_a_link",
                    "A link {width:length} wide inside takes {least:length} of bar for its bows alone; there "
                    "are {long:length}.",
                    hint="Cut the bar longer, or make the link narrower.",
                    width=self.width,
                    least=branch.length - 2 * side,
                    long=branch.length,
                    field="width",
                    source="geometry",
                )
        if self.form == "as_bent":
            gap = gap_between_ends(pose(piece), branch.name)
            if gap > 2 * self.zone:
                yield stop(
                    "weld_ring.ends_apart",
                    "As bent, the ends of {branch} lie {gap:length} apart.",
                    hint="Bend it until they lap.",
                    branch=branch.said,
                    gap=gap,
                    field="form",
                    source="geometry",
                )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        name = before.members(self.on)[0]
        branch, closed = before.branch(name), after.branch(name)
        zones = self.zones(branch)
        thin = {one.code: one for zone in zones for one in thin_by_weld(branch, zone)}
        yield from thin.values()  # of both ends once
        thickness = branch.section_at(branch.length / 2).thickness
        yield from short_lap(self.zone, thickness, "zone")
        yield from not_upset(branch, zones, "on")
        yield from not_scarfed(branch, ("start", "end"), "on")
        yield from heat_band(before.material, self.heat)
        if self.form == "as_bent":
            yield from self._closing(after, closed)
        else:
            yield from self._reach(closed)
        if self.inside is not None:
            yield from self._off(closed, self.inside)

    def _closing(self, after: Piece, closed: Branch) -> Iterator[Finding]:
        gap = gap_between_ends(pose(after), closed.name)
        if gap > _MEETS:
            yield caution(
                "weld_ring.does_not_close",
                "Between its bends the frame is {gap:length} off what its length closes to.",
                hint="Set the bends by the length it has when welded, or true the side with the weld.",
                gap=gap,
                field="form",
                source="geometry",
            )

    def _reach(self, closed: Branch) -> Iterator[Finding]:
        ring, section = self.ring(closed), closed.section_at(closed.length / 2)
        room = ring.inside(closed.length, section) if ring.width is None else ring.width
        if room < _REACH * depth(section, ring.plane):
            yield caution(
                "weld_ring.hard_to_reach",
                "Only {room:length} is left inside: the horn of an anvil does not go in.",
                hint="Dress it on a pin or a bick, or weld it on its sides only.",
                room=room,
                field="on",
                source="six thicknesses from memory",
            )

    def _off(self, closed: Branch, wanted: float) -> Iterator[Finding]:
        comes_to = self.inside_of(closed)
        off = comes_to - wanted
        if abs(off) > _CLOSE_ENOUGH * wanted:
            section = closed.section_at(closed.length / 2)
            ring = self.ring(closed)
            per = 2.0 if ring.width is not None else blank_length(1.0, 0.0)
            yield caution(
                "weld_ring.off_size",
                "It comes out {inside:length} inside, not {wanted:length}.",
                hint="Begin with {off:length} "
                + ("less" if off > 0 else "more")
                + " bar of {section:section}.",
                inside=comes_to,
                wanted=wanted,
                off=abs(off) * per,
                section=section,
                field="inside",
                source="geometry",
            )

    # -- work ------------------------------------------------------------------------------------

    def inside_of(self, closed: Branch) -> float:
        """Return the inside diameter of the ring, or the inside length of the link [mm]."""
        return self.ring(closed).inside(closed.length, closed.section_at(closed.length / 2))

    def transform(self, piece: Piece) -> Piece:
        worked: list[Span] = []
        for name in piece.members(self.on):
            piece = self._closed(piece, name)
            worked += piece.worked
        return replace(piece, worked=tuple(worked))

    def _closed(self, piece: Piece, name: str) -> Piece:
        branch = piece.branch(name)
        ring = self.ring(branch)
        first, last = self.zones(branch)
        beyond, before = branch.sections_between(first.high, last.low)
        if self.dressed is not None:
            before = beyond = self.dressed
        seam = before.blend(beyond, 0.5)
        piece = _dressed(piece, last, before, seam)
        high = piece.worked[-1].length
        piece = _dressed(piece, first, seam, beyond)
        low = piece.worked[-1].length
        branch = piece.branch(name)
        if self.form != "as_bent":
            branch = ring.laid_out(branch)
            piece = piece.with_branch(branch)
        joint = Joint("ring_weld", (Point(name, 0.0), Point(name, branch.length)), f"{name} weld")
        spans = (Span(name, 0.0, low), Span(name, branch.length - high, branch.length))
        return replace(piece, joints=(*piece.joints, joint), worked=spans)

    # -- words and drawing -----------------------------------------------------------------------

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        closed = after.branch(after.worked[0].branch)
        inside = {} if self.form == "as_bent" else {"inside": self.inside_of(closed)}
        return {"dressed": closed.segments[0].start, **inside}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        name = after.worked[0].branch
        closed = after.branch(name)
        return say(
            "Lap the ends of {on}, weld {zone:length} of each together and dress the weld to "
            "{dressed:section}{shape}.",
            on=owner_words(before, self.on),
            zone=self.zone,
            dressed=closed.segments[0].start,
            shape=self._shape_words(closed),
        )

    def _shape_words(self, closed: Branch) -> Sentence:
        if self.form == "as_bent":
            return say(", {round:length} round the middle of the bar", round=closed.length)
        inside = self.inside_of(closed)
        if self.form == "link":
            return say(
                ", then true the link to {inside:length} by {width:length} inside",
                inside=inside,
                width=self.width,
            )
        return say(", then round the ring to {inside:length} inside", inside=inside)

    def check(self, before: Piece, after: Piece) -> Sentence:
        closed = after.branch(after.worked[0].branch)
        if self.form == "as_bent":
            return say("flat, square, and {round:length} round its middle", round=closed.length)
        across = say(" by {width:length}", width=self.width) if self.form == "link" else say("")
        inside = self.inside_of(closed)
        return say("{inside:length}{across} inside, and flat on the plate", inside=inside, across=across)

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
        for name in {one.branch for one in after.worked}:
            sketch.point(Point(name, 0.0), "weld")

    examples = (
        Example(
            "□10 cut to π × 90 + 3.75 for a ring of 80: without loss it comes out 81.2 inside",
            before=bar(Section.square(10), 286.5, marks={"A": 143.25}),
            params={"on": "bar", "zone": 25},
            after=(Result(length=286.5, worked=25, section=Section.square(10), marks={"A": 143.25}),),
            lost=0,
            source="286.5 / π - 10 = 81.2; allowance ⅜ of the thickness after Googerty, 1911, page 69",
        ),
        Example(
            "With two welding heats over 25 at each end: 79.9 inside",
            before=bar(Section.square(10), 286.5, marks={"A": 143.25}),
            params={"on": "bar", "zone": 25, "inside": 80},
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(length=282.58, worked=23.04, section=Section.square(10), marks={"A": 141.29}),),
            lost=3.08,
            source="□9.6 dressed to □10: 50 × 92.16 / 100 = 46.08; 236.5 + 46.08 = 282.58; / π - 10 = 79.95",
        ),
        Example(
            "A chain link of ø9.5, 19 wide and 51 long inside",
            before=bar(Section.round(9.525), 153.27),
            params={"on": "bar", "form": "link", "zone": 20, "width": 19.05, "inside": 50.8},
            after=(Result(length=153.27, section=Section.round(9.525)),),
            cautions=("weld_ring.hard_to_reach",),
            source="Ilgen, Forge Work, 1912, article 80: π × (19.05 + 9.525) + 2 × (50.8 - 19.05) = 153.27",
        ),
        Example(
            "A square frame keeps its corners",
            before=bar(Section.square(12), 400),
            first=tuple(
                (
                    "bend",
                    {
                        "where": {"on": "bar", "datum": "start", "offset": 50 + 100 * side},
                        "angle": 90,
                        "inside_radius": 12,
                    },
                )
                for side in range(4)
            ),
            params={"on": "bar", "form": "as_bent", "zone": 30},
            after=(Result(length=400, worked=30, section=Section.square(12)),),
            lost=0,
            source="four sides of 100 along the middle of the bar",
        ),
        Example(
            "A ring far off the size wanted is cautioned",
            before=bar(Section.square(10), 320),
            params={"on": "bar", "zone": 25, "inside": 80},
            after=(Result(length=320),),
            cautions=("weld_ring.off_size", "weld.not_upset"),
            source="320 / π - 10 = 91.9",
        ),
        Example(
            "A straight bar is no frame",
            before=bar(Section.square(12), 420),
            params={"on": "bar", "form": "as_bent", "zone": 40},
            refused=("weld_ring.ends_apart",),
        ),
        Example(
            "Ends scarfed on the same face do not lap",
            before=bar(Section.square(14), 400),
            first=(
                ("scarf", {"on": "bar", "length": 20, "face": "up"}),
                ("scarf", {"on": "bar", "end": "start", "length": 20, "face": "up"}),
            ),
            params={"on": "bar", "zone": 35},
            refused=("weld.scarfs_alike",),
        ),
        Example(
            "Zones longer than the bar are refused",
            before=bar(Section.square(10), 60),
            params={"on": "bar", "zone": 40},
            refused=("weld_ring.zones_overlap",),
        ),
        Example(
            "A section that the lapped ends cannot fill is refused",
            before=bar(Section.square(10), 286.5),
            params={"on": "bar", "zone": 25, "dressed": {"shape": "square", "side": 15}},
            refused=("weld.too_little_metal",),
        ),
    )


def _dressed(piece: Piece, zone: Span, start: Section, end: Section) -> Piece:
    """Return the piece with the metal of a zone worked to run from one section to another."""
    volume = piece.branch(zone.branch).volume_between(zone.low, zone.high)
    one = Segment(start, end, 1.0)
    return piece.reshaped(zone, replace(one, length=volume / one.volume))
