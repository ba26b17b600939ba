"""Taper: let a run get evenly thinner toward one end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.profiles import MOST_BOW
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.segment import close
from procedures.engine.shaping.checks import holes_worked, thin_end
from procedures.engine.shaping.tapering import ENDS, Tapering, TaperingOperation


class Taper(TaperingOperation):
    """Tapers a run to a section or to a chisel edge, or makes a taper of a wanted length."""

    id = "taper"
    title = "Taper"
    family = "move"
    help = (
        "A point takes a third of its length in bar, a chisel edge half of it. Give the run of bar and the"
        " length follows, or give the wanted length and the bar to mark off follows."
    )
    synonyms = ("draw to a taper", "draw down to a taper", "chisel end", "rat-tail")
    one_of = (("end_section", "chisel_edge"),)
    heat = (1000, 1200)
    usual_heats = (3, 1)
    tools = ("hammer", "anvil")
    power_tools = ("tapering dies", "a taper block on flat dies")
    helper = "a striker on more than 20 mm"
    period = "hammer and anvil; the same today"
    modern = "power hammer with tapering dies"
    safety = ("A thin tip sparks first: keep it through the hot spot of the fire, not in it.",)

    end_section: Section | None = declare.section(
        "Section at the thin end", "A true point is possible too.", required=False
    )
    chisel_edge: float | None = declare.length(
        "Thickness at the edge",
        "For a chisel end: the width stays, only the thickness goes; 0 is a sharp edge.",
        required=False,
        least=0,
    )
    taper_length: float | None = declare.length(
        "Wanted length", "From this the bar to use follows, measured from the thin end.", required=False
    )
    start_section: Section | None = declare.section(
        "Section at the thick end", "Left out: what is there.", required=False
    )
    thin_end: str = declare.choice("Thin end", ENDS, default="free")

    profile: str = declare.choice(
        "Profile",
        {"straight": "straight", "hollow": "hollow: thin soon", "swelled": "swelled: full, thin at the end"},
        default="straight",
    )
    bow: float = declare.number(
        "Hollow or swell",
        "How much thinner or thicker it is half way than a straight taper, of the change in size; for a"
        " hollow or a swelled one.",
        default=12.5,
        above=0,
        most=100 * MOST_BOW,
        unit="%",
    )

    def plan(self) -> Tapering:
        """Return the taper to be made."""
        return Tapering(
            thin=self.thin_end,
            thick_from=lambda present: self.start_section or present,
            thin_from=self._end,
            length=self.taper_length,
            length_field="taper_length",
            field="end_section" if self.end_section is not None else "chisel_edge",
            bow={"straight": 0.0, "hollow": self.bow / 100, "swelled": -self.bow / 100}[self.profile],
        )

    def _end(self, present: Section) -> Section:
        if self.end_section is not None:
            return self.end_section
        width = (self.start_section or present).width
        return Section.flat(width, self.chisel_edge) if self.chisel_edge else Section.edge(width)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        thick, thin = self.ends(after)
        field = self.plan().field
        yield from thin_end(thin, field)
        if 0 < thin.thickness < thin.width / 6:
            yield caution(
                "taper.thin_end_curls",
                "The thin end, {thin:section}, is more than six times as wide as thick: it curls.",
                hint="Dress it flat after every few blows, or leave it thicker.",
                thin=thin,
                field=field,
                source="from memory",
            )
        if thin.width > 1.02 * thick.width:
            yield caution(
                "taper.wider_than_the_bar",
                "The thin end, {thin:section}, is wider than the bar, {thick:section}.",
                hint="Tapering does not widen: spread the end instead.",
                thin=thin,
                thick=thick,
                field=field,
                source="geometry",
            )
        if thin.area < thick.area / 4:
            yield note(
                "taper.blunt_point_first",
                "Draw a short blunt point at the very end first, then work back: else a fish-mouth forms.",
                source="common practice, no source",
            )
        yield from holes_worked(before, self.spans(before))

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        thick, thin = self.ends(after)
        edge = {"chisel_edge": thin.thickness} if close(thin.width, thick.width) else {}
        return {"end_section": thin, "taper_length": worked_length(after), **edge}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        _, thin = self.ends(after)
        square_first = "Square first, then octagon, then round. " if thin.shape == "round" else ""
        return say(
            "{before}Taper {run} to {thin:section}{profile}: it comes to {long:length}.",
            before=square_first,
            profile=self._profile_words(after),
            run=self.run_words(before, after),
            thin=thin,
            long=worked_length(after),
        )

    def _profile_words(self, after: Piece) -> Sentence:
        if self.profile == "straight":
            return say("")
        span = after.worked[0]
        middle = after.branch(span.branch).section_at((span.low + span.high) / 2)
        return say(f", {self.profile}, {{middle:section}} half way", middle=middle)

    examples = (
        Example(
            "□12, the last 40 to □2: almost a third comes back",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 2},
            },
            after=(Result(length=360.5, worked=100.5, start=Section.square(12), end=Section.square(2)),),
            source="volume: 3 × 40 × 144 / (144 + 24 + 4) = 100.5",
        ),
        Example(
            "The thin end may be the start of the bar",
            before=bar(Section.square(12), 300, marks={"A": 60}),
            params={
                "where": {"on": "bar", "datum": "start", "length": 40},
                "end_section": {"shape": "square", "side": 2},
            },
            after=(
                Result(length=360.5, start=Section.square(2), end=Section.square(12), marks={"A": 120.5}),
            ),
            source="volume, as above",
        ),
        Example(
            "A chisel end keeps its width",
            before=bar(Section.flat(20, 10), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 30}, "chisel_edge": 2},
            after=(Result(length=220, worked=50, end=Section.flat(20, 2)),),
            source="volume: 2 × 30 × 10 / (10 + 2) = 50",
        ),
        Example(
            "ø12, the last 40 to ø4",
            before=bar(Section.round(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "round", "diameter": 4},
            },
            after=(Result(length=343.1, worked=83.1),),
            source="volume: 3 × 40 × 144 / (144 + 48 + 16) = 83.1",
        ),
        Example(
            "120 long is wanted: mark off 47.8 of bar",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end"},
                "end_section": {"shape": "square", "side": 2},
                "taper_length": 120,
            },
            after=(Result(length=372.2, worked=120),),
            source="volume: 120 × (144 + 24 + 4) / (3 × 144) = 47.8",
        ),
        Example(
            "A mark rides on its metal, not on its share of the length",
            before=bar(Section.square(12), 300, marks={"middle": 280}),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 4},
            },
            after=(Result(worked=83.1, marks={"middle": 284.5}),),
            source="volume: half of it lies within 24.5 of the thick end",
        ),
        Example(
            "Both arms of a split alike",
            before=bar(Section.flat(30, 8), 330),
            first=(("split", {"where": {"on": "bar", "offset": 150}, "children": ["left", "right"]}),),
            params={
                "where": {"on": "arms", "datum": "whole"},
                "end_section": {"shape": "flat", "width": 6, "thickness": 4},
            },
            after=(
                Result("left", worked=272.7, end=Section.flat(6, 4)),
                Result("right", worked=272.7, end=Section.flat(6, 4)),
            ),
            source="volume: 3 × 150 × 120 / (120 + 54 + 24) = 272.7",
        ),
        Example(
            "Square to round: the section between is the blend of the two",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "round", "diameter": 4},
            },
            after=(Result(worked=84.5, end=Section.round(4)),),
            source=(
                "convex hull of the two ends: 3 × 40 × 144 / (144 + 48 + π·4) = 84.5; the mean of the"
                " roots of the areas, an older convention, gives 86.8 and no section to cut the taper at"
            ),
        ),
        Example(
            "With scale on, the wanted length takes no more bar: it begins thinner",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end"},
                "end_section": {"shape": "square", "side": 2},
                "taper_length": 120,
            },
            heats=2,
            scale=0.05,
            after=(Result(length=372.1, worked=120),),
            source="recession first: 120 × (11.8² + 11.8 × 2 + 2²) / (3 × 11.8²) = 47.9",
        ),
        Example(
            "Hollow: □12 to □4, □6.8 half way instead of □8",
            before=bar(Section.square(12), 300, marks={"M": 280}),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 4},
                "profile": "hollow",
                "bow": 15,
            },
            after=(Result(length=360.5, worked=100.5, end=Section.square(4), marks={"M": 286.25}),),
            says=("hollow",),
            source=(
                "side 12 - 8 (x + 0.6 x (1 - x)): mean area 144 - 192 × 0.6 + 64 × 0.4453 = 57.3;"
                " 5760 / 57.3 = 100.5; half of it lies within 26.25"
            ),
        ),
        Example(
            "Swelled: the same metal comes out shorter",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 4},
                "profile": "swelled",
                "bow": 15,
            },
            after=(Result(worked=69.5, end=Section.square(4)),),
            source=(
                "side 12 - 8 (x - 0.6 x (1 - x)): mean area 144 - 192 × 0.4 + 64 × 0.2453 = 82.9;"
                " 5760 / 82.9 = 69.5"
            ),
        ),
        Example(
            "A thicker end is refused",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 14},
            },
            refused=("taper.end_not_thinner",),
        ),
        Example(
            "Too little bar for the wanted length is refused",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "end_section": {"shape": "square", "side": 2},
                "taper_length": 120,
            },
            refused=("taper.not_enough_bar",),
        ),
    )
