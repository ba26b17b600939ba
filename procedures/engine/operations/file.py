"""File: take metal off cold, to fit, to clean or to sharpen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import hollow_metal, no_metal
from procedures.engine.shaping.setting_down import shift_from

MUCH = 0.10  # of the thickness: from memory
HARDENS = 0.3  # % carbon, from which a steel takes a hard edge: from memory
FACES = {
    "top": "the top",
    "bottom": "the underside",
    "left": "the left edge",
    "right": "the right edge",
    "faces": "both faces",
    "edges": "both edges",
    "all": "all round",
}


class File(Operation):
    """Takes a depth off a face, off two or all round, or files a run down to a section; the metal is lost."""

    id = "file"
    title = "File"
    family = "finish"
    help = "Length stays, the metal is lost. From one face the middle of the bar goes over by half the depth."
    synonyms = ("grind", "fettle", "clean up", "linish", "dress with a file", "sharpen")
    tools = ("vice with soft jaws", "coarse and smooth files")
    power_tools = ("angle grinder or belt grinder",)
    period = "coarse file, grindstone"
    modern = "grinder or belt: quick, and the marks show"
    safety = (
        "A grinder keeps its guard on; wear eye, ear and dust protection.",
        "Never grind galvanised or plated metal without extraction: its dust poisons.",
    )
    one_of = (("depth", "section"),)

    where: Place = declare.place("Where", "The run that is filed; it may be bent.")
    depth: float | None = declare.length("Depth", "What goes off each face that is filed.", required=False)
    face: str = declare.choice("Face", FACES, "With a depth.", default="top")
    section: Section | None = declare.section(
        "Section", "What the run is filed down to, all along.", required=False
    )
    reason: str = declare.text("For", "What it is filed for: to fit, to clean, to sharpen.", limit=100)

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return ()

    # -- what is left ----------------------------------------------------------------------------

    def left(self, segment: Segment) -> Segment:
        """Return what is left of a segment. Raises Unworkable where that cannot be."""
        if self.section is not None:
            slim = replace(segment, start=self.section, end=self.section, bulge=0.0)
            return slim.treated(segment.treatment.skinned(self._deepest(segment)))
        assert self.depth is not None  # one of the two is always given
        if self.face == "all":
            return segment.receded(self.depth)  # its case as well
        try:
            start, end = self._off(segment.start, self.depth), self._off(segment.end, self.depth)
        except SectionError as fault:
            raise Unworkable(
                stop(
                    "file.no_such_face",
                    "{depth:size} cannot be filed off {face} of {section:section}.",
                    hint="File less, or all round, or give the section.",
                    depth=self.depth,
                    face=FACES[self.face],
                    section=segment.widest,
                    field="face",
                    source="geometry",
                )
            ) from fault
        slim = replace(segment, start=start, end=end)
        if self.face in ("faces", "edges"):
            return slim
        shift = shift_from(self.face, self.depth)
        return replace(slim, shift=(segment.aside[0] + shift[0], segment.aside[1] + shift[1]))

    def _deepest(self, segment: Segment) -> float:
        """Return how deep a segment is filed [mm] at the most."""
        if self.section is None:
            return self.depth or 0.0
        old, new = segment.widest, self.section
        return max(old.width - new.width, old.thickness - new.thickness) / 2

    def _off(self, section: Section, depth: float) -> Section:
        gone = 2 * depth if self.face in ("faces", "edges") else depth
        if self.face in ("top", "bottom", "faces"):
            return section.resized(thickness=section.thickness - gone)
        return section.resized(width=section.width - gone)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(no_metal(branch, span)) or list(hollow_metal(branch, span, "where"))
            yield from found
            if not found:
                yield from self._forbidden(branch, span)

    def _forbidden(self, branch: Branch, span: Span) -> Iterator[Finding]:
        for segment in branch.segments_between(span.low, span.high):
            for section in (segment.start, segment.end) if self.section is not None else ():
                if not _fits(self.section, section):
                    yield stop(
                        "file.adds_metal",
                        "{target:section} does not lie within the {present:section} that is there.",
                        hint="A file only takes off: choose a smaller section, or a shorter run.",
                        target=self.section,
                        present=section,
                        field="section",
                        source="geometry",
                    )
                    return
            if self.left(segment).volume <= 0:
                yield stop(
                    "file.nothing_left",
                    "Nothing would be left of {section:section}.",
                    hint="File less, or cut it off.",
                    section=segment.widest,
                    field="depth" if self.section is None else "section",
                    source="geometry",
                )
                return

    def transform(self, piece: Piece) -> Piece:
        before = piece.volume
        for span in self.spans(piece):
            piece = piece.changed(span, self.left)
        return piece.losing("file", before - piece.volume)

    # -- what is said ----------------------------------------------------------------------------

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        old, new = self._thickest(before, self.spans(before)[0]), self._thickest(after, after.worked[0])
        shares = ((old.thickness - new.thickness) / old.thickness, (old.width - new.width) / old.width)
        if max(shares) > MUCH:
            yield caution(
                "file.much_to_take_off",
                "From {old:section} to {new:section} is {share:percent} of a size: that is forging.",
                hint="Forge it near the size, and leave a tenth to the file.",
                old=old,
                new=new,
                share=max(shares),
                field="depth" if self.section is None else "section",
                source="a tenth from memory",
            )
        yield from self._through_case(before)
        if before.material.carbon >= HARDENS:
            yield note(
                "file.softens_an_edge",
                "A hardened edge ground blue is soft again: grind it cool, and dip it often.",
                source="common practice, no source",
            )

    def _through_case(self, before: Piece) -> Iterator[Finding]:
        """Warn of a case that the file goes through."""
        for span in self.spans(before):
            for one in before.branch(span.branch).segments_between(span.low, span.high):
                case, depth = one.treatment.case, self._deepest(one)
                if 0 < case <= depth:
                    yield caution(
                        "file.through_case",
                        "The case is {case:size} deep; filed {depth:size} deep the iron under it is bare.",
                        hint="File it before it is case-hardened, or take less off.",
                        case=case,
                        depth=depth,
                        field="depth" if self.section is None else "section",
                        source="geometry",
                    )
                    return

    def _thickest(self, piece: Piece, span: Span) -> Section:
        return piece.branch(span.branch).largest_between(span.low, span.high)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        words = {
            "run": range_words(before, self.where),
            "gone": before.mass_of(after.lost("file") - before.lost("file")),
        }
        ending = "{why}: {gone:mass} comes off."
        words["why"] = f" {self.reason}" if self.reason else ""
        if self.section is not None:
            return say("File {run} to {section:section}" + ending, section=self.section, **words)
        if self.face == "all":
            return say("File {run} {depth:size} all round" + ending, depth=self.depth, **words)
        off = FACES[self.face]
        return say(f"File {{depth:size}} off {off} of {{run}}" + ending, depth=self.depth, **words)

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("{left:section}, the file marks all one way", left=self._thickest(after, after.worked[0]))

    examples = (
        Example(
            "Half a millimetre off one face of 30 × 6",
            before=bar(Section.flat(30, 6), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "depth": 0.5},
            after=(Result(length=200, worked=80, section=Section.flat(30, 5.5)),),
            lost=9.42,
            source="30 × 0.5 × 80 = 1200 mm³, 9.42 g",
        ),
        Example(
            "All round, along a bend",
            before=bar(Section.round(12), 300),
            first=(
                (
                    "bend",
                    {
                        "where": {"on": "bar", "datum": "centre"},
                        "angle": 90,
                        "inside_radius": 20,
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 0.25, "face": "all"},
            after=(Result(length=300, section=Section.round(11.5)),),
            lost=21.73,
            source="π/4 (12² - 11.5²) × 300 = 2769 mm³, 21.7 g",
        ),
        Example(
            "A pin end fitted to its hole",
            before=bar(Section.square(12), 200),
            params={
                "where": {"on": "bar", "datum": "start", "length": 20},
                "section": {"shape": "round", "diameter": 11.9},
                "reason": "to fit the plate",
            },
            after=(Result(length=200, start=Section.round(11.9)),),
            lost=5.147,
            says=("to fit the plate",),
            source="(144 - π/4 × 11.9²) × 20 = 655.6 mm³, 5.15 g",
        ),
        Example(
            "High-carbon steel, more than a tenth off both edges",
            before=bar(Section.flat(30, 6), 200, material_id="high_carbon"),
            params={
                "where": {"on": "bar", "datum": "end", "length": 80},
                "depth": 2,
                "face": "edges",
            },
            after=(Result(length=200, section=Section.flat(26, 6)),),
            cautions=("file.much_to_take_off", "file.softens_an_edge"),
            lost=15.07,
            source="4 × 6 × 80 = 1920 mm³, 15.07 g",
        ),
        Example(
            "A file adds no metal",
            before=bar(Section.square(12), 200),
            params={
                "where": {"on": "bar", "datum": "start", "length": 20},
                "section": {"shape": "round", "diameter": 12.5},
            },
            refused=("file.adds_metal",),
        ),
        Example(
            "One face of a round is no face",
            before=bar(Section.round(12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 20}, "depth": 0.5},
            refused=("file.no_such_face",),
        ),
        Example(
            "Nothing left is refused",
            before=bar(Section.round(12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 20}, "depth": 6, "face": "all"},
            refused=("file.nothing_left",),
        ),
    )


def _fits(target: Section | None, present: Section) -> bool:
    """Whether a section lies within another, laid on the same middle."""
    if target is None:
        return True
    inside = target.width <= present.width and target.thickness <= present.thickness
    return inside and target.area <= present.area
