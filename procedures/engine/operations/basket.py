"""Basket: weld rods together at both ends, twist them, and open them to a cage."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import pi, sin

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.bringing import one_branch, other_part
from procedures.engine.shaping.caging import FEWEST, Cage, rods_fit
from procedures.engine.shaping.welding_checks import (
    FLUX,
    fire_welds,
    heat_band,
    thin_by_weld,
    too_little_metal,
    unlike_steels,
)

_MOST = 8  # rods that lie in one ring without a core: from memory
_LEAST_GAP = 1.0  # of a rod's thickness between two rods at the widest place: our judgement


class Basket(Operation):
    """Welds this bar and rods of another part together at both ends, twists them and opens them to a cage."""

    id = "basket"
    title = "Basket"
    family = "weld"
    help = (
        "The rods keep their length: the more turns and the wider, the shorter it gets. Its sizes"
        " are those of the spindle that the rods lie in; its metal is that of the rods. Marks of the"
        " other rods are not kept. Heats are those of one end: each is welded, then it is wound and opened."
    )
    synonyms = ("basket twist", "cage", "bird cage", "birdcage handle", "basket handle", "bundle")
    heat = (1250, 1300)
    usual_heats = (1, 1)
    usual_welding_heats = 2
    tools = (
        "binding wire",
        "flux",
        "clean deep fire",
        "vice",
        "twisting wrench",
        "a thin drift to part rods",
    )
    helper = "to turn while you watch the rods"
    period = "forge-welded ends, twisted and opened in the vice"
    modern = "arc-welded ends, ground; bought baskets"
    safety = (FLUX, "Rods spring when a weld lets go: stand out of line of the wrench.")

    on: str = declare.branch("On", "The bar that is one of the rods.")
    part: str = declare.part("Other rods", "A part cut to the same length, finished before this step.")
    count: int = declare.number("How many", "Of the other rods.", default=3, least=1, most=24, whole=True)
    weld: float = declare.length("Welded", "How much of each rod is welded up, at each end.")
    dressed: Section = declare.section("Dressed section", "What both welded ends measure when done.")
    turns: float = declare.number("Turns", "Left when it is open.", default=1.0, least=0, most=10)
    hand: str = declare.choice("Hand", {"right": "right-hand", "left": "left-hand"}, default="right")
    bulge: float = declare.length("Bulge", "From the axis to the middle of a rod, where it is widest.")

    # -- what there is ---------------------------------------------------------------------------

    def cage(self, piece: Piece) -> Cage:
        """Return the basket to be. Raises Unworkable where a rod is not there."""
        own = one_branch(piece, self.on)
        rods = (own, *[other_part(piece, self.part).root] * self.count)
        return Cage(rods, self.weld, self.dressed, self.turns, self.bulge)

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        branch = one_branch(piece, self.on)
        return (Span(branch.name, 0.0, branch.length),)

    def welded(self, piece: Piece) -> tuple[Span, ...]:
        branch = one_branch(piece, self.on)
        return tuple(Span(branch.name, *ends) for ends in self._ends(branch.length))

    def repeats(self, piece: Piece) -> int:
        return 2  # an end at a time

    def uses(self, piece: Piece) -> Mapping[str, int]:
        return {self.part: self.count}

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        root = other_part(piece, self.part).root
        return {self.part: (Span(root.name, 0.0, root.length),)}

    def brought_to_weld(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        root = other_part(piece, self.part).root
        return {self.part: tuple(Span(root.name, *ends) for ends in self._ends(root.length))}

    def _ends(self, length: float) -> tuple[tuple[float, float], ...]:
        long = min(self.weld, length / 2)
        return (0.0, long), (length - long, length)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        other, cage = other_part(piece, self.part), self.cage(piece)
        yield from fire_welds(piece, other, field="part")
        found = list(rods_fit(piece, cage, other, self.part))
        yield from found
        if not found:
            yield from too_little_metal(self.dressed, cage.end_volume / self.weld)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        cage = self.cage(before)
        rods, thick = len(cage.rods), cage.thickness
        if not FEWEST <= rods <= _MOST:
            yield caution(
                "basket.odd_number",
                "{rods:count} rods: {why}.",
                hint="Take three to eight; four is usual.",
                rods=rods,
                why="they make no cage" if rods < FEWEST else "they do not lie in one ring without a core",
                field="count",
                source="from memory",
            )
        gap = 2 * self.bulge * sin(pi / rods) - thick
        if gap < _LEAST_GAP * thick:
            yield caution(
                "basket.hardly_open",
                "Where it is widest {gap:size} lies between two rods of {thick:size}: it hardly shows.",
                hint="Open it wider, or take fewer rods.",
                gap=gap,
                thick=thick,
                field="bulge",
                source="our judgement",
            )
        yield note(
            "basket.even_heat",
            "Wind it half a turn further than it is to stay, at one even heat; then turn it back while you"
            " push the ends together, and part the rods with a thin drift.",
            source="common practice, no source",
        )
        own = cage.rods[0]
        yield from thin_by_weld(own, Span(own.name, 0.0, self.weld))
        yield from unlike_steels(before.material, other_part(before, self.part).material, "part")
        yield from heat_band(before.material, self.heat)

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        cage = self.cage(piece)
        own, more = cage.rods[0], sum(one.volume for one in cage.rods[1:])
        low = cage.end_length
        piece = piece.with_branch(cage.made(self.part, left=self.hand == "left"))
        piece = piece.carrying(own.name, cage.move)
        joints = cage.joints(self.part)
        return replace(
            piece,
            received=piece.received + more,
            joints=(*piece.joints, *joints),
            worked=(Span(own.name, low, low + cage.length),),
        )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        cage = self.cage(before)
        one = self.turns == 1
        turned = say(
            f"twist it {'one turn' if one else '{turns:number} turns'}, {{hand}}-hand, and ",
            hand=self.hand,
            **({} if one else {"turns": self.turns}),
        )
        rods = say("{count:count} lengths of the {part}", count=self.count, part=self.part)
        if self.count == 1:
            rods = say("the {part}", part=self.part)
        return say(
            "Wire {rods} to {on}, weld {weld:length} at each end and dress it to"
            " {dressed:section}; {twist}open the rods to {wide:size} over all: they are {free:length} between"
            " the welds, and the basket comes to {long:length}.",
            rods=rods,
            on=owner_words(before, self.on),
            weld=self.weld,
            dressed=self.dressed,
            twist=turned if self.turns else say(""),
            wide=2 * self.bulge + cage.thickness,
            free=cage.free,
            long=after.worked[0].length,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        wide = after.branch(span.branch).section_at((span.low + span.high) / 2)
        return say(
            "{long:length} from weld to weld, {wide:size} over all, and the rods evenly apart",
            long=span.length,
            wide=wide.width,
        )

    examples = (
        Example(
            "Four rods of ø6 × 150, 15 welded at each end, one turn, 20 from the axis: 67.2 long",
            before=bar(
                Section.round(6),
                150,
                marks={"A": 75},
                bench={"rod": bar(Section.round(6), 150, name="rod")},
            ),
            params={
                "on": "bar",
                "part": "rod",
                "count": 3,
                "weld": 15,
                "dressed": {"shape": "square", "side": 10},
                "turns": 1,
                "bulge": 20,
            },
            after=(
                Result(
                    length=101.17,
                    worked=67.25,
                    start=Section.square(10),
                    end=Section.square(10),
                    at={50.58: Section.round(46)},
                    marks={"A": 50.58},
                ),
            ),
            lost=0,
            cautions=("basket.even_heat",),
            source=(
                "ends 4 × 28.27 × 15 / 100 = 16.96 each; between them ∫ √(L² + (2πr)² + r'²) du = 120 with"
                " r = 4.24 + 15.76 sin πu. The turns alone, √(120² - (2π × 14.14)²), would leave 80.6, but"
                " the rods have to go out and back as well"
            ),
        ),
        Example(
            "Not twisted, only bowed out: a cage",
            before=bar(Section.round(6), 150, bench={"rod": bar(Section.round(6), 150, name="rod")}),
            params={
                "on": "bar",
                "part": "rod",
                "count": 5,
                "weld": 15,
                "dressed": {"shape": "round", "diameter": 14},
                "turns": 0,
                "bulge": 26,
            },
            after=(Result(worked=111.62),),
            lost=0,
            source=(
                "six closed rods lie 6 from the axis; half a sine 20 high on 111.62 is an arc of"
                " (2 / π) √(111.62² + (20π)²) E(0.2406) = 120, with E the elliptic integral"
            ),
        ),
        Example(
            "More turns than the rods are long is refused",
            before=bar(Section.round(6), 150, bench={"rod": bar(Section.round(6), 150, name="rod")}),
            params={
                "on": "bar",
                "part": "rod",
                "weld": 15,
                "dressed": {"shape": "square", "side": 10},
                "turns": 2,
                "bulge": 20,
            },
            refused=("basket.too_many_turns",),
        ),
        Example(
            "Rods that are closed already at that bulge are refused",
            before=bar(Section.round(6), 150, bench={"rod": bar(Section.round(6), 150, name="rod")}),
            params={
                "on": "bar",
                "part": "rod",
                "weld": 15,
                "dressed": {"shape": "square", "side": 10},
                "bulge": 4,
            },
            refused=("basket.not_open",),
        ),
        Example(
            "Rods of another length are refused",
            before=bar(Section.round(6), 150, bench={"rod": bar(Section.round(6), 130, name="rod")}),
            params={
                "on": "bar",
                "part": "rod",
                "weld": 15,
                "dressed": {"shape": "square", "side": 10},
                "bulge": 20,
            },
            refused=("basket.rods_unlike",),
        ),
    )
