"""Head: upset a bolt, nail or rivet head on an end, in a bolster."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import sqrt
from typing import Any

from calculators.formulas.head_stock import FREE_LENGTH
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import holes_worked
from procedures.engine.shaping.ends import EndWorking, root_section, section_behind
from procedures.engine.shaping.heads import FORMS, ROUGH, HeadForm
from procedures.engine.sketch import Sketch

_CLEARANCE = 0.4  # mm of the bolster's hole over the shank; 0.3 to 0.5 from memory
_AT_ONCE = 1.5  # times the thickness in one gathering, where more than three thicknesses stand free
_SAID = {"dome": "domed"}


class Head(EndWorking):
    """Gathers the end of a shank into a head; the bar it takes follows from its metal."""

    id = "head"
    title = "Head"
    family = "move"
    help = (
        "A rough square or hexagon head is 1½ times the shank and 3.2 mm (1/8 in) across flats, and half of"
        " that high: leave both out for that. A dome is reckoned as the cut cone that holds its metal, a rose"
        " head as a low pyramid."
    )
    synonyms = ("bolt head", "nail head", "rivet head", "heading", "boss end")
    heat = (1100, 1250)
    usual_heats = (3, 1)
    tools = ("bolster (heading tool)", "hammer", "cupping tool to finish the top")
    power_tools = ("a bolster on the lower die, for light blows",)
    helper = "to hold the bolster, or to strike"
    period = "upset in a header, or a collar welded on"
    modern = "bought bolts and rivets"
    safety = (
        "A hot shank stuck in the bolster is knocked out downward, over a clear floor.",
        "The shank hangs out below and is as hot: mind the legs.",
    )

    form: str = declare.choice("Form", FORMS, default="square")
    size: float | None = declare.length(
        "Across", "Across flats, diameter, or the length of a tee.", required=False
    )
    height: float | None = declare.length("Height", required=False)
    thickness: float | None = declare.length(
        "Thickness of the tee", "As thick as the shank when left out.", required=False
    )
    chamfer: float = declare.length(
        "Chamfer", "At 45° round the top of a square, hexagon or round head.", least=0, default=0.0
    )
    mark: str = declare.name("Mark under the head", "Put there for later steps.", default="shoulder")

    @property
    def plan(self) -> HeadForm:
        """The head to be made."""
        return HeadForm(self.form, self.size, self.height, self.thickness, self.chamfer)

    def outcome(self, root: Section) -> tuple[Segment, ...]:
        for found in self.plan.problems(root):
            raise Unworkable(found)
        return self.plan.segments(root)

    def too_short(self, branch: Branch, root: Section) -> Finding:
        return stop(
            "head.not_enough_bar",
            "The head holds {needed:volume}; all of {branch} holds {there:volume}.",
            hint="Make it smaller.",
            needed=sum(one.volume for one in self.plan.segments(root)),
            branch=branch.said,
            there=sum(one.volume for one in branch.segments),
            field="size",
            source="geometry",
        )

    # -- checks ----------------------------------------------------------------------------------

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch = before.branch(before.members(self.on)[0])
        span = self.run(branch)
        root = root_section(branch, self.end, span)
        thick = min(root.thickness, root.width)
        growth = sqrt(self.plan.section(root).area / root.area)
        if span.length > FREE_LENGTH * thick:
            more = growth > _AT_ONCE
            yield caution(
                "head.gathers_in_two",
                "{used:length} of bar stands free, more than three times its thickness: it bends"
                + (", and it gets {growth:number} times as thick." if more else "."),
                hint="Gather it in two goes, straightening between, or weld a collar on.",
                used=self._used(before, after),
                field="size" if self.size is not None else "form",
                source="Forging Industry Association, machine heading: 3 diameters, beyond them 1½ at once",
                **({"growth": round(growth, 2)} if more else {}),
            )
        yield from self._proportion(root)
        yield from holes_worked(before, [span])

    def _proportion(self, root: Section) -> Iterator[Finding]:
        usual = HeadForm(self.form).across(root)
        if self.form in ROUGH and self.size is not None and self.size < 0.9 * usual:
            yield note(
                "head.smaller_than_usual",
                "A rough head on this shank is {usual:size} across flats; this one is {size:size}.",
                usual=usual,
                size=self.size,
                field="size",
                source="Shop Practice, volume 1, Bolts; Ilgen, Forge Work, 1912, tables, item 4",
                mend={"size": round(usual, 2)},
            )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        branch = before.branch(before.members(self.on)[0])
        root = root_section(branch, self.end, self.run(branch))
        found = {}
        if self.size is None:
            found["size"] = self.plan.across(root)
        if self.height is None:
            found["height"] = self.plan.high(root)
        return found

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        return self.worked_ends(piece, self.mark)

    def _made(self, after: Piece) -> tuple[Section, Section, float]:
        """Return (shank, widest section, height [mm]) of the first finished head."""
        span = after.worked[0]
        branch = after.branch(span.branch)
        shank = section_behind(branch, self.end, span)
        return shank, branch.largest_between(span.low, span.high), span.length

    def _used(self, before: Piece, after: Piece) -> float:
        """Return how much bar [mm] went into the first head: more than before the fire took its share."""
        span = after.worked[0]
        return before.branch(span.branch).length - after.branch(span.branch).length + span.length

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        shank, section, height = self._made(after)
        bore = max(shank.width, shank.thickness) + _CLEARANCE
        form = _SAID.get(self.form, self.form)
        return say(
            f"Upset {{used:length}} of the {self.end} of {{on}} into a {form} head, "
            "{section:section} and {height:size} high, in a bolster bored {bore:size}.",
            used=self._used(before, after),
            on=owner_words(before, self.on),
            section=section,
            height=height,
            bore=bore,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        shank, section, height = self._made(after)
        return say(
            "Head {section:section}, {height:size} high, square to the shank and in its middle; "
            "{shank:section} under it",
            section=section,
            height=height,
            shank=shank,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)

    examples = (
        Example(
            "□20 × 10 on ø12: 35.4 of bar, just under three thicknesses",
            before=bar(Section.round(12), 150, marks={"M": 80}),
            params={"on": "bar", "size": 20, "height": 10},
            after=(
                Result(
                    length=124.6, worked=10, section=Section.square(20), marks={"M": 80, "shoulder": 114.6}
                ),
            ),
            says=("Upset 35.4 mm of the end", "bored 12.4 mm"),
            source="20² × 10 / (π/4 × 12²) = 35.4; 35.4 / 12 = 2.95",
        ),
        Example(
            "A ¾ in bolt by the trade's proportions: 1¼ in across, 5/8 in high, from 2.21 in of bar",
            before=bar(Section.round(19.05), 200),
            params={"on": "bar"},
            after=(Result(length=200 - 56.15 + 15.875, worked=15.875, section=Section.square(31.75)),),
            source="Shop Practice, volume 1, Bolts: 0.9766 in³ / 0.4418 in² = 2.21 in (2.22 with 0.44)",
        ),
        Example(
            "A hexagon head with a chamfer, at the start, scale on",
            before=bar(Section.round(16), 200),
            params={
                "on": "bar",
                "end": "start",
                "form": "hexagon",
                "size": 27,
                "height": 12,
                "chamfer": 2,
            },
            heats=2,
            scale=0.05,
            after=(Result(worked=12, start=Section.hexagon(23), length=174.3, marks={"shoulder": 12}),),
            says=("Upset 37.7 mm of the start",),
            source="(631.33 × 10 + 2 × (631.33 + 537.8 + 458.1) / 3) / 196.07 of ø15.8 = 37.73",
        ),
        Example(
            "A rivet's domed head holds its cap's metal",
            before=bar(Section.round(10), 100),
            params={"on": "bar", "form": "dome", "size": 16, "height": 7},
            after=(Result(length=95.7, worked=7, start=Section.round(10)),),
            source="cap 7 × π/6 × (3 × 8² + 7²) = 883.3, of π/4 × 10² of bar: 11.25, which is 1.125 d",
        ),
        Example(
            "A nail's rose head on a square shank",
            before=bar(Section.square(6), 80),
            params={"on": "bar", "form": "rose", "size": 16, "height": 5},
            after=(Result(length=73.1, worked=5, end=Section.point()),),
            source="16² × 5 / 3 / 6² = 11.85",
        ),
        Example(
            "More than three thicknesses of bar are cautioned",
            before=bar(Section.round(10), 200),
            params={"on": "bar", "size": 20, "height": 10},
            after=(Result(worked=10),),
            cautions=("head.gathers_in_two",),
            source="20² × 10 / 78.54 = 50.9",
        ),
        Example(
            "A tee as thick as its bar",
            before=bar(Section.flat(12, 8), 150),
            params={"on": "bar", "form": "tee", "size": 40, "height": 10},
            after=(Result(length=126.7, worked=10, section=Section.flat(40, 8)),),
            source="40 × 8 × 10 / 96 = 33.3",
        ),
        Example(
            "A head no larger than its shank is refused",
            before=bar(Section.round(20), 200),
            params={"on": "bar", "form": "round", "size": 18, "height": 6},
            refused=("head.no_larger",),
        ),
        Example(
            "A dome higher than half a ball is refused",
            before=bar(Section.round(10), 200),
            params={"on": "bar", "form": "dome", "size": 16, "height": 12},
            refused=("head.dome_too_high",),
        ),
        Example(
            "A domed head without its sizes is refused",
            before=bar(Section.round(10), 200),
            params={"on": "bar", "form": "dome", "size": 16},
            refused=("head.size_missing",),
        ),
    )
