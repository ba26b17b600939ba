"""Open a split: spread its arms."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from math import radians, sin
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.zones import merged
from procedures.engine.place_words import owner_words
from procedures.engine.sketch import Sketch

_WIDEST = 340.0  # degrees between the outermost arms
_FILLET, _FILLET_SHARE = 3.0, 0.25  # mm, and of the thickness: from memory


class OpenSplit(Operation):
    """Turns the arms of a split to their angles in plan; nothing gets longer or thinner."""

    id = "open_split"
    title = "Open a split"
    family = "bend"
    help = "Angles are away from the bar's own direction, seen from above: left is positive."
    synonyms = ("spread the legs", "spread the arms", "open the fork", "close a split")
    one_of = (("angle", "angles"),)
    heat = (850, 1050)
    usual_heats = (1, 1)
    tools = ("wedge or hot set", "vice", "tongs")
    period = "wedge and hammer"
    modern = "spreading jig"
    safety = ("Arms whip open: keep the face out of their plane.",)

    on: str = declare.branch("Arms", "The group of arms, or one of them.")
    angle: float | None = declare.angle(
        "Angle", "Between the outermost arms; the others fan evenly.", required=False, least=0, most=_WIDEST
    )
    angles: tuple[float, ...] | None = declare.angles(
        "Angles", "One for each arm, from the left; left of the bar is positive.", required=False
    )
    crotch_radius: float | None = declare.length("Crotch radius", required=False, least=0)

    def fans(self, piece: Piece) -> dict[tuple[str, str], tuple[Branch, ...]]:
        """Return the arms, from the left, by the parent's name and end. Raises Unworkable for others."""
        fans: dict[tuple[str, str], list[Branch]] = defaultdict(list)
        for name in piece.members(self.on):
            branch = piece.branch(name)
            held = branch.attached
            if held is None or not isinstance(held.at, str):
                raise Unworkable(
                    stop(
                        "open_split.not_an_arm",
                        "{branch} is not an arm of a split.",
                        hint="Name the group of arms.",
                        branch=branch.said,
                        field="on",
                        source="geometry",
                    )
                )
            fans[held.parent, held.at].append(branch)
        return {key: tuple(arms) for key, arms in fans.items()}

    def opened(self, piece: Piece) -> dict[str, float]:
        """Return the angle of every arm. Raises Unworkable where the angles do not go with the arms."""
        found: dict[str, float] = {}
        for arms in self.fans(piece).values():
            found.update(zip((one.name for one in arms), self._angles(len(arms)), strict=True))
        return found

    def _angles(self, count: int) -> tuple[float, ...]:
        if self.angles is None:
            whole = self.angle or 0.0
            return tuple(whole / 2 - whole * index / max(count - 1, 1) for index in range(count))
        if len(self.angles) != count:
            raise Unworkable(
                stop(
                    "open_split.angles_count",
                    "There are {angles:count} angles for {arms:count} arms.",
                    hint="Give one angle for each arm, or one angle between the outermost.",
                    angles=len(self.angles),
                    arms=count,
                    field="angles",
                )
            )
        return self.angles

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        """Return the end of the bar behind each crotch, one bar's width of it."""
        crotches = []
        for name, end in self.fans(piece):
            branch = piece.branch(name)
            reach = min(branch.section_at(branch.length if end == "end" else 0.0).width, branch.length)
            low = branch.length - reach if end == "end" else 0.0
            crotches.append(Span(name, low, low + reach))
        return tuple(crotches)

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        hot = list(self.spans(piece))
        for parent, arms in zip(self.spans(piece), self.fans(piece).values(), strict=True):
            hot += [Span(one.name, 0.0, min(parent.length, one.length)) for one in arms]
        return merged(hot)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return ()

    def problems(self, piece: Piece) -> Iterator[Finding]:
        angles = self.opened(piece)
        for (parent, end), arms in self.fans(piece).items():
            named = {one.name for one in arms}
            others = [one for one in piece.children(parent, end) if one.name not in named]
            there = sorted((*arms, *others), key=lambda one: -_held(one).offset)
            turned = [(one, angles.get(one.name, _held(one).angle)) for one in there]
            for (left, left_angle), (right, right_angle) in pairwise(turned):
                apart = _held(left).offset - _held(right).offset
                if apart > 0 and left_angle < right_angle:
                    yield stop(
                        "open_split.arms_cross",
                        "{left} at {left_angle:angle} and {right} at {right_angle:angle} cross each other.",
                        hint="From the left, each arm needs an angle no greater than the one before.",
                        left=left.name,
                        right=right.name,
                        left_angle=left_angle,
                        right_angle=right_angle,
                        field="angles" if self.angles is not None else "angle",
                        source="geometry",
                    )

    def transform(self, piece: Piece) -> Piece:
        angles = self.opened(piece)
        for name, angle in angles.items():
            branch = piece.branch(name)
            piece = piece.with_branch(replace(branch, attached=replace(_held(branch), angle=angle)))
        return piece.noting(*(Span(name, 0.0, piece.branch(name).length) for name in angles))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        if self.crotch_radius is None:
            return
        thickness = after.branch(after.worked[0].branch).section_at(0.0).thickness
        least = max(_FILLET, _FILLET_SHARE * thickness)
        if self.crotch_radius < least:
            yield caution(
                "open_split.sharp_crotch",
                "A crotch radius of {radius:size} is sharp: a cold shut starts there.",
                hint="Round it to {least:size} with a fuller or file.",
                radius=self.crotch_radius,
                least=least,
                field="crotch_radius",
                source="3 mm and a quarter of the thickness from memory",
                mend={"crotch_radius": least},
            )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        arms = next(iter(self.fans(before).values()))
        angles = tuple(self.opened(before)[one.name] for one in arms)
        between = angles[0] - angles[-1]
        return {"angles": angles, **({"angle": between} if 0 <= between <= _WIDEST else {})}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        arms = [
            say("arm {name} {angle:angle}{side}", name=name, angle=abs(angle), side=_side(angle))
            for name, angle in self.opened(before).items()
        ]
        if self.angles is None and len(arms) > 1:
            return say(
                "Open {on} to {angle:angle} between the outermost{fillet}.",
                on=f"the {self.on}" if self.on in before.groups else owner_words(before, self.on),
                angle=self.angle or 0.0,
                fillet=self._fillet(),
            )
        return say("Open the split: {arms}{fillet}.", arms=listed(arms), fillet=self._fillet())

    def _fillet(self) -> Sentence:
        if self.crotch_radius is None:
            return say("")
        return say(", the crotch rounded to {radius:size}", radius=self.crotch_radius)

    def check(self, before: Piece, after: Piece) -> Sentence:
        first, last = after.worked[0], after.worked[-1]
        angles = self.opened(before)
        between = abs(angles[first.branch] - angles[last.branch])
        if first.branch == last.branch:
            return say("{angle:angle} off the line of the bar", angle=abs(angles[first.branch]))
        if 0 < between < 180 and abs(first.length - last.length) < 1:
            tips = 2 * first.length * sin(radians(between) / 2)
            return say(
                "{between:angle} between the outermost arms, or tips {tips:length} apart if straight",
                between=between,
                tips=tips,
            )
        return say("{between:angle} between the outermost arms", between=between)

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.angle(span.branch, _held(after.branch(span.branch)).angle)

    examples = (
        Example(
            "Two arms to 30° each side: no length changes",
            before=bar(Section.flat(30, 8), 300),
            first=(
                (
                    "split",
                    {
                        "where": {"on": "bar", "datum": "end", "offset": 100},
                        "children": ["left", "right"],
                    },
                ),
            ),
            params={"on": "arms", "angles": [30, -30]},
            after=(Result(length=200), Result("left", length=100), Result("right", length=100)),
            lost=0,
            source="tips 2 × 100 × sin 30° = 100 apart",
        ),
        Example(
            "Three arms fanned evenly by one angle, with scale on",
            before=bar(Section.flat(45, 10), 300),
            first=(
                (
                    "split",
                    {
                        "where": {"on": "bar", "datum": "end", "offset": 100},
                        "children": ["left", "middle", "right"],
                    },
                ),
            ),
            params={"on": "arms", "angle": 120},
            heats=1,
            scale=0.05,
            after=(
                Result(length=200, at={199: Section.flat(44.9, 9.9), 100: Section.flat(45, 10)}),
                Result("middle", length=100, start=Section.flat(14.9, 9.9)),
            ),
            source="60°, 0° and -60°; one heat scales one bar's width on either side of the crotch",
        ),
        Example(
            "Arms that would cross are refused",
            before=bar(Section.flat(30, 8), 300),
            first=(
                (
                    "split",
                    {
                        "where": {"on": "bar", "datum": "end", "offset": 100},
                        "children": ["left", "right"],
                    },
                ),
            ),
            params={"on": "arms", "angles": [-20, 20]},
            refused=("open_split.arms_cross",),
        ),
        Example(
            "A bar that is not split is refused",
            before=bar(Section.flat(30, 8), 300),
            params={"on": "bar", "angle": 60},
            refused=("open_split.not_an_arm",),
        ),
    )


def _held(branch: Branch) -> Attachment:
    """Return how an arm hangs on its parent."""
    assert branch.attached is not None  # made sure of by `fans`
    return branch.attached


def _side(angle: float) -> str:
    return " to the left" if angle > 0 else " to the right" if angle < 0 else ""
