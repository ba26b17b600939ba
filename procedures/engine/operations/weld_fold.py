"""Weld a fold: make the flap of a fold one with the bar it lies on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from calculators.formulas.ring_blank import blank_length
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import (
    bent_metal,
    end_taken,
    in_the_way,
    no_such_bar,
)
from procedures.engine.shaping.folds import Fold, FoldWeld, fold_at_end
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.welding_checks import fire_welds, short_lap, thin_by_weld

_ROOM = 1.02  # how far the dressed area may exceed what lies there, as sections are measured: from memory


class WeldFold(Operation):
    """Forge-welds the flap of a fold into its seat, dressed to one section; an eye may be left there."""

    id = "weld_fold"
    title = "Weld a fold"
    family = "weld"
    help = "Flap and seat become one run of the dressed section; its length follows from their metal."
    synonyms = ("fold weld", "fire weld a return", "welded eye", "hinge eye")
    heat = (1250, 1300)
    usual_heats = (0, 0)
    usual_welding_heats = 2
    tools = ("flux", "clean deep fire", "hammer and anvil face", "mandrel pin for an eye")
    power_tools = ("light blows only, the first by hand",)
    helper = "above 20 mm"
    period = "forge weld, the ordinary joint before about 1900"
    modern = "arc weld, ground and textured"
    safety = (
        "Flux and slag spray at the first blow: eyes and onlookers behind a shield.",
        "Nothing that lifts or carries people hangs on a weld without its own test.",
    )

    on: str = declare.branch("On", "The folded branch, or the group whose every member is welded.")
    end: End = declare.choice("The fold is at", {"end": "its end", "start": "its start"}, default="end")
    dressed: Section = declare.section("Dressed section", "What the weld measures when done.")
    eye: float = declare.length(
        "Eye", "Inside diameter of an eye left open at the fold; 0 welds it solid.", default=0.0, least=0
    )
    seat: float | None = declare.length(
        "Seat", "How much of the bar is worked into the weld; as much as the flap covers.", required=False
    )

    # -- where it is -----------------------------------------------------------------------------

    def seen(self, branch: Branch) -> Branch:
        """Return the branch seen so that the fold is at its end."""
        return branch if self.end == "end" else branch.turned()

    def weld(self, branch: Branch) -> FoldWeld:
        """Return the weld to be, on the branch seen with the fold at its end. Raises Unworkable."""
        fold = fold_at_end(branch)
        if fold is None:
            raise Unworkable(
                stop(
                    "weld_fold.no_fold",
                    "There is no fold with a straight flap at the {end} of {branch}.",
                    hint="Fold it back first, or choose the other end.",
                    end=self.end,
                    branch=branch.said,
                    field="on",
                    source="geometry",
                )
            )
        eye = blank_length(self.eye, fold.thickness(branch)) if self.eye else 0.0
        flap = branch.length - fold.middle - eye / 2
        if flap < TOUCH:
            raise Unworkable(self._too_large_an_eye(branch, fold, eye))
        weld = FoldWeld(fold, eye, flap if self.seat is None else self.seat)
        if weld.seat < flap - TOUCH or weld.seat_low < -TOUCH:
            raise Unworkable(self._too_short_a_seat(branch, weld, flap))
        return weld

    def _too_large_an_eye(self, branch: Branch, fold: Fold, eye: float) -> Finding:
        return stop(
            "weld_fold.eye_takes_the_flap",
            "An eye of {inside:size} takes {eye:length} of bar and leaves nothing of the flap to weld.",
            hint="Fold a longer flap, or make the eye smaller.",
            inside=self.eye,
            eye=eye,
            field="eye",
            source="geometry",
        )

    def _too_short_a_seat(self, branch: Branch, weld: FoldWeld, flap: float) -> Finding:
        return stop(
            "weld_fold.seat_too_short",
            "{flap:length} of flap have only {seat:length} of {branch} to lie on.",
            hint="The seat is at least as long as the flap: fold less back, or weld a longer seat.",
            flap=flap,
            seat=min(weld.seat, max(weld.eye_low, 0.0)),
            branch=branch.said,
            field="seat" if self.seat is not None else "on",
            source="geometry",
        )

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        found = []
        for name in piece.members(self.on):
            branch = self.seen(piece.branch(name))
            low = max(self.weld(branch).seat_low, 0.0)
            high = branch.length
            found.append(Span(name, low, high) if self.end == "end" else Span(name, 0.0, high - low))
        return tuple(found)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from fire_welds(piece, field="on")
        for name in piece.members(self.on):
            branch = self.seen(piece.branch(name))
            weld = self.weld(branch)
            yield from end_taken(piece, name, self.end, "end")
            yield from bent_metal(branch, Span(name, weld.seat_low, min(weld.eye_low, weld.fold.low)), "seat")
            yield from self._in_the_weld(piece, name, weld)
            yield from no_such_bar(branch, Span(name, weld.seat_low, branch.length), self.dressed, "dressed")
            yield from self._too_little(branch, weld)

    def _in_the_weld(self, piece: Piece, name: str, weld: FoldWeld) -> Iterator[Finding]:
        whole = piece.branch(name)
        for low, high in ((weld.seat_low, weld.eye_low), (weld.eye_high, whole.length)):
            span = Span(name, low, high)
            if self.end == "start":
                span = Span(name, whole.length - high, whole.length - low)
            yield from in_the_way(piece, whole, span, "on", holes=holes_between(whole, span))

    def _too_little(self, branch: Branch, weld: FoldWeld) -> Iterator[Finding]:
        volume = branch.volume_between(weld.seat_low, weld.eye_low)
        volume += branch.volume_between(weld.eye_high, branch.length)
        there = volume / weld.seat
        if self.dressed.area > _ROOM * there:
            yield stop(
                "weld_fold.too_little_metal",
                "{dressed:section} is {wanted:area}; flap and seat together are {there:area}.",
                hint="Dress it smaller, or upset before folding.",
                dressed=self.dressed,
                wanted=self.dressed.area,
                there=there,
                field="dressed",
                source="geometry; 2 % from memory",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        name = before.members(self.on)[0]
        branch = self.seen(before.branch(name))
        weld = self.weld(branch)
        yield from thin_by_weld(branch, Span(name, weld.seat_low, branch.length))
        yield from short_lap(branch.length - weld.eye_high, weld.fold.thickness(branch), "on")

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        spans: list[Span] = []
        for name in piece.members(self.on):
            piece, span = self._welded(piece, name)
            spans.append(span)
        return replace(piece, worked=tuple(spans))

    def _welded(self, piece: Piece, name: str) -> tuple[Piece, Span]:
        whole = piece.branch(name)
        seen = self.seen(whole)
        weld = self.weld(seen)
        new, move = weld.welded(seen, self.dressed)
        low, high = weld.seat_low, new.length - weld.eye
        joined = high if weld.eye else (low + high) / 2
        at_end, length, old = self.end == "end", new.length, whole.length
        piece = piece.with_branch(self.seen(new))
        piece = piece.carrying(name, move if at_end else lambda at: length - move(old - at))
        seam = Point(name, joined if at_end else length - joined)
        joint = Joint("fold_weld", (seam,), f"{name} fold")
        span = Span(name, low, high) if at_end else Span(name, length - high, length - low)
        return replace(piece, joints=(*piece.joints, joint)), span

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        branch = self.seen(before.branch(before.members(self.on)[0]))
        return {"seat": self.weld(branch).seat}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        eye = say(", leaving an eye of {inside:size} round the mandrel", inside=self.eye) if self.eye else ""
        return say(
            f"Weld the fold at the {self.end} of {{on}}{{eye}}, and dress the weld to {{dressed:section}}: "
            "it comes to {long:length}.",
            on=owner_words(before, self.on),
            eye=eye,
            dressed=self.dressed,
            long=after.worked[0].length,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        whole = after.branch(after.worked[0].branch).length
        if self.eye:
            return say(
                "{dressed:section} along {long:length}, a mandrel of {inside:size} goes through the eye",
                dressed=self.dressed,
                long=after.worked[0].length,
                inside=self.eye,
            )
        return say(
            "{dressed:section} at the weld, {whole:length} over all", dressed=self.dressed, whole=whole
        )

    examples = (
        Example(
            "A flap of 60 welded solid: its metal and that of its seat in 20 × 9",
            before=bar(Section.flat(20, 5), 200),
            first=(("fold_back", {"on": "bar", "flap": 60}),),
            params={"on": "bar", "dressed": {"shape": "flat", "width": 20, "thickness": 9}},
            after=(Result(length=143.2, worked=71.03, section=Section.flat(20, 9)),),
            lost=0,
            source="flap and seat 60 + 3.93 each: 127.85 × 100 / 180 = 71.03; 200 - 127.85 + 71.03 = 143.2",
        ),
        Example(
            "A hinge eye on a 10 mm pin at the start of a strap",
            before=bar(Section.flat(30, 6), 300, marks={"A": 150}),
            first=(("fold_back", {"on": "bar", "end": "start", "flap": 60, "gap": 10}),),
            params={
                "on": "bar",
                "end": "start",
                "eye": 10,
                "dressed": {"shape": "flat", "width": 30, "thickness": 8},
            },
            after=(Result(length=276.3, worked=71.15, section=Section.flat(30, 8), marks={"A": 126.28}),),
            lost=0,
            source="eye π × 16 = 50.27; flap 60 - 12.57 = 47.43 and as much seat: 94.87 × 6 / 8 = 71.15; "
            "300 - 94.87 + 71.15 = 276.3",
        ),
        Example(
            "With two welding heats the weld comes out shorter",
            before=bar(Section.flat(20, 6), 200),
            first=(("fold_back", {"on": "bar", "flap": 60}),),
            params={"on": "bar", "dressed": {"shape": "flat", "width": 20, "thickness": 10}},
            welding_heats=2,
            weld_scale=0.1,
            after=(Result(worked=71.03, section=Section.flat(20, 10)),),
            source="19.6 × 5.6 after 2 × 0.1 mm a face: 2 × (60 + 4.712) mm of it fill 200 mm² for 71.03; "
            "without scale 77.7",
        ),
        Example(
            "A bar that is not folded is refused",
            before=bar(Section.flat(20, 5), 200),
            params={"on": "bar", "dressed": {"shape": "flat", "width": 20, "thickness": 9}},
            refused=("weld_fold.no_fold",),
        ),
        Example(
            "A section that flap and seat cannot fill is refused",
            before=bar(Section.flat(20, 5), 200),
            first=(("fold_back", {"on": "bar", "flap": 60}),),
            params={"on": "bar", "dressed": {"shape": "flat", "width": 20, "thickness": 12}},
            refused=("weld_fold.too_little_metal",),
        ),
    )
