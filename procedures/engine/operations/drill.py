"""Drill: make a hole by removing its metal, or open one that is there; the modern way."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.shaping.hole_making import HoleMaking
from procedures.engine.shaping.holes import Hole, holes_between

SHAPES = {"round": "round", "slot": "slot: drilled at both ends, milled or filed out between"}
PITCHES = {"M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0, "M20": 2.5}
THREADS = {"none": "none", **{name: name for name in PITCHES}}
_ON_CENTRE = 0.05  # mm by which a drill may be off the middle of a hole that it opens: our judgement
_NEAR_TAP = 0.35  # mm by which a tapping hole may be off: our judgement
_HARDENS = 0.4  # % of carbon from which steel cooled fast is hard to drill: from memory


class Drill(HoleMaking):
    """Removes the metal of a hole: nothing stands up round it, and what was there is lost."""

    id = "drill"
    title = "Drill"
    family = "cut"
    help = (
        "All the metal of the hole is lost and no boss stands up. In the middle of a smaller hole it opens"
        " that one: so a hole is reamed to size."
    )
    synonyms = ("ream", "tap", "bore", "drill and tap")
    heat = None
    tools = ("drill press and twist drills", "centre punch", "clamps", "reamer or taps where asked for")
    period = "punched or drifted hot; bored cold only where that would not do"
    modern = "this is the modern way"
    safety = (
        "Clamp the work: a drill that catches whirls it round.",
        "No gloves, loose sleeves or long hair at a drilling machine.",
        "Eye protection against swarf.",
    )

    shape: str = declare.choice("Shape", SHAPES, default="round")  # type: ignore[assignment]
    thread: str = declare.choice("Thread", THREADS, "Tapped after drilling.", default="none")

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return ()

    # -- opening what is there -------------------------------------------------------------------

    def taken_over(self, piece: Piece, span: Span) -> Collection[str]:
        there = self.opened(piece.branch(span.branch), (span.low + span.high) / 2)
        return (there.name,) if there else ()

    def opened(self, branch: Branch, at: float) -> Feature | None:
        """Return the smaller hole that a drill at a place opens, or None."""
        hole = self.hole
        for one in holes_between(branch, Span(branch.name, at, at)):
            inside = one.width <= hole.width and one.length <= hole.length and one.face == hole.face
            if one.is_hole and one.width > 0 and abs(one.at - at) <= _ON_CENTRE and inside:
                return one
        return None

    def named(self, piece: Piece) -> dict[str, list[tuple[float, str]]]:
        return {
            name: [self._keeping(piece.branch(name), at, new) for at, new in placed]
            for name, placed in super().named(piece).items()
        }

    def _keeping(self, branch: Branch, at: float, new: str) -> tuple[float, str]:
        there = self.opened(branch, at)
        return (there.at, there.name) if there else (at, new)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        for span in self.spans(piece):
            section = piece.branch(span.branch).section_at((span.low + span.high) / 2)
            if self.hole.width >= self.hole.across(section):
                yield stop(
                    "drill.no_wall_left",
                    "A hole {width:size} wide leaves nothing of {section:section}.",
                    hint="Drill it smaller.",
                    width=self.hole.width,
                    section=section,
                    field="size",
                    source="geometry",
                )
        if self.thread != "none" and self.shape != "round":
            yield stop(
                "drill.thread_in_a_slot",
                "A slot takes no thread.",
                hint="Drill it round, or leave the thread out.",
                field="thread",
                source="geometry",
                mend={"thread": "none"},
            )

    def wall(self, section: Section) -> float:
        """Return what is left on each side of the hole [mm]."""
        return (self.hole.across(section) - self.hole.width) / 2

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        point = self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        if self.wall(section) < self.hole.width / 2:
            yield caution(
                "drill.thin_wall",
                "Only {wall:size} is left on each side of a hole {width:size} wide.",
                hint="Keep half of the hole at least; one whole hole beside a rivet.",
                wall=self.wall(section),
                width=self.hole.width,
                field="size",
                source="common practice, no source",
            )
        yield from self.near_end(before)
        if before.material.carbon >= _HARDENS:
            yield caution(
                "drill.may_be_hard",
                "{steel} that cooled fast is too hard to drill.",
                hint="Anneal it first, and drill before it is hardened.",
                steel=before.material.title,
                source="0.4 % of carbon, from memory",
            )
        yield from self._tapping()
        yield note(
            "drill.modern_way",
            "A drilled hole shows no boss: old work has none.",
            hint="On a copy of old work punch it, or enter it among the deviations.",
            source="common practice, no source",
        )

    def _tapping(self) -> Iterator[Finding]:
        if self.thread == "none":
            return
        wanted = float(self.thread[1:]) - PITCHES[self.thread]
        if abs(self.size - wanted) > _NEAR_TAP:
            yield caution(
                "drill.tapping_size",
                "{thread} is tapped in a hole of {wanted:size}, not {size:size}.",
                hint="Drill it to {wanted:size}.",
                thread=self.thread,
                wanted=wanted,
                size=self.size,
                field="size",
                source="diameter less pitch; coarse pitches of ISO 261, from memory",
                mend={"size": wanted},
            )

    # -- making ----------------------------------------------------------------------------------

    def made(self, piece: Piece, branch: Branch, at: float, name: str) -> Piece:
        hole, section = self.hole, branch.section_at(at)
        there = self.opened(branch, at)
        area = hole.area - (Hole(there.shape, there.length, there.width).area if there else 0.0)
        volume = area * hole.through(section)
        if there is None:
            feature = Feature(
                "drilled", name, at, hole.shape, hole.length, hole.width, -volume, 0.0, hole.face
            )
            return piece.featured(branch.name, feature).losing("drill", volume)
        opened = replace(
            there,
            kind="drilled",
            shape=hole.shape,
            length=hole.length,
            width=hole.width,
            volume=there.volume - volume,
        )
        features = tuple(opened if one is there else one for one in branch.features)
        return piece.with_branch(replace(branch, features=features)).losing("drill", volume)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        one = len(self.points(before)) == 1
        tapped = f" Tap {'it' if one else 'them'} {self.thread}." if self.thread != "none" else ""
        edge = " from the edge" if self.face == "edge" else ""
        return say(
            f"Centre-pop and drill {{holes}}{edge} at {{places}}, cold.{tapped}",
            holes=say("a hole, {hole:section}," if one else "holes, {hole:section},", hole=self.hole.section),
            places=self.places(before),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        section = after.branch(span.branch).section_at((span.low + span.high) / 2)
        return say(
            "hole {hole:section}, {wall:size} left on each side, no burr",
            hole=self.hole.section,
            wall=self.wall(section),
        )

    examples = (
        Example(
            "Ø10 through 25 × 8: 4.9 g drilled out, 7.5 left on each side",
            before=bar(Section.flat(25, 8), 200, marks={"M": 60}),
            params={"where": [{"on": "bar", "datum": "mark", "mark": "M"}], "size": 10},
            after=(Result(length=200, worked=10, section=Section.flat(25, 8), marks={"M": 60}),),
            lost=4.932,
            says=("7.5 mm left on each side",),
            source="π/4 × 10² × 8 = 628.3 mm³; (25 - 10) / 2 = 7.5",
        ),
        Example(
            "A slot of 8 × 30",
            before=bar(Section.flat(40, 6), 200),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "shape": "slot",
                "size": 8,
                "length": 30,
            },
            after=(Result(length=200, worked=30),),
            lost=10.658,
            source="(22 × 8 + π/4 × 8²) × 6 = 1357.6 mm³",
        ),
        Example(
            "Opening a punched hole takes only the ring between",
            before=bar(Section.flat(25, 8), 200),
            first=(("punch", {"where": [{"on": "bar", "datum": "centre"}], "size": 8, "name": "pin"}),),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 8.5},
            after=(Result(length=200, worked=8.5),),
            lost=0.407,
            source="π/4 × (8.5² - 8²) × 8 = 51.84 mm³",
        ),
        Example(
            "A tapping hole of the wrong size is cautioned",
            before=bar(Section.flat(25, 8), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 8, "thread": "M8"},
            after=(Result(length=200),),
            cautions=("drill.tapping_size", "drill.modern_way"),
            source="8 - 1.25 = 6.75",
        ),
        Example(
            "A hole as wide as the bar is refused",
            before=bar(Section.flat(25, 8), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 25},
            refused=("drill.no_wall_left",),
        ),
        Example(
            "A hole over the end is refused",
            before=bar(Section.flat(25, 8), 200),
            params={"where": [{"on": "bar", "datum": "end", "offset": 3}], "size": 10},
            refused=("drill.breaks_out",),
        ),
    )
