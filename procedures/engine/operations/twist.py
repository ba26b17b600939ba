"""Twist: turn part of the bar about its own axis."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import atan, degrees, sqrt
from typing import Any

from calculators.formulas.twist_strain import MILD_LIMIT, WROUGHT_LIMIT, corner_radius, corner_ratio
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import bent_metal, folded_metal
from procedures.engine.shaping.holes import holes_between

_GRIP = 25.0  # mm beyond each end of the twist: Googerty 1911
_EVEN_HEAT = 200.0  # mm that a fire heats evenly: from memory
_UNEVEN = 0.05  # of the area, from which the thin part takes the twist: our judgement


class Twist(Operation):
    """Turns a run about its own axis; its length stays, unless the smith has measured a shortening."""

    id = "twist"
    title = "Twist"
    family = "bend"
    help = "Each section turns about the axis, so volume and length stay; only the corners stretch."
    synonyms = ("barley twist", "spiral twist", "reverse twist")
    one_of = (("turns", "pitch"),)
    heat = (1000, 1200)
    usual_heats = (1, 1)
    tools = ("vice", "twisting wrench", "water to cool what runs ahead")
    helper = "to watch the twist and pour"
    period = "hot, in the vice or between two pairs of tongs"
    modern = "cold on a twisting machine: even and tight"
    safety = ("A bar that slips or snaps swings: stand out of the line of the wrench.",)

    where: Place = declare.place("Where", "The run to twist; it has to be straight.")
    turns: float | None = declare.number(
        "Turns", "Whole turns from one end to the other.", required=False, above=0, most=100
    )
    pitch: float | None = declare.length("Pitch", "Length of one turn; the turns follow.", required=False)
    hand: str = declare.choice(
        "Hand",
        {"right": "right-hand, as a common screw", "left": "left-hand"},
        default="right",
    )
    shortening: float = declare.number(
        "Shortening", "What you have measured; none is usual.", default=0, least=0, most=20, unit="%"
    )
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one has the other hand.")

    def turns_in(self, length: float) -> float:
        """Return the turns in a run of this length [mm] before it is twisted."""
        if self.turns is not None:
            return self.turns
        return length * (1 - self.shortening / 100) / (self.pitch or length)

    def ratio(self, section: Section, length: float, turns: float) -> float:
        """Return how far a corner goes round per length along: 1 is 45°."""
        return corner_ratio(corner_radius(section), length, turns)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from bent_metal(branch, span, "where")
            yield from folded_metal(branch, span)

    def transform(self, piece: Piece) -> Piece:
        times = 1 - self.shortening / 100
        for index, span in enumerate(self.spans(piece)):
            left = (self.hand == "left") != (self.mirrored and index % 2 == 1)
            turns = self.turns_in(span.length) * (-1 if left else 1)
            run = [
                replace(
                    one,
                    start=_swelled(one.start, times),
                    end=_swelled(one.end, times),
                    length=one.length * times,
                    bulge=one.bulge / sqrt(times),
                    twist=one.twist + turns * one.length / span.length,
                )
                for one in piece.branch(span.branch).segments_between(span.low, span.high)
            ]
            piece = piece.reshaped(span, *run)
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = after.worked[0]
        branch = after.branch(span.branch)
        turns = self.turns_in(self.spans(before)[0].length)
        limit = WROUGHT_LIMIT if before.material.id == "wrought_iron" else MILD_LIMIT
        ends = branch.sections_between(span.low, span.high)
        ratio = max(self.ratio(one, span.length, turns) for one in ends)
        if ratio > limit:
            yield caution(
                "twist.corners_tear",
                "The corners go over to {angle:angle} and stretch by {stretch:percent}; "
                "beyond {limit:angle} they are likely to tear.",
                hint="Take at most {most:number} turns in this length, or a longer run.",
                angle=degrees(atan(ratio)),
                stretch=sqrt(1 + ratio * ratio) - 1,
                limit=degrees(atan(limit)),
                most=round(turns * limit / ratio, 2),
                field="turns" if self.turns is not None else "pitch",
                source="corner ratio 1.0 for mild steel, 0.7 for wrought iron, from memory",
            )
        areas = [one.area for one in ends]
        if min(areas) < (1 - _UNEVEN) * max(areas):
            yield caution(
                "twist.uneven_bar",
                "The bar goes from {first:section} to {last:section}: the thin part takes the twist.",
                hint="Heat the thick end more, or cool the thin part with water as it turns.",
                first=ends[0],
                last=ends[1],
                field="where",
                source="common practice, no source",
            )
        if all(one.shape == "round" for one in ends):
            yield note(
                "twist.round_bar",
                "A twist does not show on {section:section}.",
                hint="Square it, or chisel a line along it first.",
                section=ends[0],
                field="where",
                source="geometry",
            )
        yield from self._reach(before)

    def _reach(self, before: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        branch = before.branch(span.branch)
        at_start = not branch.is_held_at_start and not before.children(branch.name, "start")
        at_end = not before.children(branch.name, "end")
        gaps = [(at_start, span.low), (at_end, branch.length - span.high)]
        left = min((gap for free, gap in gaps if free), default=_GRIP)
        if left < _GRIP:
            yield caution(
                "twist.no_grip",
                "Only {left:length} is left beyond the twist for the wrench or the vice.",
                hint="Leave {least:length} and finish the end afterwards.",
                left=left,
                least=_GRIP,
                field="where",
                source="Googerty, Hand-Forging and Wrought-Iron Ornamental Work, 1911",
            )
        if span.length > _EVEN_HEAT:
            yield caution(
                "twist.long_heat",
                "{long:length} is more than most fires heat evenly; the hottest place takes the twist.",
                hint="Twist it in two heats, or use a long gas forge.",
                long=span.length,
                field="where",
                source="150 to 200 mm from memory",
            )
        holes = holes_between(branch, span)
        if holes:
            yield caution(
                "twist.hole_inside",
                "{hole} lies in the twist and pulls out of shape.",
                hint="Twist beside it: the bar stays plain where it gets a hole.",
                hole=holes[0].said,
                field="where",
                source="common practice, no source",
            )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        length = self.spans(before)[0].length
        turns = self.turns_in(length)
        return {"turns": turns, "pitch": length * (1 - self.shortening / 100) / turns}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        turns = round(self.turns_in(self.spans(before)[0].length), 2)
        other = {"right": "left", "left": "right"}[self.hand]
        return say(
            f"Twist {{run}}: {'one turn' if turns == 1 else '{turns:number} turns'}, "
            "{hand}-hand{mirror}, at one even heat.",
            run=range_words(before, self.where),
            **({} if turns == 1 else {"turns": turns}),
            hand=self.hand,
            mirror=f" and {other}-hand in turn" if self.mirrored else "",
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        turns = self.turns_in(self.spans(before)[0].length)
        section = after.branch(span.branch).section_at((span.low + span.high) / 2)
        return say(
            "one turn in {pitch:length}, the corners at {angle:angle} to the bar",
            pitch=span.length / turns,
            angle=degrees(atan(self.ratio(section, span.length, turns))),
        )

    examples = (
        Example(
            "□12, two turns in 120: the length stays, the corners lie at 41.6°",
            before=bar(Section.square(12), 300, marks={"A": 90, "B": 210}),
            params={"where": {"on": "bar", "datum": "between", "mark": "A", "mark_to": "B"}, "turns": 2},
            after=(Result(length=300, worked=120, section=Section.square(12), marks={"B": 210}),),
            lost=0,
            source="2π × 8.485 × 2 / 120 = 0.889: arctan is 41.6°, the corner stretches by 33.8 %; pitch 60",
        ),
        Example(
            "By its pitch",
            before=bar(Section.square(12), 500),
            params={"where": {"on": "bar", "datum": "centre", "length": 150}, "pitch": 75, "hand": "left"},
            after=(Result(length=500, worked=150),),
            source="150 / 75 = 2 turns",
        ),
        Example(
            "A measured shortening thickens the bar",
            before=bar(Section.square(12), 500),
            params={"where": {"on": "bar", "datum": "centre", "length": 100}, "turns": 1, "shortening": 4},
            after=(Result(length=496, worked=96, section=Section.square(12 / 0.96**0.5)),),
            lost=0,
            source="volume: 100 × 144 / 96 = 150 mm²",
        ),
        Example(
            "Too tight a twist is cautioned",
            before=bar(Section.square(12), 500),
            params={"where": {"on": "bar", "datum": "centre", "length": 100}, "turns": 2},
            after=(Result(length=500),),
            cautions=("twist.corners_tear",),
            source="2π × 8.485 × 2 / 100 = 1.07, over 45°",
        ),
        Example(
            "A bent run is refused",
            before=bar(Section.square(12), 500),
            first=(("bend", {"where": {"on": "bar", "datum": "centre"}, "angle": 90, "inside_radius": 20}),),
            params={"where": {"on": "bar", "datum": "centre", "length": 150}, "turns": 2},
            refused=("shape.already_bent",),
        ),
    )


def _swelled(section: Section, times: float) -> Section:
    """Return the section after the run got so many times as long."""
    return section if times == 1 else section.scaled(1 / sqrt(times))
