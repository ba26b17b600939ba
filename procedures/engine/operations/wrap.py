"""Wrap: bind bars with turns of wire or thin rod."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi

from calculators.formulas.wrap_length import turn_length
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import points_words
from procedures.engine.shaping.bringing import other_part
from procedures.engine.shaping.bundling import Bundle, Bundling
from procedures.engine.shaping.checks import name_taken
from procedures.engine.shaping.hanging import hung, numbered
from procedures.engine.shaping.holes import free_names
from procedures.engine.sketch import Sketch

_COLD = 4.0  # mm of wire that winds cold: from memory
_TIGHT = 1.5  # wire diameters across the core, below which it must be pulled hot: from memory
_TAIL = (10.0, 20.0)  # mm at each end, to tuck in: from memory


class Wrap(Bundling):
    """Winds wire or thin rod round bars, close or open, and tucks its ends in."""

    id = "wrap"
    holder = "rod"
    title = "Wrap"
    family = "weld"
    help = "The length of wire follows from the turns, the pitch and what they go round."
    synonyms = ("bind", "binding", "coil", "whip", "wire wrap", "wind")
    one_of = (("wire", "rod"),)
    heat = (700, 900)
    usual_heats = (1, 1)
    tools = ("vice", "pliers or tongs", "light hammer")
    period = "thin rod, wound hot"
    modern = "soft wire"
    safety = ("Wire and thin rod spring back when let go: eyes covered, hold the end.",)

    wire: float | None = declare.length("Wire", "Diameter; its metal comes in.", required=False)
    rod: str | None = declare.part(
        "Rod made as a part", "One for each place, wound in whole.", required=False
    )
    turns: float = declare.number("Turns", above=0, most=200)
    pitch: float | None = declare.length(
        "Pitch", "From turn to turn; the turns lie close when left out.", required=False
    )
    tails: float = declare.length("Tails", "Both together, to tuck in.", default=30.0, least=0)
    name: str = declare.name("Name", "Several are numbered.", default="wrap")

    # -- the wire --------------------------------------------------------------------------------

    def diameter(self, piece: Piece) -> float:
        """Return how thick the wire is [mm]. Raises Unworkable."""
        if self.wire is not None:
            return self.wire
        assert self.rod is not None  # one of the two is always given
        root = other_part(piece, self.rod, "rod").root
        return root.section_at(root.length / 2).thickness

    def step(self, piece: Piece) -> float:
        """Return the pitch [mm]. Raises Unworkable."""
        return self.diameter(piece) if self.pitch is None else self.pitch

    def wound(self, piece: Piece, bundle: Bundle) -> float:
        """Return the length of wire in the turns and the tails [mm]. Raises Unworkable."""
        one = turn_length(bundle.around, self.diameter(piece), self.step(piece))
        return self.turns * one + self.tails

    def metal(self, piece: Piece, bundle: Bundle) -> float:
        """Return the metal of one wrap [mm³]. Raises Unworkable."""
        if self.rod is not None:
            return other_part(piece, self.rod, "rod").volume
        return pi / 4 * self.diameter(piece) ** 2 * self.wound(piece, bundle)

    def reach(self, piece: Piece) -> float:
        return self.turns * self.step(piece) / 2

    def covered(self, piece: Piece, point: Point) -> Span:
        branch, reach = piece.branch(point.branch), self.reach(piece)
        over = max(reach - point.at, point.at + reach - branch.length)
        if over > TOUCH:
            raise Unworkable(
                stop(
                    "wrap.off_the_bar",
                    "{turns:number} turns reach {over:length} beyond the end of {branch}.",
                    hint="Take fewer turns, or set it further in.",
                    turns=self.turns,
                    over=over,
                    branch=branch.said,
                    field="turns",
                    source="geometry",
                )
            )
        return super().covered(piece, point)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.step(piece) < self.diameter(piece) - TOUCH:
            yield stop(
                "wrap.turns_overlap",
                "At a pitch of {pitch:size} turns of {wire:size} lie on each other.",
                hint="Give {wire:size} at least.",
                pitch=self.step(piece),
                wire=self.diameter(piece),
                field="pitch",
                mend={"pitch": None},
                source="geometry",
            )
        if self.part:
            yield from name_taken(piece, numbered(piece, self.part, len(self.points(piece))), "part")
        yield from self.fits_round(piece)
        yield from self._enough(piece)

    def _enough(self, piece: Piece) -> Iterator[Finding]:
        if self.rod is None:
            return
        have = other_part(piece, self.rod, "rod").root.length
        for point in self.points(piece):
            wanted = self.wound(piece, self.bundled(piece, point)) - self.tails
            if have < wanted - TOUCH:
                yield stop(
                    "wrap.rod_too_short",
                    "{turns:number} turns take {wanted:length}; the {rod} is {have:length} long.",
                    hint="Make it longer, or take fewer turns.",
                    turns=self.turns,
                    wanted=wanted,
                    rod=self.rod,
                    have=have,
                    field="rod",
                    source="geometry",
                )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        wire = self.diameter(before)
        bundle = self.bundled(before, self.points(before)[0])
        if min(bundle.width, bundle.height) < _TIGHT * wire:
            yield caution(
                "wrap.tight",
                "Round {core:size} wire of {wire:size} does not pull tight cold.",
                hint="Pull it on hot, or take thinner wire.",
                core=min(bundle.width, bundle.height),
                wire=wire,
                field="wire",
                source="1.5 diameters from memory",
            )
        if wire > _COLD:
            yield note(
                "wrap.hot",
                "Wire of {wire:size} is wound hot.",
                hint="Up to {most:size} winds cold.",
                wire=wire,
                most=_COLD,
                field="wire",
                source="4 mm from memory",
            )
        if self.tails < 2 * _TAIL[0]:
            yield note(
                "wrap.short_tails",
                "{tails:length} for both tails is little to tuck in.",
                hint="Leave {least:length} to {most:length} at each end.",
                tails=self.tails,
                least=_TAIL[0],
                most=_TAIL[1],
                field="tails",
                source="from memory",
            )
        yield from self.touching(before)

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        points = self.points(piece)
        bundles = [self.bundled(piece, one) for one in points]
        held = [self.held(piece, one) for one in points]
        names: tuple[str, ...] = ()
        if self.part:
            holds = [self.hold(piece, one) for one in points]
            piece, names = hung(piece, other_part(piece, self.part), holds, self.part)
        for index, (point, bundle) in enumerate(zip(points, bundles, strict=True)):
            piece = self._bound(piece, point, bundle, held[index], names[index : index + 1])
        return replace(piece, worked=tuple(self.covered(piece, one) for one in points))

    def _bound(
        self, piece: Piece, point: Point, bundle: Bundle, held: list[Point], names: tuple[str, ...]
    ) -> Piece:
        wire, metal = self.diameter(piece), self.metal(piece, bundle)
        (name,) = free_names(piece.branch(point.branch), self.name, 1)
        long = self.turns * self.step(piece)
        wide = bundle.width + 2 * wire
        feature = Feature(
            "wrap", name, point.at, "rectangle", long, wide, metal, depth=wire, turns=self.turns
        )
        piece = replace(piece.featured(point.branch, feature), received=piece.received + metal)
        return self.joined(piece, "wrap", name, [point, *held], names)

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        bundle = self.bundled(before, self.points(before)[0])
        wire = say(
            "{length:length} of wire {wire:section}",
            length=self.wound(before, bundle),
            wire=Section.round(self.diameter(before)),
        )
        pitch = say("close")
        if self.pitch is not None and self.pitch > self.diameter(before) + TOUCH:
            pitch = say("{pitch:size} apart", pitch=self.pitch)
        return say(
            "Wind {wire} in {turns:number} turns, {pitch}, round {bars} at {places}, and tuck the ends in.",
            turns=self.turns,
            wire=say("the {rod}", rod=self.rod) if self.rod else wire,
            pitch=pitch,
            bars=listed(self.bars(before)),
            places=points_words(before, self.where),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{turns:number} turns over {long:length}, tight, no end standing out",
            turns=self.turns,
            long=self.turns * self.step(before),
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)

    examples = (
        Example(
            "Eight close turns of ø4 on ø12: 50.42 a turn, 403.4 without tails",
            before=bar(Section.round(12), 300),
            params={"where": [{"on": "bar", "datum": "centre"}], "wire": 4, "turns": 8, "tails": 0},
            after=(Result(length=300, worked=32),),
            lost=0,
            says=("403.4 mm of wire ø4 mm in 8 turns, close",),
            source="√((π × 16)² + 4²) = 50.42; 8 × 50.42",
        ),
        Example(
            "Two bars bound with six turns 8 apart",
            before=bar(Section.square(10), 300, bench={"twig": bar(Section.square(10), 150, name="twig")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "twig",
                "wire": 3,
                "turns": 6,
                "pitch": 8,
            },
            after=(Result(length=300, worked=48), Result("twig", length=150)),
            says=("449.3 mm of wire ø3 mm in 6 turns, 8 mm apart",),
            source="2 × (20 + 10) + π × 3 = 69.42; √(69.42² + 8²) = 69.88; 6 × 69.88 + 30",
        ),
        Example(
            "A rod made for it is wound in whole, and scales",
            before=bar(Section.round(12), 300, bench={"vine": bar(Section.round(6), 260, name="vine")}),
            params={"where": [{"on": "bar", "datum": "centre"}], "rod": "vine", "turns": 4},
            heats=1,
            scale=0.05,
            after=(Result(length=300, worked=23.6),),
            lost=1.91,
            cautions=("wrap.hot",),
            source="260 × π/4 × (6² - 5.9²) mm³; 4 × 5.9",
        ),
        Example(
            "Thick wire on a thin core is pulled hot",
            before=bar(Section.round(5), 300),
            params={"where": [{"on": "bar", "datum": "centre"}], "wire": 4, "turns": 3, "tails": 10},
            after=(Result(length=300),),
            cautions=("wrap.tight", "wrap.short_tails"),
        ),
        Example(
            "Turns closer than the wire is thick are refused",
            before=bar(Section.round(12), 300),
            params={"where": [{"on": "bar", "datum": "centre"}], "wire": 4, "turns": 8, "pitch": 3},
            refused=("wrap.turns_overlap",),
        ),
        Example(
            "More turns than there is bar are refused",
            before=bar(Section.round(12), 100),
            params={"where": [{"on": "bar", "datum": "end", "offset": 10}], "wire": 4, "turns": 8},
            refused=("wrap.off_the_bar",),
        ),
        Example(
            "A rod too short for its turns is refused",
            before=bar(Section.round(12), 300, bench={"vine": bar(Section.round(6), 150, name="vine")}),
            params={"where": [{"on": "bar", "datum": "centre"}], "rod": "vine", "turns": 4},
            refused=("wrap.rod_too_short",),
        ),
    )
