"""Spread: widen an end to a fan, a leaf, an arrow or a disc."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, plain_bar, thin_end
from procedures.engine.shaping.spread_checks import bar_beyond, not_spread, not_thinner, sizes_given, too_wide
from procedures.engine.shaping.spreading import SHAPES, Outline, Shape
from procedures.engine.shaping.tapering import ENDS, end_meant

_WORDS = {
    "fan": "Spread {run} to a fan {width:size} wide and {thickness:size} thick at its end",
    "leaf": "Spread {run} to a leaf {width:size} wide and {thickness:size} thick",
    "arrow": "Spread {run} to an arrow {width:size} wide and {thickness:size} thick",
    "disc": "Spread {run} to a disc {width:size} across and {thickness:size} thick",
}


class Spread(Operation):
    """Widens an end more than it lengthens it, to an outline of a given thickness."""

    id = "spread"
    title = "Spread"
    family = "move"
    help = (
        "Give the greatest width and the length follows, or the length and the width follows. A disc makes"
        " its own size from its metal. Work outward from the middle line with the peen, then dress it flat."
    )
    synonyms = (
        "splay",
        "flare",
        "fan",
        "fishtail",
        "leaf",
        "penny end",
        "penny foot",
        "arrow head",
        "spade end",
    )
    heat = (980, 1150)
    usual_heats = (3, 2)
    tools = ("cross- or straight-peen hammer", "anvil face", "flatter to finish")
    power_tools = ("crowned dies",)
    period = "hammer and anvil; the same today"
    modern = "blanks cut by plasma or laser; say so on a reproduction"
    safety = ("Thin edges lose their colour at once and still burn; they come out sharp.",)

    where: Place = declare.place("Where", "The end of bar that is spread.")
    outline: Shape = declare.choice("Outline", SHAPES)
    thickness: float = declare.length("Thickness", "When done; of a fan, at its end.")
    width: float | None = declare.length("Greatest width", "From this the length follows.", required=False)
    length: float | None = declare.length("Length", "From this the width follows.", required=False)
    neck: float = declare.length(
        "Width at the neck", "How wide a leaf begins; by rule of thumb from nothing.", default=0.0, least=0
    )
    wide_end: str = declare.choice(
        "Toward", ENDS, "The way the outline points, away from the bar it hangs on.", default="free"
    )

    # -- what it becomes -------------------------------------------------------------------------

    def side(self, branch: Branch, span: Span) -> End:
        """Return the end of the run that is the far end of the outline."""
        return end_meant(branch, span, self.wide_end)

    def plan(self, branch: Branch, span: Span) -> Outline:
        """Return the outline of a run."""
        first, last = branch.sections_between(span.low, span.high)
        root = first if self.side(branch, span) == "end" else last
        return Outline(self.outline, self.thickness, root, self.neck if self.outline == "leaf" else 0.0)

    def width_of(self, branch: Branch, span: Span) -> float:
        """Return how wide [mm] the outline of a run is. Raises Unworkable where no width gives its length."""
        if self.width is not None:
            return self.width
        volume = branch.volume_between(span.low, span.high)
        found = self.plan(branch, span).width_for(volume, self.length or 0.0)
        if found is None:
            raise Unworkable(
                stop(
                    "spread.length_out_of_reach",
                    "This run holds {there:volume}: it makes no {outline} {length:length} long at any width.",
                    hint="Give a shorter length, a thinner edge, or a longer run of bar.",
                    there=volume,
                    outline=self.outline,
                    length=self.length or 0.0,
                    field="length",
                    source="geometry",
                )
            )
        return found

    def made(self, branch: Branch, span: Span) -> tuple[Segment, ...]:
        """Return what becomes of a run. Raises Unworkable."""
        volume = branch.volume_between(span.low, span.high)
        run = self.plan(branch, span).run(volume, self.width_of(branch, span))
        if self.side(branch, span) == "start":
            return tuple(one.turned() for one in reversed(run))
        return run

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        found = list(sizes_given(self.outline, self.width, self.length, self.neck))
        yield from found
        if found:
            return
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(plain_bar(branch, span)) or list(bar_beyond(piece, span, self.side(branch, span)))
            found = found or list(not_thinner(branch, span, self.thickness))
            yield from found
            if not found:
                field = "width" if self.width is not None else "length" if self.length else "where"
                yield from not_spread(branch, span, self.made(branch, span), field)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        along = before.branch(span.branch).sections_along(span.low, span.high)
        bar_width = max(one.width for one in along)
        yield from thin_end(Section.flat(self.widest(after), self.thickness), "thickness")
        yield from too_wide(self.widest(after), self.thickness, bar_width)
        yield note(
            "spread.from_the_middle",
            "Work outward from the middle line, and brush before every heat: scale is pressed in.",
            source="common practice, no source",
        )
        yield from holes_worked(before, self.spans(before))

    # -- making and words ------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            piece = piece.reshaped(span, *self.made(piece.branch(span.branch), span))
        return piece

    def widest(self, after: Piece) -> float:
        """Return how wide [mm] the (first) finished outline is."""
        span = after.worked[0]
        return max(one.width for one in after.branch(span.branch).sections_along(span.low, span.high))

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        if self.width is not None:
            return {"length": worked_length(after)}
        return {"width": self.widest(after)}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        words = {
            "run": range_words(before, self.where),
            "width": self.widest(after),
            "thickness": self.thickness,
        }
        if self.outline == "disc":
            return say(_WORDS["disc"] + ".", **words)
        return say(_WORDS[self.outline] + ": it comes to {long:length}.", **words, long=worked_length(after))

    def check(self, before: Piece, after: Piece) -> Sentence:
        words = {"width": self.widest(after), "thickness": self.thickness}
        if self.outline == "disc":
            return say("{width:size} across, {thickness:size} thick", **words)
        return say(
            "{width:size} at the widest, {thickness:size} thick, {long:length} long",
            **words,
            long=worked_length(after),
        )

    examples = (
        Example(
            "20 × 10, the last 25 to a fan 45 wide and 3 thick",
            before=bar(Section.flat(20, 10), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 25},
                "outline": "fan",
                "width": 45,
                "thickness": 3,
            },
            after=(Result(length=200.4, worked=25.4, end=Section.flat(45, 3)),),
            source="6 × 5000 / (20 × 10 + 65 × 13 + 45 × 3) = 25.4",
        ),
        Example(
            "2200 mm³ to a leaf 22 wide and 2.5 thick",
            before=bar(Section.square(10), 200, marks={"N": 178, "A": 189}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "N"},
                "outline": "leaf",
                "width": 22,
                "thickness": 2.5,
            },
            after=(
                Result(length=238, worked=60, marks={"N": 178, "A": 208}, at={208: Section.flat(22, 2.5)}),
            ),
            source="2200 / (⅔ × 22 × 2.5) = 60; half of its metal lies within half of its length",
        ),
        Example(
            "A leaf of a wanted length: the width follows",
            before=bar(Section.square(10), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 22},
                "outline": "leaf",
                "length": 50,
                "thickness": 2.5,
            },
            after=(Result(worked=50, at={203: Section.flat(26.4, 2.5)}),),
            says=("26.4 mm wide",),
            source="2200 / (⅔ × 50 × 2.5) = 26.4",
        ),
        Example(
            "A leaf that begins as wide as its neck",
            before=bar(Section.square(10), 200),
            params={
                "where": {"on": "bar", "datum": "start", "length": 22},
                "outline": "leaf",
                "width": 24,
                "thickness": 2.5,
                "neck": 6,
            },
            after=(Result(worked=52.0, start=Section.upright(2.5)),),
            source="bulge (√18 + √24)² / 4 = 20.9; 2200 / (2.5 (6/2 + ⅔ × 20.9)) = 52.0",
        ),
        Example(
            "A penny end",
            before=bar(Section.round(12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 20},
                "outline": "disc",
                "thickness": 3,
            },
            after=(Result(length=211.0, worked=30.98),),
            says=("31 mm across, 3 mm thick",),
            source="volume: 2 √(2261.9 / (3 π)) = 30.98",
        ),
        Example(
            "An arrow head, with scale on",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 20},
                "outline": "arrow",
                "width": 30,
                "thickness": 4,
            },
            heats=2,
            scale=0.05,
            after=(Result(worked=46.4, end=Section.upright(4)),),
            source="recession first: 2 × 20 × 11.8² / (30 × 4) = 46.4",
        ),
        Example(
            "Both arms of a split to fishtails",
            before=bar(Section.flat(30, 8), 200),
            first=(("split", {"where": {"on": "bar", "offset": 80}, "children": ["left", "right"]}),),
            params={
                "where": {"on": "arms", "datum": "end", "length": 25},
                "outline": "fan",
                "width": 32,
                "thickness": 2,
            },
            after=(
                Result("left", worked=27.5, end=Section.flat(32, 2)),
                Result("right", worked=27.5, end=Section.flat(32, 2)),
            ),
            cautions=("spread.too_wide",),
            source="6 × 3000 / (15 × 8 + 47 × 10 + 32 × 2) = 27.5",
        ),
        Example(
            "An outline no wider than the bar is refused",
            before=bar(Section.flat(30, 8), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 25},
                "outline": "leaf",
                "width": 28,
                "thickness": 3,
            },
            refused=("spread.not_wider",),
        ),
        Example(
            "Too little metal for its width is refused",
            before=bar(Section.square(10), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "outline": "leaf",
                "width": 50,
                "thickness": 5,
            },
            refused=("spread.not_enough_metal",),
        ),
        Example(
            "A disc is not given its size",
            before=bar(Section.round(12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 20},
                "outline": "disc",
                "width": 30,
                "thickness": 3,
            },
            refused=("spread.disc_makes_its_size",),
        ),
        Example(
            "A run inside the bar is refused",
            before=bar(Section.square(10), 200),
            params={
                "where": {"on": "bar", "datum": "centre", "length": 22},
                "outline": "leaf",
                "width": 22,
                "thickness": 2.5,
            },
            refused=("spread.bar_beyond",),
        ),
        Example(
            "A fan so long has no width",
            before=bar(Section.flat(20, 10), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 25},
                "outline": "fan",
                "length": 90,
                "thickness": 3,
            },
            refused=("spread.length_out_of_reach",),
        ),
    )
