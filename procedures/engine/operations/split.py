"""Split: divide the end of a bar lengthwise into arms."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Attachment, Branch, End, Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import owner_words, point_words
from procedures.engine.shaping.checks import (
    end_taken,
    in_the_way,
    name_taken,
    near_a_step,
    plain_bar,
)
from procedures.engine.shaping.splitting import Strip, beyond, rest, strips, taken_by_kerf

_NARROW = 0.6  # of the thickness: from memory
_ROUND_END = 0.5  # of the thickness, the least hole that stops the tear: from memory
_SAW = 1.5  # mm of kerf: from memory


class Split(Operation):
    """Divides an end lengthwise into two or more arms, each worked by itself from then on."""

    id = "split"
    title = "Split"
    family = "cut"
    help = "A chisel loses no metal, a saw its kerf. Marks beyond the crotch are on every arm afterwards."
    synonyms = ("slit", "cleave", "slit an end", "fork")
    heat = (1000, 1200)
    usual_heats = (3, 2)
    tools = ("hot chisel or hot set", "soft plate under the cut")
    power_tools = ("slitting tool",)
    helper = "to strike the set"
    period = "hot chisel, from both faces"
    modern = "sawn or cut by plasma, then dressed: the edges differ"
    safety = (
        "Cool the chisel often and grind off its mushroom.",
        "The last cut goes over the cutting plate; keep the hand out of the line.",
    )

    where: Position = declare.position("Crotch at", "Where the split ends.")
    end: End = declare.choice("Split", {"end": "the end", "start": "the start"}, default="end")
    children: tuple[str, ...] = declare.names("Arms", "Their names, from the left.", least=2)
    group: str = declare.name("Group", "One name for all arms, to work them together.", default="arms")
    shares: tuple[float, ...] | None = declare.numbers(
        "Shares", "How wide the arms are to each other, such as 1 and 2; alike when left out.", required=False
    )
    method: str = declare.choice(
        "Cut by", {"chisel": "hot chisel, which loses nothing", "saw": "saw"}, default="chisel"
    )
    kerf: float = declare.length("Kerf", "What a saw takes at each cut.", default=_SAW, least=0, most=20)

    @property
    def is_cold(self) -> bool:
        return self.method == "saw"

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return () if self.is_cold else self.spans(piece)

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self._arms(piece.branch(one.branch), one.at) for one in piece.points(self.where))

    def _arms(self, branch: Branch, at: float) -> Span:
        low, high = (at, branch.length) if self.end == "end" else (0.0, at)
        if high - low < TOUCH or high - low > branch.length - TOUCH:
            what = "no arms" if high - low < TOUCH else "nothing of the bar itself"
            raise Unworkable(
                stop(
                    "split.nothing_left",
                    f"A split from the {self.end} of {{branch}} to this place leaves {what}.",
                    hint="Set the crotch somewhere between the two ends.",
                    branch=branch.said,
                    field="where",
                    source="geometry",
                )
            )
        return Span(branch.name, low, high)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.where)

    def strips(self, piece: Piece, branch: str) -> tuple[Strip, ...]:
        """Return the arms of one branch, from the left.

        Where several branches are split in one step, each arm's name begins with that of its branch.
        """
        prefix = f"{branch} " if len(piece.members(self.where.on)) > 1 else ""
        widths = self.shares or (1.0,) * len(self.children)
        kerf = self.kerf if self.method == "saw" else 0.0
        return strips([prefix + name for name in self.children], widths, kerf)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.shares is not None and len(self.shares) != len(self.children):
            yield stop(
                "split.shares_count",
                "There are {arms:count} arms and {shares:count} shares.",
                hint="Give one share for each arm, or none for arms alike.",
                arms=len(self.children),
                shares=len(self.shares),
                field="shares",
            )
            return
        names: list[str] = []
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            names += [one.name for one in self.strips(piece, branch.name)]
            yield from end_taken(piece, branch.name, self.end, "end")
            yield from plain_bar(branch, span)
            holes = [one for one in branch.features if not _stops(one, self._crotch(span))]
            yield from in_the_way(piece, branch, span, "where", holes=holes, welds=True)
            yield from self._no_width(piece, branch, span)
        yield from name_taken(piece, names, "children")
        yield from name_taken(piece, [self.group], "group")
        if self.group in names:
            yield stop(
                "split.group_named_as_arm",
                "The group and one of its arms are both called {name}.",
                hint="Give the group a name of its own.",
                name=self.group,
                field="group",
            )

    def _crotch(self, span: Span) -> float:
        return span.low if self.end == "end" else span.high

    def _no_width(self, piece: Piece, branch: Branch, span: Span) -> Iterator[Finding]:
        strip = taken_by_kerf(self.strips(piece, branch.name), branch.segments_between(span.low, span.high))
        if strip:
            yield stop(
                "split.kerf_takes_all",
                "A kerf of {kerf:size} leaves nothing of {arm}.",
                hint="Use a thinner saw or a chisel, or make the arm wider.",
                kerf=strip.kerf,
                arm=strip.name,
                field="kerf",
                source="geometry",
                mend={"method": "chisel"},
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        arms: list[str] = []
        parts = [(span, self.strips(piece, span.branch)) for span in self.spans(piece)]
        for span, cut in parts:
            piece = self._split(piece, span, cut)
            arms += [one.name for one in cut]
        whole = tuple(Span(name, 0.0, piece.branch(name).length) for name in arms)
        return replace(piece.grouped(self.group, arms), worked=whole)

    def _split(self, piece: Piece, span: Span, cut: tuple[Strip, ...]) -> Piece:
        whole, volume = piece.branch(span.branch), piece.volume
        arm = beyond(whole, span, self.end)
        piece = piece.with_branch(rest(whole, span, self.end))
        stem, gone = piece.branch(whole.name).length, span.high if self.end == "start" else 0.0
        piece = piece.carrying(whole.name, lambda at: min(max(at - gone, 0.0), stem))
        crotch = arm.segments[0].start
        for strip in cut:
            metal = tuple(strip.segment(one) for one in arm.segments)
            held = Attachment(whole.name, self.end, offset=strip.offset(crotch))
            piece = piece.hung(replace(arm, name=strip.name, segments=metal), held)
        return piece.losing("kerf", volume - piece.volume) if self.method == "saw" else piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        branch = before.branch(span.branch)
        crotch = self._crotch(span)
        section = branch.section_at(crotch)
        arms = [one.section(section) for one in self.strips(before, branch.name)]
        narrow = min(arms, key=lambda one: one.width)
        if narrow.width < _NARROW * narrow.thickness:
            yield caution(
                "split.narrow_arm",
                "An arm of {arm:section} is narrower than {least:size}: it bends away from the chisel.",
                hint="Spread the end first, or make fewer arms.",
                arm=narrow,
                least=_NARROW * narrow.thickness,
                field="children",
                source="0.6 thicknesses from memory",
            )
        if not any(
            _stops(one, crotch) and one.width >= _ROUND_END * section.thickness for one in branch.features
        ):
            yield caution(
                "split.no_round_end",
                "Nothing stops the split at the crotch: it tears on, above all in wrought iron.",
                hint="Punch a hole of {least:size} or more at the crotch first.",
                least=_ROUND_END * section.thickness,
                field="where",
                source="common practice, no source; half a thickness from memory",
            )
        yield from near_a_step(before, branch, crotch, section, "where")
        if section.shape not in ("flat", "square"):
            yield note(
                "split.reckoned_as_flats",
                "Arms of {section:section} are reckoned as flats of the same area.",
                section=section,
                field="where",
                source="geometry",
            )

    # -- words -----------------------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        arms = [
            say(
                "{name} ({section:section})",
                name=one.branch,
                section=after.branch(one.branch).segments[0].start,
            )
            for one in after.worked
        ]
        tool = "a saw" if self.method == "saw" else "a hot chisel"
        nth = "last" if self.end == "end" else "first"
        return say(
            f"Split the {nth} {{long:length}} of {{on}}{{back}} with {tool} into {{arms}}.",
            long=after.worked[0].length,
            on=owner_words(before, self.where.on),
            back=self._back(before),
            arms=listed(arms),
        )

    def _back(self, piece: Piece) -> Sentence:
        if self.where.datum != "mark":
            return say("")
        if not self.where.offset:
            return say(", back to mark {mark},", mark=self.where.mark)
        return say(", back to {point},", point=point_words(piece, self.where))

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "arms {section:section} at the crotch, even along {long:length}"
            if self.shares is None
            else "first arm {section:section} at the crotch, even along {long:length}",
            section=after.branch(after.worked[0].branch).segments[0].start,
            long=after.worked[0].length,
        )

    examples = (
        Example(
            "30 × 8, the last 100: two arms of 15 × 8, nothing lost, the marks on both",
            before=bar(Section.flat(30, 8), 300, marks={"A": 150, "B": 260}),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 100},
                "children": ["left", "right"],
            },
            after=(
                Result(length=200, marks={"A": 150}),
                Result("left", length=100, section=Section.flat(15, 8), marks={"B": 60}),
                Result("right", length=100, section=Section.flat(15, 8), marks={"B": 60}),
            ),
            lost=0,
            cautions=("split.no_round_end",),
            source="30 / 2 = 15",
        ),
        Example(
            "Sawn: each arm gives half of the kerf",
            before=bar(Section.flat(30, 8), 300),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 100},
                "children": ["left", "right"],
                "method": "saw",
                "kerf": 1.5,
            },
            after=(Result("left", length=100, section=Section.flat(14.25, 8)),),
            lost=9.42,
            source="1.5 × 8 × 100 = 1200 mm³; (30 - 1.5) / 2 = 14.25",
        ),
        Example(
            "Three uneven arms from the start, with scale on",
            before=bar(Section.flat(40, 10), 300, marks={"A": 30}),
            params={
                "where": {"on": "bar", "datum": "start", "offset": 80},
                "end": "start",
                "children": ["left", "middle", "right"],
                "group": "tines",
                "shares": [1, 2, 1],
            },
            heats=2,
            scale=0.05,
            after=(
                Result(length=220),
                Result("middle", length=80, section=Section.flat(19.9, 9.8), marks={"A": 50}),
                Result("right", length=80, section=Section.flat(9.95, 9.8)),
            ),
            source="2 × 0.05 mm a face: 39.8 × 9.8, shared 1 : 2 : 1",
        ),
        Example(
            "A hole in the arms is refused",
            before=bar(Section.flat(30, 8), 300),
            first=(("punch", {"where": [{"on": "bar", "datum": "end", "offset": 40}], "size": 8}),),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 100},
                "children": ["left", "right"],
            },
            refused=("shape.in_the_way",),
        ),
        Example(
            "A name that is taken is refused",
            before=bar(Section.flat(30, 8), 300),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 100},
                "children": ["bar", "right"],
            },
            refused=("name.taken",),
        ),
    )


def _stops(feature: Feature, crotch: float) -> bool:
    """Whether a hole is the round end of a split to this place."""
    return abs(feature.at - crotch) <= feature.length / 2
