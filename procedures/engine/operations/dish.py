"""Dish: sink plate to a shallow bowl."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi, sqrt

from calculators.formulas.dished_blank import DEEPEST_SUNK, grown, hollow_radius, rim_diameter
from calculators.generators import THICKNESS, WIDTH
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Feature
from procedures.engine.pieces.feature import Side
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import owner_words, range_words
from procedures.engine.shaping.checks import plain_bar
from procedures.engine.shaping.holes import free_names

MISFIT = 0.02  # of the volume, by which metal and blank may differ: our judgement


class Dish(Operation):
    """Sinks a round blank to a hollow: its lengths along the metal stay unless thinned; the rim draws in."""

    id = "dish"
    title = "Dish"
    family = "move"
    help = (
        "The metal keeps its area, so the rim comes out smaller than the blank; thinned, it grows a little."
        " The blank may be a disc spread at an end, or a short bar as thick as the disc and with its metal."
    )
    synonyms = ("sink", "hollow", "raise", "bowl", "cup", "candle pan", "drip pan")
    heat = (815, 1050)
    usual_heats = (2, 1)
    tools = ("hollowed block or stump", "ball-peen or sinking hammer")
    power_tools = ("planishing dies, to finish only",)
    period = "a hollow in a stump or a lead block"
    modern = "press, sandbag or steel block"
    safety = (
        "Never work hot metal on a lead block: it melts and its fume poisons.",
        "Sheet edges cut: break them first, and wear ear protection.",
    )

    where: Place = declare.place("Where", "The metal of the blank.")
    depth: float = declare.length("Depth of the hollow")
    blank: float | None = declare.length(
        "Diameter of the blank", "Left out: as wide as the metal is there.", required=False
    )
    thinning: float = declare.number(
        "Thinned by", "How much of the thickness goes.", default=0, least=0, most=60, unit="%"
    )
    hollow: Side = declare.choice("Hollow", {"top": "upward", "bottom": "downward"}, default="top")
    name: str = declare.name("Name", default="dish")

    # -- sizes -----------------------------------------------------------------------------------

    def blank_of(self, piece: Piece, span: Span) -> float:
        """Return the diameter [mm] of the blank before it is sunk."""
        along = piece.branch(span.branch).sections_along(span.low, span.high)
        return self.blank if self.blank is not None else max(one.width for one in along)

    def rim(self, piece: Piece, span: Span) -> float:
        """Return the diameter [mm] of the rim. Raises Unworkable when the hollow is too deep."""
        blank = self.blank_of(piece, span)
        try:
            return rim_diameter(grown(blank, self.thinning / 100), self.depth)
        except ValueError:
            raise Unworkable(
                stop(
                    "dish.too_deep",
                    "A blank {blank:size} across cannot be sunk {depth:size} deep.",
                    hint="Take a larger blank: more than twice the depth, and best four times.",
                    blank=blank,
                    depth=self.depth,
                    field="depth",
                    source="geometry",
                )
            ) from None

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(plain_bar(branch, span))
            odd = [one for one in branch.sections_along(span.low, span.high) if not _is_plate(one)]
            if odd and not found:
                found.append(
                    stop(
                        "dish.no_plate",
                        "{section:section} is no plate: it cannot be sunk.",
                        hint="Flatten or spread it first.",
                        section=odd[0],
                        field="where",
                        source="geometry",
                    )
                )
            yield from found
            if not found:
                self.rim(piece, span)

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            rim = self.rim(piece, span)
            if self.thinning:
                run = piece.branch(span.branch).segments_between(span.low, span.high)
                piece = piece.reshaped(span, *(_thinned(one, self.thinning / 100) for one in run))
                span = piece.worked[-1]
            else:
                piece = piece.noting(span)
            branch = piece.branch(span.branch)
            others = tuple(
                one for one in branch.features if one.kind != "dish" or not span.low < one.at < span.high
            )
            branch = replace(branch, features=others)
            made = Feature(
                "dish",
                free_names(branch, self.name, 1)[0],
                (span.low + span.high) / 2,
                "round",
                rim,
                rim,
                depth=self.depth,
                side=self.hollow,
            )
            piece = piece.with_branch(branch).featured(branch.name, made)
        return piece

    # -- what is said ----------------------------------------------------------------------------

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        branch, blank = before.branch(span.branch), self.blank_of(before, span)
        there = branch.volume_between(span.low, span.high)
        thickness = branch.section_at((span.low + span.high) / 2).thickness
        wanted = pi / 4 * blank**2 * thickness
        if abs(there - wanted) > MISFIT * wanted:
            yield caution(
                "dish.not_the_blank",
                "A disc {blank:size} across and {thickness:size} thick holds {wanted:volume}; there is"
                " {there:volume}.",
                hint="Give the diameter of the disc that is cut, or make the stock as long as its metal.",
                blank=blank,
                thickness=thickness,
                wanted=wanted,
                there=there,
                field="blank",
                source="geometry; 2 % our judgement",
            )
        if self.depth > DEEPEST_SUNK * blank:
            yield caution(
                "dish.raise_it",
                "{depth:size} is deep for a blank {blank:size} across: sinking thins and tears the middle.",
                hint="Raise it over a stake instead, or anneal it between courses.",
                depth=self.depth,
                blank=blank,
                field="depth",
                source="a quarter of the blank from memory",
            )
        yield note(
            "dish.wrinkles",
            "Work in rings, a little at a time: hurried from the middle outward, the rim wrinkles.",
            source="common practice, no source",
        )

    def made(self, after: Piece) -> Feature:
        """Return the (first) finished dish."""
        span = after.worked[0]
        found = [one for one in after.branch(span.branch).features if one.kind == "dish"]
        return next(one for one in found if span.low < one.at < span.high)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        blank = grown(self.blank_of(before, self.spans(before)[0]), self.thinning / 100)
        whole = self.where.datum == "whole"
        up = "" if self.hollow == "top" else ", hollow side down"
        return say(
            f"Sink {{on}} to a dish {{depth:size}} deep{up}: the rim comes to {{rim:size}} across,"
            " the hollow to a radius of {radius:length}.",
            on=owner_words(before, self.where.on) if whole else range_words(before, self.where),
            depth=self.depth,
            rim=self.made(after).length,
            radius=hollow_radius(blank, self.depth),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{rim:size} across the rim, {depth:size} deep, and level",
            rim=self.made(after).length,
            depth=self.depth,
        )

    examples = (
        Example(
            "A disc of 90, sunk 12 deep: bar of the same thickness and volume stands for it",
            before=bar(Section.flat(90, 2), 70.686),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 12},
            after=(Result(length=70.686, section=Section.flat(90, 2)),),
            says=("86.7 mm across", "radius of 84.4 mm"),
            source="2 √(45² - 12²) = 86.7; 90² / (8 × 12) = 84.4; π/4 × 90² × 2 = 90 × 2 × 70.686",
        ),
        Example(
            "A candle pan, with scale on",
            before=bar(Section.flat(90, 2), 70.686),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 9, "blank": 90},
            heats=1,
            scale=0.03,
            after=(Result(length=70.686, section=Section.flat(89.94, 1.94)),),
            says=("88.2 mm across",),
            source="2 √(45² - 9²) = 88.2; recession 0.06 off each size",
        ),
        Example(
            "Thinned by a tenth, it grows",
            before=bar(Section.flat(90, 2), 70.686),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 12, "thinning": 10},
            after=(Result(length=74.51, section=Section.flat(94.87, 1.8)),),
            says=("91.8 mm across",),
            source="90 / √0.9 = 94.87; 2 √(47.43² - 12²) = 91.8",
        ),
        Example(
            "A penny end hollowed",
            before=bar(Section.round(12), 200),
            first=(
                (
                    "spread",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 20},
                        "outline": "disc",
                        "thickness": 3,
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "end", "length": 30.98}, "depth": 4},
            after=(Result(length=210.98),),
            says=("29.9 mm across",),
            source="2 √(15.49² - 4²) = 29.9",
        ),
        Example(
            "A deep hollow in a square of sheet works, with warnings",
            before=bar(Section.flat(90, 2), 90),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 30},
            after=(Result(length=90),),
            cautions=("dish.not_the_blank", "dish.raise_it"),
            source="30 is more than a quarter of 90; the corners are not yet cut off",
        ),
        Example(
            "Deeper than half the blank is refused",
            before=bar(Section.flat(90, 2), 70.686),
            params={"where": {"on": "bar", "datum": "whole"}, "depth": 45},
            refused=("dish.too_deep",),
        ),
        Example(
            "A round bar is no plate",
            before=bar(Section.round(12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 20}, "depth": 4},
            refused=("dish.no_plate",),
        ),
    )


def _is_plate(section: Section) -> bool:
    return not any(section.g[2:]) and section.thickness > 0


def _thinned(segment: Segment, thinning: float) -> Segment:
    """Return plate thinned by a share; it grows as much in length as in width."""
    times = 1 / sqrt(1 - thinning)

    def thinner(section: Section) -> Section:
        g = section.g
        return Section((g[WIDTH] * times, g[THICKNESS] * (1 - thinning), *g[2:]))

    return replace(
        segment,
        start=thinner(segment.start),
        end=thinner(segment.end),
        length=segment.length * times,
        bulge=segment.bulge * times,
    )
