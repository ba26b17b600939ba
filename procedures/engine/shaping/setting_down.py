"""Setting metal down: a run is made thinner behind a ledge, from one side, from two, or all round.

From one side the far face stays flush, so the centreline of the run goes over by half of what was taken. The
metal of the fillet in the ledge's corner is not reckoned.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import hypot
from typing import Any, ClassVar, Literal

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Operation, worked_length
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Branch, End, Mark
from procedures.engine.pieces.path import Plane
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import TOUCH, uniform
from procedures.engine.place_words import range_words

from .checks import holes_worked, no_such_bar, pair_alike, plain_bar, thin_end

Sides = Literal["one", "two", "all"]
Face = Literal["top", "bottom", "left", "right"]
SIDES = {"one": "one side", "two": "two sides, opposite each other", "all": "all round"}
FACES = {"top": "the top", "bottom": "the underside", "left": "the left edge", "right": "the right edge"}
BEHIND: dict[str, Face] = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
HEAVY = 0.5  # of the thickness, from one side: from memory
_SEVERAL = 2  # heats, with which a deep ledge is set in without tearing: common practice, no source


def size_through(section: Section, face: str) -> float:
    """Return the size [mm] of a section from one of FACES to the one behind it."""
    return section.thickness if face in ("top", "bottom") else section.width


def shift_from(face: str, taken: float) -> tuple[float, float]:
    """Return how far the centre goes to the left and up [mm] when so much [mm] is taken from one face."""
    half = taken / 2
    return {"top": (0.0, -half), "bottom": (0.0, half), "left": (-half, 0.0), "right": (half, 0.0)}[face]


def reduced(section: Section, sides: str, face: str, size: float) -> Section:
    """Return a section brought to a size [mm] through a face; all round, every side goes in as far.

    Raises SectionError where it has no faces of its own, or goes in by more than there is.
    """
    if sides != "all":
        return section.resized(thickness=size) if face in ("top", "bottom") else section.resized(width=size)
    taken = section.thickness - size
    if section.shape in ("flat", "square", "rounded_flat", "chamfered_flat"):
        return section.resized(width=section.width - taken, thickness=size)
    return section.scaled(size / section.thickness)


class SettingDown(Operation):
    """What the operations have in common that set metal down behind a ledge."""

    one_of = (("target", "thickness"),)

    where: Place = declare.place("Where", "The run that is made thinner: the ledge is left at its end.")
    target: Section | None = declare.section(
        "Target section", "What the run measures when done.", required=False
    )
    thickness: float | None = declare.length(
        "Thickness left",
        "From the face that is worked to the one behind it; nothing else changes. All round, every side goes"
        " in as far.",
        required=False,
    )
    sides: Sides = declare.choice("Worked from", SIDES, default="all")
    face: Face = declare.choice(
        "Face",
        FACES,
        "The one that is worked; with two sides, this one and the one behind it.",
        default="top",
    )
    mirrored: bool = declare.flag(
        "Mirrored", "Every second member of a group is worked from the opposite face."
    )
    mark: str | None = declare.name("Mark the ledge", "A name for it, for later steps.", required=False)

    least_radius: ClassVar[float] = 0.0  # mm, below which its corner is a cold shut
    radius_field: ClassVar[str] = ""

    @property
    def radius(self) -> float:
        """The radius in the corner of the ledge [mm]."""
        return 0.0

    def ledge_at(self, piece: Piece, span: Span) -> End:
        """Return the end of the run at which the ledge is left.

        It is the one away from where the run is measured, if there is bar beyond it, or else the other.
        Raises Unworkable where the run is all there is.
        """
        branch = piece.branch(span.branch)
        goes_on = {
            "start": span.low > TOUCH
            or branch.attached is not None
            or bool(piece.children(branch.name, "start")),
            "end": span.high < branch.length - TOUCH or bool(piece.children(branch.name, "end")),
        }
        away: dict[str, End] = {"start": "end", "end": "start", "mark": "end"}
        first = away.get(self.where.datum, "start")
        if self.where.datum == "mark" and self.where.toward == "start":
            first = "start"
        other: End = "start" if first == "end" else "end"
        for end in (first, other):
            if goes_on[end]:
                return end
        raise Unworkable(
            stop(
                f"{self.id}.no_bar_left",
                "The run is all of {branch}: nothing stays thick to leave a ledge.",
                hint="Choose a shorter run, or draw it out instead.",
                branch=branch.said,
                field="where",
                source="geometry",
            )
        )

    def present(self, piece: Piece, span: Span) -> Section:
        """Return the section of the run at the ledge, as it is before the step."""
        first, last = piece.branch(span.branch).sections_between(span.low, span.high)
        return first if self.ledge_at(piece, span) == "start" else last

    def made_of(self, section: Section) -> Section:
        """Return what the run becomes. Raises Unworkable where that cannot be."""
        if self.target is not None:
            return self.target
        assert self.thickness is not None  # one of the two is always given
        try:
            return reduced(section, self.sides, self.face, self.thickness)
        except SectionError as fault:
            raise Unworkable(
                stop(
                    f"{self.id}.no_faces",
                    "{section:section} cannot be brought to {thickness:size} by its faces alone.",
                    hint="Give the target section.",
                    section=section,
                    thickness=self.thickness,
                    field="thickness",
                    source="geometry",
                )
            ) from fault

    def taken(self, before: Section, after: Section) -> float:
        """Return by how much [mm] the run gets thinner through the face worked."""
        return size_through(before, self.face) - size_through(after, self.face)

    def ledge(self, before: Section, after: Section) -> float:
        """Return the height [mm] of the ledge on each side that is worked."""
        taken = self.taken(before, after)
        return taken if self.sides == "one" else taken / 2

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(plain_bar(branch, span))
            yield from found
            if not found:
                yield from self._forbidden(branch, span, self.present(piece, span))

    def _forbidden(self, branch: Branch, span: Span, present: Section) -> Iterator[Finding]:
        field = "target" if self.target is not None else "thickness"
        after = self.made_of(present)
        found = list(no_such_bar(branch, span, after, field))
        yield from found
        if found:
            return
        there = branch.volume_between(span.low, span.high) / span.length
        if after.area > 1.02 * there:
            yield stop(
                f"{self.id}.not_smaller",
                "{after:section} holds more metal than the {present:section} that is there.",
                hint="Choose a smaller section, or upset first.",
                after=after,
                present=present,
                field=field,
                source="geometry; 2 % from memory",
            )
        elif self.taken(present, after) <= 0:
            yield stop(
                f"{self.id}.no_ledge",
                "From {present:section} to {after:section} leaves no ledge on {face}.",
                hint="Give less than {limit:size} there, or choose another face.",
                present=present,
                after=after,
                face=FACES[self.face],
                limit=size_through(present, self.face),
                field=field,
                source="geometry",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        spans = self.spans(before)
        present, made = self.present(before, spans[0]), self.section_after(after)
        taken, through = self.taken(present, made), size_through(present, self.face)
        if self.radius < self.least_radius:
            yield caution(
                f"{self.id}.sharp_corner",
                "A corner of {radius:length} in the ledge starts a cold shut.",
                hint="Round the edge that makes it to {least:length} at least.",
                radius=self.radius,
                least=self.least_radius,
                field=self.radius_field,
                mend={self.radius_field: self.least_radius},
                source="from memory",
            )
        if self.sides == "one" and taken > HEAVY * through:
            yield caution(
                f"{self.id}.shears_the_fibres",
                "{taken:size} of {through:size} goes from one side: in one heat that shears the fibres.",
                hint="Take it in several heats, or from two sides.",
                enough_heats=_SEVERAL,
                taken=taken,
                through=through,
                field="sides",
                source="half the thickness from memory",
            )
        if self.sides == "one":
            span = after.worked[0]
            run = after.branch(span.branch).segments_between(span.low, span.high)[0].aside
            old = before.branch(span.branch).segments_between(spans[0].low, spans[0].high)
            bar = (old[0] if self.ledge_at(before, spans[0]) == "start" else old[-1]).aside
            yield note(
                f"{self.id}.off_centre",
                "The thin run lies {off:size} off the middle of the bar, flush with {behind}.",
                hint="Work it from two sides, or set it over afterwards, where it must lie in the middle.",
                off=hypot(run[0] - bar[0], run[1] - bar[1]),
                behind=FACES[BEHIND[self.face]],
                field="sides",
                source="geometry",
            )
            plane: Plane = "easy" if self.face in ("top", "bottom") else "hard"
            yield from pair_alike(before, self.where.on, plane, self.mirrored)
        yield from thin_end(made, "target" if self.target is not None else "thickness")
        yield from holes_worked(before, spans)

    # -- making and words ------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        for index, span in enumerate(self.spans(piece)):
            branch = piece.branch(span.branch)
            present, end = self.present(piece, span), self.ledge_at(piece, span)
            made = self.made_of(present)
            run = uniform(made, branch.volume_between(span.low, span.high) / made.area)
            if self.sides == "one":
                old = branch.segments_between(span.low, span.high)
                left, up = (old[0] if end == "start" else old[-1]).aside
                face = BEHIND[self.face] if self.mirrored and index % 2 else self.face
                more = shift_from(face, self.taken(present, made))
                run = replace(run, shift=(left + more[0], up + more[1]))
            piece = piece.reshaped(span, run)
            if self.mark:
                at = span.low if end == "start" else span.low + run.length
                piece = piece.marked(span.branch, Mark(self.mark, at))
        return piece

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        made = self.section_after(after)
        return {"target": made, "thickness": size_through(made, self.face)}

    def section_after(self, after: Piece) -> Section:
        """Return the section of the (first) finished run."""
        span = after.worked[0]
        return after.branch(span.branch).sections_between(span.low, span.high)[0]

    @property
    def sides_words(self) -> dict[str, str]:
        """The face worked, the one behind it, and what is to be said of a pair."""
        pair = ", every second one from the opposite face" if self.mirrored and self.sides == "one" else ""
        return {"face": FACES[self.face], "behind": FACES[BEHIND[self.face]], "pair": pair}

    def facts(self, before: Piece, after: Piece) -> tuple[Sentence, Section, float]:
        """Return how the run is said, its section when done, and the height of its ledge [mm]."""
        made = self.section_after(after)
        ledge = self.ledge(self.present(before, self.spans(before)[0]), made)
        return range_words(before, self.where), made, ledge

    def check(self, before: Piece, after: Piece) -> Sentence:
        _, made, ledge = self.facts(before, after)
        each = "" if self.sides == "one" else " on each side"
        return say(
            f"{{made:section}} along {{long:length}}; ledge {{ledge:size}} high{each}",
            made=made,
            long=worked_length(after),
            ledge=ledge,
        )
