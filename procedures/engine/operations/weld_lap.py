"""Lap weld: weld an end of this part to an end of another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import uniform
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import (
    end_taken,
    in_the_way,
    no_such_bar,
    plain_bar,
)
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.joining import Joining
from procedures.engine.shaping.welding_checks import (
    ROOM,
    UPSET,
    fire_welds,
    hot_end,
    mean_area,
    not_scarfed,
    short_lap,
    thin_by_weld,
    unlike_steels,
)


class WeldLap(Operation):
    """Forge-welds an end to an end of another finished part, dressed to one section."""

    id = "weld_lap"
    title = "Lap weld"
    family = "weld"
    help = "The hot zones of both become one run of the dressed section; scale is what the weld costs."
    synonyms = ("fire weld", "scarf weld", "drop-the-tongs weld", "forge weld")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer and anvil face")
    power_tools = ("light blows only, the first by hand",)
    helper = "to bring the second piece, and above 20 mm"
    period = "forge weld, the ordinary joint before about 1900"
    modern = "arc weld, ground and textured"
    safety = (
        "Flux and slag spray at the first blow: eyes and onlookers behind a shield.",
        "Two people name their parts before the iron leaves the fire.",
        "Nothing that lifts or carries people hangs on a weld without its own test.",
    )

    on: str = declare.branch("On", "The branch of this part.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    part: str = declare.part("Other part", "It is finished before this step and comes in whole.")
    part_end: End = declare.choice(
        "End of the other part", {"start": "its start", "end": "its end"}, default="start"
    )
    zone: float = declare.length("Hot zone", "Of this part: the run that goes into the weld.")
    part_zone: float | None = declare.length(
        "Hot zone of the other", "As long as that of this part when left out.", required=False
    )
    dressed: Section = declare.section("Dressed section", "What the weld measures when done.")

    # -- where it is -----------------------------------------------------------------------------

    def other(self, piece: Piece) -> Piece:
        """Return the other part. Raises Unworkable when it is not on the bench."""
        if self.part not in piece.bench:
            raise Unworkable(
                stop(
                    "weld_lap.no_such_part",
                    "Part {part} is not there to be welded on.",
                    hint="Name another part of the procedure.",
                    part=self.part,
                    field="part",
                    source="geometry",
                )
            )
        return piece.bench[self.part]

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        members = piece.members(self.on)
        if len(members) > 1:
            raise Unworkable(
                stop(
                    "weld_lap.one_at_a_time",
                    "{on} has {count:count} members, and one part goes to one of them.",
                    hint="Weld to one branch in each step.",
                    on=self.on,
                    count=len(members),
                    field="on",
                    source="geometry",
                )
            )
        return (hot_end(piece.branch(members[0]), self.end, self.zone, "zone"),)

    def other_zone(self, piece: Piece) -> Span:
        """Return the hot zone of the other part. Raises Unworkable."""
        return hot_end(self.other(piece).root, self.part_end, self.part_zone or self.zone, "part_zone")

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        return {self.part: (self.other_zone(piece),)}

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        other = self.other(piece)
        (span,) = self.spans(piece)
        sides = ((piece, self.end, span, "zone"), (other, self.part_end, self.other_zone(piece), "part_zone"))
        yield from fire_welds(piece, other, field="part")
        for whole, end, zone, field in sides:
            branch = whole.branch(zone.branch)
            yield from end_taken(whole, branch.name, end, "end" if field == "zone" else "part_end")
            for found in plain_bar(branch, zone):
                yield replace(found, field=field)
            holes = holes_between(branch, zone)
            yield from in_the_way(whole, branch, zone, field, holes=holes)
        yield from no_such_bar(piece.branch(span.branch), span, self.dressed, "dressed")
        areas = [mean_area(whole.branch(zone.branch), zone) for whole, _, zone, _ in sides]
        if self.dressed.area > ROOM * sum(areas):
            yield stop(
                "weld_lap.too_little_metal",
                "{dressed:section} is {wanted:area}; the two bars lapped are {there:area}.",
                hint="Dress it smaller, or upset both ends first.",
                dressed=self.dressed,
                wanted=self.dressed.area,
                there=sum(areas),
                field="dressed",
                source="geometry; 2 % from memory",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        other = self.other(before)
        (span,) = self.spans(before)
        far = self.other_zone(before)
        own, theirs = before.branch(span.branch), other.root
        yield from thin_by_weld(own, span)
        yield from thin_by_weld(theirs, far)
        thickness = max(own.section_at(span.low).thickness, theirs.section_at(far.low).thickness)
        yield from short_lap(min(span.length, far.length), thickness, "zone")
        if not (_is_upset(own, span, self.end) or _is_upset(theirs, far, self.part_end)):
            yield note(
                "weld_lap.not_upset",
                "Neither end is upset, so the bar comes out thin beside the weld.",
                hint="Upset both ends by a third before scarfing them.",
                field="on",
                source="Ilgen, Forge Work, 1912; Drew, Farm Blacksmithing, 1918",
            )
        blunt = (not_scarfed(own, (self.end,), "on"), not_scarfed(theirs, (self.part_end,), "part"))
        yield from list(chain(*blunt))[:1]
        yield from unlike_steels(before.material, other.material, "part")

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        (span,) = self.spans(piece)
        far = self.other_zone(piece)
        joining = Joining(span.branch, self.end, self.part, self.part_end)
        piece, seam = joining.brought(piece)
        before, beyond = (span.length, far.length) if self.end == "end" else (far.length, span.length)
        weld = Span(span.branch, seam - before, seam + beyond)
        volume = piece.branch(span.branch).volume_between(weld.low, weld.high)
        run = uniform(self.dressed, volume / self.dressed.area)
        joint = Joint("lap_weld", (Point(span.branch, seam),), f"{self.part} weld", self.part)
        return replace(piece, joints=(*piece.joints, joint)).reshaped(weld, run)

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"part_zone": self.zone}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        hot = say("{zone:length} of each", zone=self.zone)
        if self.part_zone is not None and self.part_zone != self.zone:
            hot = say(
                "{far:length} of the {part} and {zone:length} here",
                far=self.part_zone,
                part=self.part,
                zone=self.zone,
            )
        return say(
            f"Weld the {self.part_end} of the {{part}} to the {self.end} of {{on}}, {{hot}} hot, "
            "and dress the weld to {dressed:section}: it comes to {long:length}.",
            part=self.part,
            on=owner_words(before, self.on),
            hot=hot,
            dressed=self.dressed,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{dressed:section} at the weld, {whole:length} over all",
            dressed=self.dressed,
            whole=after.branch(after.worked[0].branch).length,
        )

    examples = (
        Example(
            "Two □12, 40 of each hot: without scale 400 in all; marks and their names come along",
            before=bar(
                Section.square(12),
                200,
                marks={"A": 100},
                bench={"rod": bar(Section.square(12), 200, name="rod", marks={"A": 100, "B": 150})},
            ),
            params={"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 12}},
            after=(
                Result(
                    length=400,
                    worked=80,
                    section=Section.square(12),
                    marks={"A": 100, "rod A": 300, "B": 350},
                ),
            ),
            lost=0,
            source="volume: (40 + 40) × 144 / 144 = 80; 160 + 80 + 160",
        ),
        Example(
            "With two welding heats: both zones scale, and the weld comes out 5.2 shorter",
            before=bar(Section.square(12), 200, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 12}},
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(length=394.8, worked=74.76, section=Section.square(12)),),
            lost=5.928,
            source="□11.6 after 2 × 0.1 mm a face: 80 × 134.56 / 144 = 74.76; 80 × 9.44 mm³ lost",
        ),
        Example(
            "To the start of the bar, by the end of the other",
            before=bar(
                Section.round(12),
                200,
                marks={"A": 50},
                bench={"tip": bar(Section.round(12), 80, name="tip", marks={"T": 10})},
            ),
            params={
                "on": "bar",
                "end": "start",
                "part": "tip",
                "part_end": "end",
                "zone": 30,
                "dressed": {"shape": "round", "diameter": 12},
            },
            after=(Result(length=280, worked=60, marks={"T": 10, "A": 130}),),
            source="80 + 50 = 130",
        ),
        Example(
            "A section that both bars cannot fill is refused",
            before=bar(Section.square(12), 200, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 20}},
            refused=("weld_lap.too_little_metal",),
        ),
        Example(
            "A zone that holds no metal is refused",
            before=bar(Section.square(12), 200, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={"on": "bar", "part": "rod", "zone": 1e-9, "dressed": {"shape": "square", "side": 12}},
            refused=("weld.no_zone",),
        ),
        Example(
            "A zone longer than the other part is refused",
            before=bar(Section.square(12), 200, bench={"rod": bar(Section.square(12), 30, name="rod")}),
            params={"on": "bar", "part": "rod", "zone": 40, "dressed": {"shape": "square", "side": 12}},
            refused=("weld.zone_too_long",),
        ),
    )


def _is_upset(branch: Branch, zone: Span, end: End) -> bool:
    """Whether the end of a bar is thicker than the bar behind its hot zone."""
    behind, tip = (zone.low, zone.high) if end == "end" else (zone.high, zone.low)
    return branch.section_at(tip).area > UPSET * branch.section_at(behind).area
