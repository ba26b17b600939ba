"""Cut off: part the bar, keep one side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.zones import around
from procedures.engine.place_words import owner_words, point_words
from procedures.engine.shaping.checks import closed_ring
from procedures.engine.shaping.parting import Cut, Kept
from procedures.engine.sketch import Sketch

KERFS = {"saw": 2.0, "disc": 3.0, "hot_cut": 0.0, "shear": 0.0}  # mm: from memory
DRESSING = 0.25  # of the thickness, to square a bevelled end: from memory
HARDENS = 0.6  # % of carbon from which a quenched cut cracks: from memory
VERBS = {
    "saw": "Saw off, on the waste side of the line,",
    "disc": "Cut off with the disc, on the waste side of the line,",
    "hot_cut": "Cut off hot",
    "shear": "Shear off",
}


class CutOff(Operation):
    """Cuts the bar at a point and keeps one side; the other is a named offcut or scrap."""

    id = "cut_off"
    title = "Cut off"
    family = "prepare"
    help = "The kept part ends at the point given; a saw's kerf comes off the waste."
    synonyms = ("hot cut", "hot set", "hardy", "crop", "part off", "saw off", "shear")
    heat = (850, 1000)
    usual_heats = (1, 1)
    tools = ("hardy, or hot set and hammer", "saw or shear for cold cuts")
    power_tools = ("band saw", "cropping shear", "hot-cutting bar under the hammer")
    helper = "with the sledge, when cutting with a hot set"
    period = "hot chisel, set and hardy; cold: nicked and broken"
    modern = "band saw; say so on the record of a reproduction"
    safety = (
        "The offcut flies: cut away from people, the last blow light, or twist the last bit off.",
        "Keep the hammer clear of the hardy's edge, and take the hardy out afterwards.",
        "Abrasive disc: guard on, eyes covered.",
    )

    at: Position = declare.position("Cut at", "Where the kept part ends.")
    method: str = declare.choice(
        "How",
        {
            "saw": "sawn",
            "disc": "abrasive disc",
            "hot_cut": "cut hot: hardy, chisel or hot set",
            "shear": "sheared",
        },
        default="saw",
    )
    keep: str = declare.choice("Keep", {"start": "the start side", "end": "the end side"}, default="start")
    kerf: float | None = declare.length(
        "Kerf",
        "What the cut turns to dust. Left out: saw 2 mm, disc 3 mm, hot cut and shear nothing.",
        required=False,
        least=0,
        most=50,
    )
    offcut: str | None = declare.name("Name of the offcut", "Left out: it is scrap.", required=False)

    @property
    def is_cold(self) -> bool:
        return self.method != "hot_cut"

    def cuts(self, piece: Piece) -> tuple[Cut, ...]:
        """Return the cut on each branch meant. Raises Unworkable."""
        kerf = KERFS[self.method] if self.kerf is None else self.kerf
        keep: Kept = "end" if self.keep == "end" else "start"
        return tuple(Cut(one.branch, one.at, keep, kerf) for one in piece.points(self.at))

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(Span(one.branch, one.at, one.at) for one in self.cuts(piece))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.at)

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        """Return the heated ranges: none cold; for a hot cut one thickness on each side."""
        if self.method != "hot_cut":
            return ()
        found = []
        for cut in self.cuts(piece):
            branch = piece.branch(cut.branch)
            found.append(around(branch, cut.at, cut.at, branch.section_at(cut.at).thickness))
        return tuple(found)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for cut in self.cuts(piece):
            branch = piece.branch(cut.branch)
            (low, high), kerf, off = cut.ranges(branch)
            if high - low < TOUCH or (kerf[1] - kerf[0]) + (off[1] - off[0]) < TOUCH:
                yield stop(
                    "cut_off.at_the_end",
                    "The cut lies at an end of {branch}: it parts nothing.",
                    hint="Choose a place between the ends.",
                    branch=branch.said,
                    field="at",
                    source="geometry",
                )
                continue
            yield from closed_ring(piece, branch, "at")
            yield from self._forbidden(branch, cut)

    def _forbidden(self, branch: Branch, cut: Cut) -> Iterator[Finding]:
        if branch.attached is not None and cut.parts_from_parent(branch):
            kept = "end" if cut.keep == "start" else "start"
            yield stop(
                "cut_off.loses_its_root",
                "{branch} hangs on {parent} by what is cut off: the rest would hang on nothing.",
                hint="Keep the {kept} side.",
                branch=branch.said,
                parent=branch.attached.parent,
                kept=kept,
                field="keep",
                mend={"keep": kept},
                source="geometry",
            )
        hole = cut.through(branch)
        if hole is not None:
            yield stop(
                "cut_off.through_a_hole",
                "The cut goes through {hole}, {long:length} long, in the middle {at:length} from the start.",
                hint="Cut beside it.",
                hole=hole.said,
                long=hole.length,
                at=hole.at,
                field="at",
                source="geometry",
            )
        index, _ = branch.locate(cut.at)
        if branch.segments[index].layers > 1:
            yield stop(
                "cut_off.through_a_fold",
                "The cut goes through a fold of {branch} that is not welded.",
                hint="Weld the fold first, or cut beside it.",
                branch=branch.said,
                field="at",
                source="geometry",
            )

    def transform(self, piece: Piece) -> Piece:
        cuts = self.cuts(piece)
        for cut in cuts:
            name = self.offcut or ""
            piece = cut.made(piece, f"{name} {cut.branch}" if name and len(cuts) > 1 else name)
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        cut = self.cuts(before)[0]
        section = before.branch(cut.branch).section_at(cut.at)
        yield from self._leaving(before)
        yield from self._edge(before, section)

    def _leaving(self, before: Piece) -> Iterator[Finding]:
        names = [name for cut in self.cuts(before) for name in cut.leaving(before)]
        if names:
            yield caution(
                "cut_off.branches_leave",
                "With the offcut leave: {names}.",
                hint="Keep the other side if that is not meant.",
                names=", ".join(names),
                field="keep",
                source="geometry",
            )
        beyond = [cut.ranges(before.branch(cut.branch))[2] for cut in self.cuts(before)]
        if self.offcut and any(high - low < TOUCH for low, high in beyond):
            yield caution(
                "cut_off.no_offcut",
                "The kerf takes all of the waste: there is no offcut to be called {name}.",
                hint="Leave the name out.",
                name=self.offcut,
                field="offcut",
                mend={"offcut": None},
                source="geometry",
            )

    def _edge(self, before: Piece, section: Section) -> Iterator[Finding]:
        if self.method in ("hot_cut", "shear"):
            yield note(
                "cut_off.bevelled_end",
                "The end comes out bevelled: to dress it square takes about {more:length}.",
                more=DRESSING * section.thickness,
                source="a quarter of the thickness, from memory",
            )
        if self.method == "hot_cut" and before.material.carbon >= HARDENS:
            yield caution(
                "cut_off.no_water",
                "{steel} hardens and cracks when a hot cut is cooled in water.",
                hint="Let both parts cool in air or ash.",
                steel=before.material.title,
                source="common practice, no source",
            )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"kerf": KERFS[self.method]}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        cut = self.cuts(before)[0]
        kept, _, off = cut.ranges(before.branch(cut.branch))
        waste = say("the rest is kerf")
        if off[1] - off[0] >= TOUCH:
            waste = say("the other {off:length} is {name}", off=off[1] - off[0], name=self.offcut or "scrap")
        return say(
            "{verb} at {place}. Keep the {side}, {kept:length} long; {waste}.",
            verb=VERBS[self.method],
            place=point_words(before, self.at),
            side=self.keep,
            kept=kept[1] - kept[0],
            waste=waste,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        cut = self.cuts(before)[0]
        low, high = cut.ranges(before.branch(cut.branch))[0]
        return say("{kept:length} left of {on}", kept=high - low, on=owner_words(before, self.at.on))

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for cut in self.cuts(before):
            branch = after.branch(cut.branch)
            sketch.cut(Point(cut.branch, branch.length if cut.keep == "start" else 0.0))
            sketch.length(Span(cut.branch, 0.0, branch.length))

    examples = (
        Example(
            "The third of three sawn off a bar of 1000: 634 is left",
            before=bar(Section.square(16), 1000),
            first=(
                ("cut_off", {"at": {"on": "bar", "datum": "end", "offset": 122}, "offcut": "foot 1"}),
                ("cut_off", {"at": {"on": "bar", "datum": "end", "offset": 122}, "offcut": "foot 2"}),
            ),
            params={"at": {"on": "bar", "datum": "end", "offset": 122}, "offcut": "foot 3"},
            after=(Result(length=634),),
            lost=4.02,
            source="1000 - 3 (120 + 2); each kerf 16² × 2 × 7.85e-3 = 4.02 g",
        ),
        Example(
            "Cut hot nothing is lost: 640 is left",
            before=bar(Section.square(16), 1000),
            first=(
                ("cut_off", {"at": {"on": "bar", "offset": 120}, "method": "hot_cut", "offcut": "foot 1"}),
                ("cut_off", {"at": {"on": "bar", "offset": 120}, "method": "hot_cut", "offcut": "foot 2"}),
            ),
            params={"at": {"on": "bar", "offset": 120}, "method": "hot_cut", "offcut": "foot 3"},
            after=(Result(length=640),),
            lost=0.0,
            cautions=("cut_off.bevelled_end",),
            source="1000 - 3 × 120",
        ),
        Example(
            "Keeping the end: marks count from the new start",
            before=bar(Section.square(10), 400, marks={"E": 265.1, "N": 340, "gone": 100}),
            params={"at": {"on": "bar", "datum": "mark", "mark": "E"}, "method": "hot_cut", "keep": "end"},
            after=(Result(length=134.9, marks={"E": 0, "N": 74.9}),),
            source="400 - 265.1",
        ),
        Example(
            "Trimming: the kerf takes all of the waste",
            before=bar(Section.square(16), 498),
            params={"at": {"on": "bar", "datum": "end", "offset": 2}},
            after=(Result(length=496),),
            lost=4.02,
            source="16² × 2 × 7.85e-3 = 4.02 g",
        ),
        Example(
            "With scale on, a hot cut scales one thickness on each side",
            before=bar(Section.square(16), 400),
            params={"at": {"on": "bar", "datum": "end", "offset": 100}, "method": "hot_cut"},
            heats=1,
            scale=0.05,
            after=(Result(length=300, end=Section.square(15.9), start=Section.square(16)),),
            lost=0.80,
            source="recession over 32 mm: 32 (16² - 15.9²) × 7.85e-3 = 0.80 g",
        ),
        Example(
            "A cut at the end is refused",
            before=bar(Section.square(16), 400),
            params={"at": {"on": "bar", "datum": "end"}},
            refused=("cut_off.at_the_end",),
        ),
        Example(
            "A cut beyond the bar is refused",
            before=bar(Section.square(16), 400),
            params={"at": {"on": "bar", "datum": "start", "offset": 410}},
            refused=("place.off_the_branch",),
        ),
    )
