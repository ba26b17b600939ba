"""Fuller: press in grooves with a round tool, or neck a bar all round."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.zones import around, merged
from procedures.engine.place_words import point_words
from procedures.engine.shaping.checks import holes_worked, no_such_bar, plain_bar, thin_end
from procedures.engine.shaping.groove_checks import narrow_ridges, sharp_tool, thin_neck
from procedures.engine.shaping.grooving import Groove, Neck
from procedures.engine.shaping.holes import free_names
from procedures.engine.shaping.setting_down import BEHIND, FACES, SIDES, Face, Sides, reduced


class Fuller(Operation):
    """Presses a groove or a neck into the bar at each place; the metal driven aside makes it longer."""

    id = "fuller"
    title = "Fuller"
    family = "move"
    help = (
        "Give the depth of a groove and the radius of the fuller, or the section of a neck. What is pressed"
        " out goes into length, less what spreads sideways. The mark stays in the middle of the groove."
    )
    synonyms = ("neck", "neck in", "groove", "side in", "nick in", "guillotine", "spring fuller")
    one_of = (("depth", "neck"),)
    heat = (1000, 1200)
    usual_heats = (2, 1)
    tools = ("top and bottom fuller, or a spring fuller", "hammer")
    power_tools = ("a spring fuller between the dies", "a round bar held across the work")
    helper = "a striker with handled fullers"
    period = "handled top and bottom fullers, and a striker"
    modern = "spring or guillotine fuller"
    safety = ("A spring fuller jumps out when it is struck off its middle.",)

    where: tuple[Position, ...] = declare.positions("Middle at", "One place or several, each made alike.")
    depth: float | None = declare.length(
        "Depth of the groove", "On each side that is worked.", required=False
    )
    radius: float = declare.length("Radius of the fuller", "For a groove.", default=6.0)
    sides: Sides = declare.choice("Worked from", SIDES, "A neck is made all round.", default="two")
    face: Face = declare.choice(
        "Face", FACES, "For one side; two sides are this one and its back.", default="top"
    )
    spread: float = declare.number(
        "Spread",
        "How much of a groove's metal goes sideways instead of lengthwise.",
        default=0,
        least=0,
        most=40,
        unit="%",
    )
    neck: Section | None = declare.section("Section of the neck", "At its thinnest.", required=False)
    land: float = declare.length("Land", "How long the neck is at its thinnest.", default=2.0, least=0)
    flank: float = declare.length("Flank", "How long it runs down to that on each side.", default=4.0)
    name: str = declare.name("Name", "Of the groove; several are numbered.", default="groove")

    # -- where -----------------------------------------------------------------------------------

    @property
    def plan(self) -> Groove | Neck:
        """What is made at each place."""
        if self.neck is not None:
            return Neck(self.neck, self.land, self.flank)
        assert self.depth is not None  # one of the two is always given
        return Groove(self.radius, self.depth, self.sides, self.face, self.spread / 100)

    def points(self, piece: Piece) -> tuple[Point, ...]:
        """Return the middle of every groove, on each member of a group."""
        return tuple(point for position in self.where for point in piece.points(position))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return self.points(piece)

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self._span(piece.branch(one.branch), one.at) for one in self.points(piece))

    def _span(self, branch: Branch, at: float) -> Span:
        """Return the bar that is taken up at a place. Raises Unworkable."""
        section = branch.section_at(at)
        if self.plan.left(section) <= 0:
            raise Unworkable(self._nothing_left(section))
        found = self.plan.taken(branch, at)
        if found is None:
            raise Unworkable(
                stop(
                    "fuller.breaks_out",
                    "There is too little bar beside the place, {at:length} from the start of {branch}.",
                    hint="Set it further in.",
                    at=at,
                    branch=branch.said,
                    field="where",
                    source="geometry",
                )
            )
        return Span(branch.name, *found)

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        hot = []
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            section = branch.section_at((span.low + span.high) / 2)
            hot.append(around(branch, span.low, span.high, max(section.width, section.thickness)))
        return merged(hot)

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.neck is not None:
            point = self.points(piece)[0]
            found = list(self._no_neck(piece.branch(point.branch), point, self.neck))
            yield from found
            if found:
                return
        spans = self.spans(piece)
        for index, span in enumerate(spans):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            yield from self._meeting(branch, span, spans[:index])

    def _no_neck(self, branch: Branch, point: Point, neck: Section) -> Iterator[Finding]:
        section = branch.section_at(point.at)
        found = list(no_such_bar(branch, Span(branch.name, 0, branch.length), neck, "neck"))
        yield from found
        if not found and neck.area >= section.area:
            yield stop(
                "fuller.neck_not_thinner",
                "The neck, {neck:section}, is not thinner than {section:section}.",
                hint="Choose a smaller one.",
                neck=neck,
                section=section,
                field="neck",
                source="geometry",
            )

    def _nothing_left(self, section: Section) -> Finding:
        return stop(
            "fuller.nothing_left",
            "Pressed in {depth:size} deep, nothing is left of {section:section}.",
            hint="Make it shallower.",
            depth=self.depth or 0.0,
            section=section,
            field="depth",
            source="geometry",
        )

    def _meeting(self, branch: Branch, span: Span, earlier: tuple[Span, ...]) -> Iterator[Finding]:
        there = [
            one.said
            for one in branch.features
            if one.kind == "groove"
            and one.at + one.length / 2 > span.low
            and one.at - one.length / 2 < span.high
        ]
        alike = [one for one in earlier if one.branch == span.branch]
        if any(one.low < span.high and span.low < one.high for one in alike):
            there.append("another of this step")
        if there:
            yield stop(
                "fuller.meets_another",
                "It would run into {other}.",
                hint="Set them further apart.",
                other=there[0],
                field="where",
                source="geometry",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        spans, point = self.spans(before), self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        yield from thin_neck(self.plan, section, "depth" if self.neck is None else "neck")
        if self.neck is not None:
            yield from thin_end(self.neck, "neck")
        else:
            yield from sharp_tool(self.radius, self.plan.through(section))
            yield from narrow_ridges(self.radius, spans)
        yield note(
            "fuller.burns_first",
            "The thin place is hot first and burns first: put it last in the fire.",
            source="common practice, no source",
        )
        yield from holes_worked(before, spans)

    # -- making ----------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        by_branch: dict[str, list[float]] = defaultdict(list)
        for point in self.points(piece):
            by_branch[point.branch].append(point.at)
        for name, places in by_branch.items():
            names = free_names(piece.branch(name), self.name, len(places))
            gain = 0.0
            for at, called in zip(sorted(places), names, strict=True):
                long = piece.branch(name).length
                span = self._span(piece.branch(name), at + gain)
                piece = self.plan.made(piece, span, at + gain, called)
                gain += piece.branch(name).length - long
        return piece

    # -- words -----------------------------------------------------------------------------------

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        plan, point = self.plan, self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        if isinstance(plan, Neck):
            depth = (section.thickness - plan.section.thickness) / 2
            return {"depth": depth} if depth > 0 else {}
        try:
            return {"neck": reduced(section, self.sides, self.face, plan.left(section))}
        except SectionError:  # a round bar grooved from one face has no section of a name
            return {}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        several = len(self.points(before)) > 1
        grown = sum(one.length for one in after.branches) - sum(one.length for one in before.branches)
        words = {
            "places": listed([point_words(before, one) for one in self.where]),
            "gain": grown / len(self.points(before)),
        }
        gains = f"{'each makes it' if several else 'it gets'} {{gain:length}} longer."
        if self.neck is not None:
            how = "Neck the bar in at {places} to {neck:section}, turning all the time"
            return say(f"{how}: {gains}", neck=self.neck, **words)
        face, behind = FACES[self.face], FACES[BEHIND[self.face]]
        into = {"one": face, "two": f"{face} and {behind}", "all": "all sides"}[self.sides]
        return say(
            f"Fuller {'grooves' if several else 'a groove'} {{depth:size}} deep into {into} at {{places}},"
            f" with a radius of {{radius:length}}: {gains}",
            depth=self.depth,
            radius=self.radius,
            **words,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        plan, point = self.plan, self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        if isinstance(plan, Neck):
            return say("{neck:section} at the thinnest place", neck=plan.section)
        return say(
            "{left:size} left; the groove {wide:length} wide", left=plan.left(section), wide=plan.width
        )

    examples = (
        Example(
            "25 × 12 grooved from both faces",
            before=bar(Section.flat(25, 12), 200, marks={"A": 80, "B": 150}),
            params={"where": [{"on": "bar", "datum": "mark", "mark": "A"}], "depth": 3},
            after=(Result(length=203.7, worked=10.4, marks={"A": 81.8, "B": 153.7}),),
            says=("6 mm left", "10.4 mm wide", "3.7 mm longer"),
            source="36 arccos ½ - 3 √27 = 22.11 mm² a side; √27 × 2 = 10.4 wide; 2 × 22.11 / 12 = 3.7 longer",
        ),
        Example(
            "A quarter of its metal goes sideways",
            before=bar(Section.flat(25, 12), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "depth": 3, "spread": 25},
            after=(Result(length=202.8, worked=10.4),),
            source="three quarters of 2 × 22.11 / 12 = 2.8",
        ),
        Example(
            "A neck all round",
            before=bar(Section.square(10), 200, marks={"N": 120}),
            params={
                "where": [{"on": "bar", "datum": "mark", "mark": "N"}],
                "neck": {"shape": "square", "side": 6},
            },
            after=(Result(length=204.1, worked=10, marks={"N": 122.0}, at={122.0: Section.square(6)}),),
            source="2 × 4 (100 + 60 + 36) / 3 + 2 × 36 = 594.7 mm³, 5.9 of bar: 10 - 5.9 = 4.1 longer",
        ),
        Example(
            "Several at once, on each of two arms",
            before=bar(Section.flat(40, 12), 300),
            first=(("split", {"where": {"on": "bar", "offset": 100}, "children": ["left", "right"]}),),
            params={
                "where": [{"on": "arms", "offset": 30}, {"on": "arms", "offset": 60}],
                "depth": 2,
                "sides": "one",
            },
            after=(Result("left", length=102.1), Result("right", length=102.1)),
            source="36 arccos ⅔ - 4 √20 = 12.39 mm²; 12.39 / 12 = 1.03 for each groove",
        ),
        Example(
            "All round a round bar, with scale on",
            before=bar(Section.round(16), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "depth": 3, "sides": "all"},
            heats=1,
            scale=0.05,
            after=(Result(length=204.7, worked=10.4),),
            says=("9.9 mm left",),
            source="ø15.9: π (15.9 × 22.11 - 54.4) / (π/4 × 15.9²) = 4.7",
        ),
        Example(
            "A sharp, deep groove works, with warnings",
            before=bar(Section.flat(25, 12), 200),
            params={
                "where": [{"on": "bar", "datum": "centre"}, {"on": "bar", "datum": "centre", "offset": 12}],
                "depth": 4,
                "radius": 2.5,
            },
            after=(Result(worked=5),),
            cautions=("fuller.too_sharp", "fuller.thin_neck", "fuller.burns_first"),
            source="deeper than its radius: as wide as the tool, 5",
        ),
        Example(
            "Grooves that meet in the middle are refused",
            before=bar(Section.flat(25, 12), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "depth": 6},
            refused=("fuller.nothing_left",),
        ),
        Example(
            "A groove over the end is refused",
            before=bar(Section.flat(25, 12), 200),
            params={"where": [{"on": "bar", "datum": "end", "offset": 1}], "depth": 3},
            refused=("fuller.breaks_out",),
        ),
        Example(
            "One groove into another is refused",
            before=bar(Section.flat(25, 12), 200),
            params={
                "where": [{"on": "bar", "datum": "centre"}, {"on": "bar", "datum": "centre", "offset": 5}],
                "depth": 3,
            },
            refused=("fuller.meets_another",),
        ),
        Example(
            "A neck no thinner than the bar is refused",
            before=bar(Section.square(10), 200),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "neck": {"shape": "square", "side": 10},
            },
            refused=("fuller.neck_not_thinner",),
        ),
    )
