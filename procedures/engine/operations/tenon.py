"""Tenon: reduce an end to a pin with a shoulder, to go through another part."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import holes_worked
from procedures.engine.shaping.ends import EndWorking, root_section, section_behind
from procedures.engine.sketch import Sketch

SHOULDERS = {"square": "square", "bevelled": "bevelled at 45°"}
_LEAST, _MOST = 0.5, 0.7  # of the bar's thickness: common practice
_LEDGE = 1 / 8  # of the bar's thickness: from memory
_LONGEST = 4.0  # thicknesses of the tenon: from memory
_ROOM = 1.02  # how far a tenon may exceed the bar, as sections are measured: from memory


class Tenon(EndWorking):
    """Draws an end down to a pin of one section; the bar used follows from its metal."""

    id = "tenon"
    title = "Tenon"
    family = "move"
    help = (
        "Length: the grip, and what is to be headed or wedged. Make the hole for it hot and to its hot size:"
        " both shrink about 1 % as they cool."
    )
    synonyms = ("riveted tenon", "spigot", "shank", "pin end", "stub tenon")
    heat = (1000, 1150)
    usual_heats = (2, 1)
    tools = ("spring fuller or set hammer", "swages", "monkey tool to square the shoulder")
    power_tools = ("spring fuller", "tenon swages under the hammer")
    helper = "with hand swages"
    period = "fuller, set hammer and swages, the shoulder squared in the monkey tool"
    modern = "turned in a lathe"
    safety = (
        "Cropped tenon ends fall hot: keep feet and floor clear.",
        "A tenon stuck in the monkey tool is cooled, not prised.",
    )

    section: Section = declare.section("Tenon section", "What the pin measures when done.")
    length: float = declare.length("Tenon length", "From its shoulder to its end.")
    shoulder: str = declare.choice("Shoulder", SHOULDERS, default="square")
    mark: str = declare.name("Mark at the shoulder", "Put there for later steps.", default="shoulder")

    # -- what comes of it ------------------------------------------------------------------------

    def ledge(self, root: Section) -> float:
        """Return how wide [mm] the shoulder stands out on the bar's broader step."""
        wide = (root.width - self.section.width) / 2
        return max(wide, (root.thickness - self.section.thickness) / 2)

    def outcome(self, root: Section) -> tuple[Segment, ...]:
        pin = uniform(self.section, self.length)
        bevel = self.ledge(root)
        if self.shoulder == "square" or bevel <= 0:
            return (pin,)
        return Segment(root, self.section, bevel), pin

    def too_short(self, branch: Branch, root: Section) -> Finding:
        return stop(
            "tenon.not_enough_bar",
            "A tenon of {section:section}, {long:length} long, holds more metal than {branch} does.",
            hint="Make it shorter or thinner.",
            section=self.section,
            long=self.length,
            branch=branch.said,
            field="length",
            source="geometry",
        )

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.section.area <= 0:
            yield stop(
                "tenon.no_pin",
                "A tenon of {section:section} is no pin.",
                hint="Give a round, a square or a flat.",
                section=self.section,
                field="section",
                source="geometry",
            )
            return
        yield from super().problems(piece)
        for name in piece.members(self.on):
            branch = piece.branch(name)
            root = root_section(branch, self.end, self.run(branch))
            over = self.section.width > _ROOM * root.width or self.section.thickness > _ROOM * root.thickness
            if over or self.section.area >= root.area or self.section.bore:
                yield stop(
                    "tenon.no_shoulder",
                    "A tenon of {section:section} leaves no shoulder on {root:section}.",
                    hint="Make it thinner; half to 0.7 of the bar is usual.",
                    section=self.section,
                    root=root,
                    field="section",
                    source="geometry; 2 % from memory",
                )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch = before.branch(before.members(self.on)[0])
        root = root_section(branch, self.end, self.run(branch))
        thick = min(root.thickness, root.width)
        pin = min(self.section.thickness, self.section.width)
        share = min(self.section.thickness / root.thickness, self.section.width / root.width)
        if self.ledge(root) < _LEDGE * thick:
            yield caution(
                "tenon.small_shoulder",
                "The shoulder stands out only {ledge:size}: it cannot seat.",
                hint="Leave at least {least:size}, or upset the bar there first.",
                ledge=self.ledge(root),
                least=_LEDGE * thick,
                field="section",
                source="an eighth of the thickness from memory",
            )
        elif not _LEAST <= share <= _MOST:
            yield caution(
                "tenon.out_of_proportion",
                "The tenon is {share:number} of the bar's thickness; 0.5 to 0.7 is usual.",
                hint="Thinner it breaks off, thicker it leaves a weak shoulder.",
                share=share,
                field="section",
                source="common practice, no source",
            )
        if self.length > _LONGEST * pin:
            yield caution(
                "tenon.long",
                "A tenon {long:length} long, more than four times its thickness, bends in the monkey tool.",
                hint="Keep it to {most:length}, or let the mating part guide it.",
                long=self.length,
                most=_LONGEST * pin,
                field="length",
                source="4 thicknesses from memory",
            )
        yield from holes_worked(before, self.spans(before))

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        return self.worked_ends(piece, self.mark)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        branch = before.branch(before.members(self.on)[0])
        span = self.run(branch)
        return say(
            "Draw {used:length} of the {end} of {on} down to a tenon {section:section}, {long:length} long, "
            f"and set its shoulder {self.shoulder}.",
            used=span.length,
            end=self.end,
            on=owner_words(before, self.on),
            section=self.section,
            long=self._pin(after),
        )

    def _pin(self, after: Piece) -> float:
        """Return the length [mm] of the first finished pin, without a bevel."""
        span = after.worked[0]
        run = after.branch(span.branch).segments_between(span.low, span.high)
        bevelled = self.shoulder == "bevelled" and len(run) > 1
        bevel = run[0] if self.end == "end" else run[-1]
        return worked_length(after) - (bevel.length if bevelled else 0.0)

    def _root(self, after: Piece) -> Section:
        """Return the section of the bar behind the first finished tenon."""
        span = after.worked[0]
        return section_behind(after.branch(span.branch), self.end, span)

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{section:section} along all {long:length}, the shoulder {ledge:size} and true all round; it "
            "goes into its hole",
            section=self.section,
            long=self._pin(after),
            ledge=self.ledge(self._root(after)),
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)

    examples = (
        Example(
            "□16 to a pin ø10, 25 long: 7.7 of bar, a ledge of 3.0",
            before=bar(Section.square(16), 200, marks={"M": 100}),
            params={"on": "bar", "section": {"shape": "round", "diameter": 10}, "length": 25},
            after=(
                Result(
                    length=217.3,
                    worked=25,
                    section=Section.round(10),
                    marks={"M": 100, "shoulder": 192.3},
                ),
            ),
            says=("Draw 7.7 mm of the end", "the shoulder 3 mm"),
            source="π/4 × 10² × 25 / 16² = 7.67; (16 - 10) / 2 = 3.0",
        ),
        Example(
            "At the start, with scale on: the same pin takes a little more bar",
            before=bar(Section.square(12), 108, marks={"M": 100}),
            params={
                "on": "bar",
                "end": "start",
                "section": {"shape": "round", "diameter": 7},
                "length": 26.5,
            },
            heats=2,
            scale=0.03,
            after=(Result(length=127.3, worked=26.5, marks={"shoulder": 26.5, "M": 119.3}),),
            says=("Draw 7.2 mm of the start",),
            source="π/4 × 7² × 26.5 = 1019.9; by 11.88² = 141.13 of bar after 2 × 0.03 a face: 7.23",
        ),
        Example(
            "A bevelled shoulder holds metal of its own",
            before=bar(Section.round(20), 200),
            params={
                "on": "bar",
                "section": {"shape": "round", "diameter": 12},
                "length": 30,
                "shoulder": "bevelled",
            },
            after=(Result(length=220.6, worked=34, end=Section.round(12), marks={"shoulder": 186.6}),),
            source="cone 4 × π/12 × (20² + 20 × 12 + 12²) = 821; (821 + 3392.9) / 314.16 = 13.41",
        ),
        Example(
            "A pin almost as thick as the bar, and long, is cautioned",
            before=bar(Section.square(12), 300),
            params={"on": "bar", "section": {"shape": "square", "side": 10}, "length": 45},
            after=(Result(worked=45),),
            cautions=("tenon.small_shoulder", "tenon.long"),
        ),
        Example(
            "A pin thicker than the bar is refused",
            before=bar(Section.square(12), 300),
            params={"on": "bar", "section": {"shape": "round", "diameter": 14}, "length": 20},
            refused=("tenon.no_shoulder",),
        ),
        Example(
            "A pin with more metal than the bar is refused",
            before=bar(Section.square(16), 20),
            params={"on": "bar", "section": {"shape": "round", "diameter": 10}, "length": 90},
            refused=("tenon.not_enough_bar",),
        ),
    )
