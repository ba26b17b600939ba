"""Change section: square to octagon to round, and back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import sqrt

from calculators.sections import Section, taper_length
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, plain_bar

SHAPES: dict[str, Callable[[float], Section]] = {
    "square": Section.square,
    "octagon": Section.octagon,
    "hexagon": Section.hexagon,
    "round": Section.round,
}
WORDS = {
    "square": "Square up {run} to {section:section}: it comes to {long:length}.",
    "octagon": "Knock the corners in on {run}, to {section:section}: it comes to {long:length}.",
    "hexagon": "Work {run} to {section:section}: it comes to {long:length}.",
    "round": "Round up {run} to {section:section}: it comes to {long:length}.",
}


class ChangeSection(Operation):
    """Gives a run another shape: of the same size across, of the same length, or of a given size."""

    id = "change_section"
    title = "Change section"
    family = "move"
    help = (
        "A square rounded to a diameter as large as its side gets longer by a quarter (4/π); kept at its"
        " length, it makes a round of 1.13 times its side. A tapered run keeps its taper."
    )
    synonyms = ("round up", "square up", "knock the corners in", "square to octagon to round")
    heat = (980, 1150)
    usual_heats = (2, 1)
    tools = ("hammer", "swage to finish")
    power_tools = ("flat dies, turning evenly", "swages")
    period = "by eye, a swage only to finish"
    modern = "round bar bought; it is perfect, and shows"
    safety = ("Long bars roll: rest the free end.",)

    where: Place = declare.place("Where", "The run to give another shape.")
    shape: str = declare.choice(
        "Shape", {"square": "square", "octagon": "octagon", "hexagon": "hexagon", "round": "round"}
    )
    rule: str = declare.choice(
        "Size",
        {
            "across_flats": "as large across as it is now",
            "length": "so that its length stays",
            "size": "a given size",
        },
        default="across_flats",
    )
    size: float | None = declare.length(
        "Given size", "Across flats; the side of a square, the diameter of a round.", required=False
    )
    octagon_first: bool = declare.flag("By way of the octagon", "Between square and round.", default=True)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if (self.rule == "size") != (self.size is not None):
            yield from self._size_or_rule()
            return
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            for section in branch.sections_along(span.low, span.high):
                found = list(self._forbidden(section))
                yield from found
                if found:
                    break

    def _size_or_rule(self) -> Iterator[Finding]:
        if self.size is None:
            yield stop(
                "change_section.size_missing",
                "A given size is wanted, but none is given.",
                hint="Give the size across flats.",
                field="size",
                source="geometry",
            )
        else:
            yield stop(
                "change_section.size_not_used",
                "A size of {size:size} is given, but the size is to follow from the bar.",
                hint="Choose a given size, or leave the size out.",
                size=self.size,
                field="size",
                mend={"rule": "size"},
                source="geometry",
            )

    def _forbidden(self, section: Section) -> Iterator[Finding]:
        if section.area <= 0:
            yield stop(
                "change_section.nothing_there",
                "The run ends in {section:section}, which has no shape to change.",
                hint="Choose a range that stops short of it.",
                section=section,
                field="where",
                source="geometry",
            )
        elif self.rule == "across_flats" and not _is_even(section):
            yield stop(
                "change_section.not_even",
                "{section:section} is not as wide as it is thick, so it has no one size across.",
                hint="Keep its length, or give the size.",
                section=section,
                field="rule",
                mend={"rule": "length"},
                source="geometry",
            )
        elif self.made_of(section).area > 1.02 * section.area:
            yield stop(
                "change_section.too_big",
                "{target:section} holds more metal than the {section:section} that is there.",
                hint="Keep its length, which makes {most:section}, choose a smaller size, or upset first.",
                target=self.made_of(section),
                section=section,
                most=self._same_area(section),
                field="size" if self.rule == "size" else "rule",
                mend={"rule": "length", "size": None},
                source="geometry; 2 % from memory",
            )

    def _same_area(self, section: Section) -> Section:
        make = SHAPES[self.shape]
        return make(sqrt(section.area / make(1.0).area))

    def made_of(self, section: Section) -> Section:
        """Return what a section of the run becomes."""
        if self.size is not None:
            return SHAPES[self.shape](self.size)
        return self._same_area(section) if self.rule == "length" else SHAPES[self.shape](section.thickness)

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            piece = piece.reshaped(span, *(self._changed(one) for one in run))
        return piece

    def _changed(self, segment: Segment) -> Segment:
        start, end = self.made_of(segment.start), self.made_of(segment.end)
        return Segment(start, end, taper_length(start, end, segment.volume))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        present, _ = before.branch(span.branch).sections_between(span.low, span.high)
        target = self._after(after)
        if target.thickness > 1.02 * present.thickness and _is_even(present):
            yield caution(
                "change_section.jump_up",
                "{target:section} is larger across than {present:section}.",
                hint="Jump it up as the corners go in, or keep the size across and let it get longer.",
                target=target,
                present=present,
                field="rule",
                source="geometry",
            )
        if self.shape == "round" and not self.octagon_first and present.shape in ("square", "flat"):
            yield caution(
                "change_section.facets_fold",
                "Square straight to round folds the facets in.",
                hint="Go by way of the octagon.",
                field="octagon_first",
                mend={"octagon_first": True},
                source="common practice, no source",
            )
        yield from holes_worked(before, self.spans(before))

    def _after(self, after: Piece) -> Section:
        span = after.worked[0]
        return after.branch(span.branch).sections_between(span.low, span.high)[0]

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        span = self.spans(before)[0]
        present, _ = before.branch(span.branch).sections_between(span.low, span.high)
        octagon = self.shape == "round" and self.octagon_first and present.shape in ("square", "flat")
        words = say(
            WORDS[self.shape],
            run=range_words(before, self.where),
            section=self._after(after),
            long=worked_length(after),
        )
        return say("Octagon first. {then}", then=words) if octagon else words

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{section:section}, {long:length} long", section=self._after(after), long=worked_length(after)
        )

    examples = (
        Example(
            "Square to octagon of the same size across",
            before=bar(Section.square(14), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "shape": "octagon"},
            after=(Result(worked=96.6, section=Section.octagon(14)),),
            source="area: 80 / 0.8284 = 96.6",
        ),
        Example(
            "And from there to round",
            before=bar(Section.square(14), 300, marks={"A": 220}),
            first=(
                (
                    "change_section",
                    {"where": {"on": "bar", "datum": "mark", "mark": "A"}, "shape": "octagon"},
                ),
            ),
            params={"where": {"on": "bar", "datum": "mark", "mark": "A"}, "shape": "round"},
            after=(Result(worked=101.9, section=Section.round(14), marks={"A": 220}),),
            source="area: 80 × 4 / π = 101.9",
        ),
        Example(
            "Square to round at the same length",
            before=bar(Section.square(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 80},
                "shape": "round",
                "rule": "length",
            },
            after=(Result(worked=80, section=Section.round(15.797)),),
            cautions=("change_section.jump_up",),
            source="area: 14 × 1.1284 = 15.8",
        ),
        Example(
            "The largest square drawn from a round at its length",
            before=bar(Section.round(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 80},
                "shape": "square",
                "rule": "length",
            },
            after=(Result(worked=80, section=Section.square(12.407)),),
            source="area: 14 × 0.8862 = 12.4",
        ),
        Example(
            "With scale on, the round follows the thinner bar",
            before=bar(Section.square(14), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "shape": "round"},
            heats=1,
            scale=0.05,
            after=(Result(worked=101.9, section=Section.round(13.9)),),
            source="recession first: ø13.9, and 80 × 4 / π = 101.9 whatever the size",
        ),
        Example(
            "A round has not the metal for a square as large across",
            before=bar(Section.round(14), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "shape": "square"},
            refused=("change_section.too_big",),
        ),
        Example(
            "A flat has no one size across",
            before=bar(Section.flat(30, 8), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "shape": "round"},
            refused=("change_section.not_even",),
        ),
    )


def _is_even(section: Section) -> bool:
    """Whether a section is as wide as it is thick; a hexagon counts, though its corners stand out."""
    return section.shape == "hexagon" or abs(section.width - section.thickness) <= 0.02 * section.thickness
