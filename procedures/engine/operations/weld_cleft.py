"""Cleft weld: weld an end of another part, or an edge of steel, into a split end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import End
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.bringing import one_branch, other_part
from procedures.engine.shaping.checks import end_taken, in_the_way, no_such_bar, plain_bar
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.joining import Joining
from procedures.engine.shaping.layering import LayerWeld
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    hot_end,
    mean_area,
    not_upset,
    thin_by_weld,
    too_little_metal,
    unlike_steels,
)

_PROUD = (2.0, 3.0)  # mm that an insert stands out of its cleft: from memory
_CHEEK = 3.0  # mm, below which a cheek burns: from memory


class WeldCleft(Operation):
    """Forge-welds a wedge or a strip of steel into the cleft of a split end; both become one run."""

    id = "weld_cleft"
    title = "Cleft weld"
    family = "weld"
    help = (
        "The cleft is cut and opened as part of this step. Bar and insert become one run of the dressed"
        " section, as long as their metal makes it."
    )
    synonyms = ("split weld", "bird-mouth weld", "V weld", "steel an edge", "tongue weld", "lay in steel")
    heat = (1200, 1300)
    usual_heats = (2, 1)
    usual_welding_heats = 2
    tools = ("hot chisel or set for the cleft", "flux", "clean deep fire", "hammer and anvil face")
    power_tools = ("light blows only, the first by hand",)
    helper = "to hold the insert and to strike"
    period = "forge weld, the usual way to steel an edge or to join heavy bar"
    modern = "solid tool steel, or arc weld"
    safety = (FLUX, "Drive the insert home before the heat, so that it cannot fall out in the fire.", CODED)

    on: str = declare.branch("On", "The bar that is split.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    cleft: float = declare.length("Depth of the cleft", "How far the end is split.")
    part: str = declare.part("Insert", "The other part, finished before this step.")
    part_end: End = declare.choice(
        "End of the insert", {"start": "its start", "end": "its end"}, default="start"
    )
    part_zone: float | None = declare.length(
        "Length welded of the insert", "All of it when left out, as for an edge of steel.", required=False
    )
    dressed: Section = declare.section("Dressed section", "What the weld measures when done.")

    # -- where it is -----------------------------------------------------------------------------

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return (hot_end(one_branch(piece, self.on), self.end, self.cleft, "cleft"),)

    def other_zone(self, piece: Piece) -> Span:
        """Return the run of the insert that goes into the weld. Raises Unworkable."""
        root = other_part(piece, self.part).root
        return hot_end(root, self.part_end, self.part_zone or root.length, "part_zone")

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        return {self.part: (self.other_zone(piece),)}

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        other, far = other_part(piece, self.part), self.other_zone(piece)
        (span,) = self.spans(piece)
        yield from fire_welds(piece, other, field="part")
        sides = ((piece, self.end, span, "cleft"), (other, self.part_end, far, "part_zone"))
        for whole, end, zone, field in sides:
            branch = whole.branch(zone.branch)
            yield from end_taken(whole, branch.name, end, "end" if field == "cleft" else "part_end")
            for found in plain_bar(branch, zone):
                yield replace(found, field=field)
            holes = holes_between(branch, zone)
            yield from in_the_way(whole, branch, zone, field, holes=holes, welds=True)
        if self.part_zone is None:
            rest: End = "end" if self.part_end == "start" else "start"
            yield from end_taken(other, other.root.name, rest, "part")
        own = piece.branch(span.branch)
        yield from no_such_bar(own, span, self.dressed, "dressed")
        yield from too_little_metal(self.dressed, mean_area(own, span) + mean_area(other.root, far))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        other, far = other_part(before, self.part), self.other_zone(before)
        (span,) = self.spans(before)
        own = before.branch(span.branch)
        cheek = (own.section_at(span.low).thickness - other.root.section_at(far.low).thickness) / 2
        whole = own.section_at(span.low).thickness / 2
        if whole < _CHEEK:
            yield caution(
                "weld_cleft.thin_cheeks",
                "Each cheek of the cleft is only {cheek:size} thick: it burns before the insert welds.",
                hint="Upset the end first, until half of it is {least:size}.",
                cheek=whole,
                least=_CHEEK,
                field="on",
                source="3 mm from memory",
            )
        if cheek <= 0:
            yield note(
                "weld_cleft.wide_insert",
                "The insert is as thick as the bar: its cleft opens wide.",
                hint="Draw it to a wedge first.",
                field="part",
                source="common practice, no source",
            )
        yield from self._proud(far.length - span.length)
        yield from not_upset(own, (span,), "on")
        yield from thin_by_weld(own, span)
        yield from unlike_steels(before.material, other.material, "part")
        yield from heat_band(other.material, self.heat)

    def _proud(self, proud: float) -> Iterator[Finding]:
        if self.part_zone is None and proud < _PROUD[0]:
            yield caution(
                "weld_cleft.insert_short",
                "The insert stands {proud:length} out of the cleft.",
                hint="Let it stand out {least:length} to {most:length}, so that the edge is all steel.",
                proud=proud,
                least=_PROUD[0],
                most=_PROUD[1],
                field="part",
                source="2 to 3 mm from memory",
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        (span,) = self.spans(piece)
        far = self.other_zone(piece)
        piece, seam = Joining(span.branch, self.end, self.part, self.part_end).brought(piece)
        branch = piece.branch(span.branch)
        at_end, old = self.end == "end", branch.length
        seen, begins = (branch, seam) if at_end else (branch.turned(), old - seam)
        weld = LayerWeld(begins - span.length, begins, begins + far.length)
        new, move = weld.welded(seen, self.dressed)
        length = new.length
        piece = piece.with_branch(new if at_end else new.turned())
        piece = piece.carrying(branch.name, move if at_end else lambda at: length - move(old - at))
        low, high = weld.low, weld.low + length - old + span.length + far.length
        worked = Span(branch.name, low, high) if at_end else Span(branch.name, length - high, length - low)
        middle = Point(branch.name, (worked.low + worked.high) / 2)
        joint = Joint("cleft_weld", (middle,), f"{self.part} weld", self.part)
        return replace(piece, joints=(*piece.joints, joint), worked=(worked,))

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        (span,) = self.spans(before)
        return say(
            f"Split {{cleft:length}} of the {self.end} of {{on}}, open it, set in {{zone:length}} of "
            "the {part} to the bottom and close the cheeks on it; weld, and dress to {dressed:section}: "
            "it comes to {long:length}.",
            cleft=span.length,
            on=owner_words(before, self.on),
            zone=self.other_zone(before).length,
            part=self.part,
            dressed=self.dressed,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{dressed:section} along {long:length}, and no dark line along the cheeks",
            dressed=self.dressed,
            long=worked_length(after),
        )

    examples = (
        Example(
            "An edge of 25 × 3 × 35 in a cleft of 30 in 25 × 8: a zone of 43.1, 13.1 longer",
            before=bar(
                Section.flat(25, 8),
                200,
                marks={"A": 185},
                bench={"steel": bar(Section.flat(25, 3), 35, name="steel")},
            ),
            params={
                "on": "bar",
                "cleft": 30,
                "part": "steel",
                "dressed": {"shape": "flat", "width": 25, "thickness": 8},
            },
            after=(Result(length=213.1, worked=43.13, section=Section.flat(25, 8), marks={"A": 190.6}),),
            lost=0,
            source="(30 × 200 + 35 × 75) / 200 = 43.13; half of the cleft's metal lies in half of 41.25",
        ),
        Example(
            "With two welding heats bar and steel both scale",
            before=bar(Section.flat(25, 8), 200, bench={"steel": bar(Section.flat(25, 3), 35, name="steel")}),
            params={
                "on": "bar",
                "cleft": 30,
                "part": "steel",
                "dressed": {"shape": "flat", "width": 25, "thickness": 8},
            },
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(worked=39.24),),
            lost=6.1,
            source="24.6 × 7.6 × 30 + 24.6 × 2.6 × 35 = 7847.4; / 200 = 39.24",
        ),
        Example(
            "A wedge on the start of a long bar goes into a bird's mouth",
            before=bar(
                Section.round(25),
                300,
                marks={"A": 100},
                bench={"shaft": bar(Section.round(25), 250, name="shaft", marks={"S": 200})},
            ),
            params={
                "on": "bar",
                "end": "start",
                "cleft": 30,
                "part": "shaft",
                "part_end": "end",
                "part_zone": 40,
                "dressed": {"shape": "round", "diameter": 25},
            },
            after=(Result(length=550, worked=70, marks={"A": 350, "S": 200}),),
            source="volume: 300 + 250",
        ),
        Example(
            "Cheeks of thin bar burn",
            before=bar(Section.flat(25, 5), 200, bench={"steel": bar(Section.flat(25, 3), 30, name="steel")}),
            params={
                "on": "bar",
                "cleft": 30,
                "part": "steel",
                "dressed": {"shape": "flat", "width": 25, "thickness": 6},
            },
            after=(Result(worked=40),),
            cautions=("weld_cleft.thin_cheeks", "weld_cleft.insert_short"),
            source="(30 × 125 + 30 × 75) / 150 = 40",
        ),
        Example(
            "A section that bar and insert cannot fill is refused",
            before=bar(Section.flat(25, 8), 200, bench={"steel": bar(Section.flat(25, 3), 35, name="steel")}),
            params={
                "on": "bar",
                "cleft": 30,
                "part": "steel",
                "dressed": {"shape": "flat", "width": 25, "thickness": 12},
            },
            refused=("weld.too_little_metal",),
        ),
        Example(
            "A cleft deeper than the bar is refused",
            before=bar(Section.flat(25, 8), 20, bench={"steel": bar(Section.flat(25, 3), 35, name="steel")}),
            params={
                "on": "bar",
                "cleft": 30,
                "part": "steel",
                "dressed": {"shape": "flat", "width": 25, "thickness": 8},
            },
            refused=("weld.zone_too_long",),
        ),
    )
