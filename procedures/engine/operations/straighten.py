"""Straighten: take out bends, bow and wind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import STRAIGHT, Arc
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Point, Span
from procedures.engine.place_words import owner_words, range_words
from procedures.engine.shaping.checks import folded_metal
from procedures.engine.shaping.curving import is_straight

COLD_CARBON = 0.3  # % above which a bar is not straightened cold: from memory
COLD_THICK = 6.0  # mm above which only bow comes out cold: from memory


class Straighten(Operation):
    """Makes the bends in a run straight again, or only trues it and leaves its shape."""

    id = "straighten"
    title = "Straighten"
    family = "bend"
    help = (
        "Bends and scrolls come out; the centreline keeps its length. Bow and wind are never reckoned in, so"
        " taking those out changes no size."
    )
    synonyms = ("true", "flatten out", "set straight")
    heat = (705, 870)
    usual_heats = (1, 1)
    tools = ("hammer and anvil", "mallet and wood block for twisted or scrolled work", "straightedge")
    helper = "for long bars"
    period = "mallet on a block"
    modern = "press"
    safety = ("Cold bars spring back: stand clear of the ends.",)

    where: Place = declare.place("Where", "The run to straighten.")
    takes_out: str = declare.choice(
        "Take out",
        {"bends": "the bends in this run", "bow": "bow and wind only; its shape stays"},
        default="bends",
    )
    cold: bool = declare.flag("Cold", "Without a heat.")
    most_bow: float | None = declare.length(
        "Bow let pass", "How far it may be out when done.", required=False
    )
    check_by: str = declare.text("Checked by", "Such as: does not rock on a flat plate.", limit=120)

    @property
    def is_cold(self) -> bool:
        return self.cold

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return () if self.cold else self.spans(piece)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            if self.takes_out == "bends":
                branch = piece.branch(span.branch)
                yield from folded_metal(branch, span)
                yield from _closed(piece, branch, span)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return ()

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            if self.takes_out == "bends":
                piece = piece.changed(span, lambda one: replace(one, path=STRAIGHT))
            else:
                piece = piece.noting(span)
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        branch = before.branch(span.branch)
        if self.cold and before.material.carbon > COLD_CARBON:
            yield caution(
                "straighten.cold_steel",
                "{steel} may crack when it is straightened cold.",
                hint="Warm it to a dark red.",
                steel=before.material.title,
                field="cold",
                mend={"cold": False},
                source="0.3 % of carbon, from memory",
            )
        thickness = max(one.thickness for one in branch.sections_along(span.low, span.high))
        unbends = self.takes_out == "bends" and not is_straight(branch, span)
        if self.cold and unbends and thickness > COLD_THICK:
            yield caution(
                "straighten.cold_and_thick",
                "Cold, {thick:size} of thickness gives up a bow, but not a bend.",
                hint="Take a heat.",
                thick=thickness,
                field="cold",
                mend={"cold": False},
                source="6 mm from memory",
            )
        if any(one.twist for one in branch.segments_between(span.low, span.high)):
            yield caution(
                "straighten.twisted_work",
                "Part of this run is twisted: a hammer on the anvil bruises its edges.",
                hint="Use a mallet on wood or lead.",
                source="common practice, no source",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        run = range_words(before, self.where)
        span = self.spans(before)[0]
        unbends = self.takes_out == "bends" and not is_straight(before.branch(span.branch), span)
        cold = " cold" if self.cold else ""
        if unbends:
            return say(f"Straighten {{run}}{cold}: it comes to {{long:length}}.", run=run, long=span.length)
        return say(f"True {{run}}{cold}: lay it high side up, strike the high point.", run=run)

    def check(self, before: Piece, after: Piece) -> Sentence:
        parts = []
        if self.most_bow is not None:
            parts.append(say("at most {bow:length} out of straight", bow=self.most_bow))
        if self.check_by:
            parts.append(say("{words}", words=self.check_by.rstrip(".")))
        on = owner_words(before, self.where.on)
        if not parts:
            return say("Sight along {on}: straight, and no wind", on=on)
        if len(parts) == 1:
            return say("Sight along {on}: {what}", on=on, what=parts[0])
        return say("Sight along {on}: {what}; {more}", on=on, what=parts[0], more=parts[1])

    examples = (
        Example(
            "An arc comes out at the length of its centreline",
            before=bar(Section.square(8), 97.12).changed(
                Span("bar", 30, 77.12), lambda one: replace(one, path=Arc(15, 180))
            ),
            params={"where": {"on": "bar", "datum": "whole"}},
            after=(Result(length=97.1, worked=97.1),),
            source="30 + π × 15 + 20 = 97.1",
        ),
        Example(
            "Trued only: the shape stays",
            before=bar(Section.square(16), 496),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "takes_out": "bow",
                "cold": True,
                "most_bow": 1,
                "check_by": "does not rock on a flat plate",
            },
            after=(Result(length=496, section=Section.square(16)),),
        ),
        Example(
            "With scale on, its heat thins it",
            before=bar(Section.square(12), 100),
            params={"where": {"on": "bar", "datum": "whole"}},
            heats=1,
            scale=0.05,
            after=(Result(length=100, section=Section.square(11.9)),),
            lost=1.88,
            source="recession: 100 (12² - 11.9²) × 7.85e-3 = 1.88 g",
        ),
        Example(
            "A bend in thick bar does not come out cold",
            before=bar(Section.square(12), 100).changed(
                Span("bar", 30, 77.12), lambda one: replace(one, path=Arc(15, 180))
            ),
            params={"where": {"on": "bar", "datum": "whole"}, "cold": True},
            after=(Result(length=100),),
            cautions=("straighten.cold_and_thick",),
        ),
        Example(
            "A fold that is not welded is refused",
            before=bar(Section.flat(20, 5), 200).changed(
                Span("bar", 100, 200), lambda one: replace(one, layers=2)
            ),
            params={"where": {"on": "bar", "datum": "whole"}},
            refused=("shape.folded_metal",),
        ),
    )


def _closed(piece: Piece, branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop the straightening of metal that a weld holds in its bend."""
    welds = [one for one in piece.joints if one.kind in ("fold_weld", "lap_weld", "ring_weld")]
    held = any(span.low <= at <= span.high for one in welds for at in one.on(branch.name))
    if held and not is_straight(branch, span):
        yield stop(
            "straighten.held_by_a_weld",
            "A weld in this run of {branch} holds it in its bend.",
            hint="True it only, or choose a run beside the weld.",
            branch=branch.said,
            field="takes_out",
            mend={"takes_out": "bow"},
            source="geometry",
        )
