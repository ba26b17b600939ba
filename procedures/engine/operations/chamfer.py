"""Chamfer: take the corners off a run, by the hammer or by the file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import sqrt

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.feature import Side
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, hollow_metal, no_metal, plain_bar
from procedures.engine.shaping.holes import free_names

OCTAGON = (2 - sqrt(2)) / 2  # of the side: there the chamfers are as wide as the flats
ROLLS_OVER = 3.0  # times as wide as thick: from memory
CORNERS: dict[str, str] = {
    "all": "all four corners",
    "top": "both corners of the top",
    "bottom": "both corners of the underside",
    "left": "both corners of the left edge",
    "right": "both corners of the right edge",
}


class Chamfer(Operation):
    """Takes corners off at 45 degrees. Forged, their metal goes into length; filed, it is lost."""

    id = "chamfer"
    title = "Chamfer"
    family = "finish"
    help = (
        "The size is what goes off each face. With all four corners off, the bar has another section; with"
        " two off it is still called by the section it had, and is so much lighter."
    )
    synonyms = ("break the corners", "bevel the edges", "octagon stop", "stopped chamfer", "arris")
    heat = (980, 1100)
    usual_heats = (2, 1)
    tools = ("hammer, or a coarse file and a vice",)
    power_tools = ("V-dies",)
    period = "hammer, or file"
    modern = "grinder: even and sharp, and shows"
    safety = (
        "A grinder keeps its guard on; wear eye protection for a file as well.",
        "Filed corners have a burr: take it off before the piece is handled.",
    )

    where: Place = declare.place("Where", "The run whose corners come off.")
    size: float = declare.length("Size", "What goes off each face at a corner.")
    corners: Side = declare.choice("Corners", CORNERS, default="all")
    method: str = declare.choice(
        "Made by",
        {"forged": "the hammer: the run gets longer", "filed": "the file, cold: the metal is lost"},
        default="forged",
    )
    stopped: bool = declare.flag("Stopped", "Run out with a stop at each end, for the eye only.")
    name: str = declare.name("Name", "Of chamfers on two corners.", default="chamfer")

    @property
    def is_cold(self) -> bool:
        return self.method != "forged"

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return self.spans(piece) if self.method == "forged" else ()

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(self._unfit(branch, span)) or list(self._no_room(branch, span))
            yield from found

    def _unfit(self, branch: Branch, span: Span) -> Iterator[Finding]:
        if self.method == "forged":
            yield from plain_bar(branch, span)
        else:
            yield from hollow_metal(branch, span, "where")
            yield from no_metal(branch, span)

    def _no_room(self, branch: Branch, span: Span) -> Iterator[Finding]:
        along = branch.sections_along(span.low, span.high)
        odd = next((one for one in along if one.shape not in ("square", "flat")), None)
        if odd is not None:
            yield stop(
                "chamfer.no_corners",
                "{section:section} has no square corners to take off.",
                hint="Choose a run that is square or flat throughout.",
                section=odd,
                field="where",
                source="geometry",
            )
            return
        least = min(min(one.width, one.thickness) for one in along)
        if self.size >= least / 2:
            yield stop(
                "chamfer.too_large",
                "Chamfers of {size:size} leave no flat on {least:size}.",
                hint="Make them less than {most:size}.",
                size=self.size,
                least=least,
                most=least / 2,
                field="size",
                source="geometry",
            )

    # -- making ----------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            made = self._on_four if self.corners == "all" else self._on_two
            piece = made(piece, span)
        return piece

    def _on_four(self, piece: Piece, span: Span) -> Piece:
        if self.method == "forged":
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            return piece.reshaped(span, *(self._forged(one) for one in run))
        before = piece.volume
        piece = piece.changed(
            span, lambda one: replace(one, start=self._off(one.start), end=self._off(one.end))
        )
        return piece.losing("file", before - piece.volume)

    def _forged(self, segment: Segment) -> Segment:
        return segment.reworked(self._off(segment.start), self._off(segment.end), segment.bulge)

    def _off(self, section: Section) -> Section:
        return Section.chamfered_flat(section.width, section.thickness, self.size)

    def _on_two(self, piece: Piece, span: Span) -> Piece:
        branch = piece.branch(span.branch)
        gone = self.size**2 * span.length  # two triangles of half a square each
        long = span.length
        if self.method == "forged":
            held = branch.volume_between(span.low, span.high)
            times = held / (held - gone)
            run = branch.segments_between(span.low, span.high)
            piece = piece.reshaped(span, *(replace(one, length=one.length * times) for one in run))
            gone, long = gone * times, long * times
        else:
            piece = piece.noting(span).losing("file", gone)
        (name,) = free_names(piece.branch(span.branch), self.name, 1)
        middle, across = span.low + long / 2, branch.section_at(span.low).width
        return piece.featured(
            span.branch,
            Feature(
                "chamfer",
                name,
                middle,
                "rectangle",
                long,
                across,
                volume=-gone,
                depth=self.size,
                side=self.corners,
            ),
        )

    # -- what is said ----------------------------------------------------------------------------

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        along = before.branch(span.branch).sections_along(span.low, span.high)
        least = min(along, key=lambda one: one.thickness)
        if least.shape == "square" and self.corners == "all" and self.size > OCTAGON * least.width:
            yield caution(
                "chamfer.octagon",
                "Chamfers of {size:size} on {section:section} are wider than its flats: it is an octagon.",
                hint="Use change section, to an octagon.",
                size=self.size,
                section=least,
                field="size",
                source="geometry",
            )
        if self.method == "forged":
            widest = max(along, key=lambda one: one.width / one.thickness)
            if widest.width > ROLLS_OVER * widest.thickness:
                yield caution(
                    "chamfer.rolls_over",
                    "The corners of {section:section} roll over under the hammer instead of going in.",
                    hint="File them.",
                    section=widest,
                    field="method",
                    mend={"method": "filed"},
                    source="three times the thickness from memory",
                )
            yield from holes_worked(before, self.spans(before))

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        words = {
            "corners": CORNERS[self.corners],
            "run": range_words(before, self.where),
            "size": self.size,
        }
        stops = ", with a stop at each end" if self.stopped else ""
        if self.method == "filed":
            return say(f"File off {{corners}} on {{run}}, {{size:size}} each{stops}.", **words)
        return say(
            f"Knock in {{corners}} on {{run}}, {{size:size}} each{stops}: it comes to {{long:length}}.",
            **words,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("{size:size} along each face, even all along", size=self.size)

    examples = (
        Example(
            "□16, four corners of 3 forged: the run gets longer",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 100}, "size": 3},
            after=(Result(length=307.6, worked=107.6, section=Section.chamfered_flat(16, 16, 3)),),
            source="area: 100 × 256 / (256 - 2 × 3²) = 107.6",
        ),
        Example(
            "The same filed: the metal is lost",
            before=bar(Section.square(16), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "size": 3,
                "method": "filed",
            },
            after=(Result(length=300, section=Section.chamfered_flat(16, 16, 3)),),
            lost=14.13,
            source="2 × 3² × 100 = 1800 mm³, 14.1 g",
        ),
        Example(
            "The two of the top, forged",
            before=bar(Section.flat(20, 10), 200, marks={"M": 150}),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "size": 2,
                "corners": "top",
            },
            after=(Result(length=202.04, worked=102.04, marks={"M": 151.02}),),
            source="area: 100 × 200 / (200 - 2²) = 102.04",
        ),
        Example(
            "Filed along a bent bar, where no hammer may go",
            before=bar(Section.square(12), 300),
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
            params={
                "where": {"on": "bar", "datum": "whole"},
                "size": 1,
                "corners": "left",
                "method": "filed",
                "stopped": True,
            },
            after=(Result(length=300, section=Section.square(12)),),
            lost=2.355,
            says=("with a stop at each end",),
            source="1² × 300 = 300 mm³, 2.36 g",
        ),
        Example(
            "A taper keeps its taper; with scale on",
            before=bar(Section.square(16), 300),
            first=(
                (
                    "taper",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 60},
                        "end_section": {"shape": "square", "side": 10},
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "end", "length": 60}, "size": 2},
            heats=1,
            scale=0.05,
            after=(Result(end=Section.chamfered_flat(9.9, 9.9, 2)),),
        ),
        Example(
            "Large chamfers make an octagon",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 100}, "size": 5},
            after=(Result(worked=124.3),),
            cautions=("chamfer.octagon",),
            source="area: 100 × 256 / (256 - 2 × 5²) = 124.3",
        ),
        Example(
            "Thin corners roll over",
            before=bar(Section.flat(40, 8), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 100}, "size": 1},
            after=(Result(worked=100.6),),
            cautions=("chamfer.rolls_over",),
            source="area: 100 × 320 / 318 = 100.6",
        ),
        Example(
            "A round has no corners",
            before=bar(Section.round(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 100}, "size": 3},
            refused=("chamfer.no_corners",),
        ),
        Example(
            "Chamfers that meet are refused",
            before=bar(Section.flat(20, 8), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 100}, "size": 4},
            refused=("chamfer.too_large",),
        ),
    )
