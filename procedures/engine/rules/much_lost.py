"""The metal budget: what becomes of the bar."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, PartReplay
from procedures.engine.judging.deeds import done
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.phrases import listed
from procedures.engine.pieces.piece import Piece
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import end, step, trial, whole

_MUCH = 0.12  # of the metal; whole projects of this size lose 3 to 11 % in the reckoning: our judgement
_SMALL = 0.001  # of the metal, below which a loss is not worth a word
_TO = {
    "scale": "to scale",
    "kerf": "to the saw",
    "slug": "in slugs",
    "weld": "in welds",
    "drill": "to the drill",
    "file": "to the file",
    "measured": "found short",
}


class MuchLost(PartRule):
    """Adds up what a finished part lost, offcuts not counted, and says so where it is much."""

    code = "metal.much_lost"
    level = Level.NOTE
    title = "The metal budget"
    help = (
        "What is left and what is lost make up the bar. Where more than 12 % is lost, look at the heats: "
        "scale takes more from thin work than from thick, and every heat takes its share."
    )
    source = "geometry; 12 % is our judgement"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        if part.frames and part.is_complete:
            yield from self._budget(part)

    def _budget(self, part: PartReplay) -> Iterator[Flag]:
        piece = part.final
        bar = piece.start_volume + piece.received
        lost = piece.lost()
        if lost > _MUCH * bar:
            *_, last = done(part)
            yield self.flag(
                last,
                "Of {bar:mass} of bar {lost:mass} are lost, {share:percent}: {how}. {left:mass} are left"
                "{kept}.",
                hint="Plan fewer heats, or thin the thin parts last.",
                bar=piece.mass_of(bar),
                lost=piece.mass_of(lost),
                share=lost / bar,
                how=listed(list(_how(piece))),
                left=piece.mass,
                kept=_kept(piece),
            )

    examples = (
        Case(
            "Thin bar in the fire again and again",
            trial(
                step("heat", where=whole(), heats=12),
                section={"shape": "round", "diameter": 6},
                scale={"forging": 0.05},
            ),
            fires=("s1",),
        ),
        Case(
            "Two heats on a stout bar",
            trial(step("upset", where=end(30), shortening=8, heats=2), side=20, scale={"forging": 0.05}),
        ),
        Case(
            "A long offcut is kept, not lost",
            trial(step("cut_off", at={"on": "bar", "datum": "start", "offset": 200}, offcut="rest")),
        ),
    )


def _how(piece: Piece) -> Iterator[Sentence]:
    kinds = dict.fromkeys(one.kind for one in piece.losses)
    for kind in kinds:
        volume = piece.lost(kind)
        if volume > _SMALL * piece.start_volume:
            yield say("{mass:mass} {to}", mass=piece.mass_of(volume), to=_TO.get(kind, f"to {kind}"))


def _kept(piece: Piece) -> Sentence:
    kept = sum(one.volume for one in piece.offcuts)
    return say(", and {kept:mass} in offcuts", kept=piece.mass_of(kept)) if kept else say("")
