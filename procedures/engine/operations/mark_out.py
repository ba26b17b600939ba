"""Mark out: put named places on the cold bar."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.parameters.place_params import NamedPosition
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Mark
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.segment import close
from procedures.engine.place_words import owner_words, point_words
from procedures.engine.sketch import Sketch


class MarkOut(Operation):
    """Puts marks on the piece. They ride on the metal through every later step."""

    id = "mark_out"
    title = "Mark out"
    family = "prepare"
    help = "Named marks that ride on the metal: whatever is done later, they stay where their metal goes."
    synonyms = ("lay out", "set out", "centre-pop", "centre punch", "scribe")
    tools = ("rule", "square", "centre punch", "soapstone")
    period = "story stick or chalked board, dividers"
    modern = "tape, laser line"
    safety = ("Grind the mushroomed head off a punch before it is struck.",)

    marks: tuple[NamedPosition, ...] = declare.marks("Marks", "A short name for each, and where it goes.")
    holds: str = declare.choice(
        "Stays with",
        {"metal": "the metal", "start": "the start of the bar", "end": "the end of the bar"},
        "A mark that stays with an end is only for gripping and trimming.",
        default="metal",
    )

    def points(self, piece: Piece) -> Iterator[tuple[str, Point]]:
        """Yield (name, point) for every mark, on each member of a group."""
        for one in self.marks:
            for point in piece.points(one.position):
                yield one.name, point

    def problems(self, piece: Piece) -> Iterator[Finding]:
        names = [one.name for one in self.marks]
        for name in sorted({one for one in names if names.count(one) > 1}):
            yield stop(
                "mark_out.name_twice",
                "Two marks are called {name}.",
                hint="Give each its own name.",
                name=name,
                field="marks",
            )
        list(self.points(piece))  # raises where a place is not on the piece

    def transform(self, piece: Piece) -> Piece:
        for name, point in self.points(piece):
            piece = piece.marked(point.branch, Mark(name, point.at, self.holds))  # type: ignore[arg-type]
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        for branch in after.branches:
            for first, second in zip(branch.marks, branch.marks[1:], strict=False):
                if second.at - first.at < 2:
                    yield caution(
                        "mark_out.too_close",
                        "Marks {first} and {second} are {gap:length} apart: hot, they cannot be told apart.",
                        hint="Use one mark, or punch them on two faces.",
                        first=first.name,
                        second=second.name,
                        gap=second.at - first.at,
                        field="marks",
                        source="from memory",
                    )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        owners = {one.position.on for one in self.marks}
        if len(self.marks) > 1 == len(owners) and all(self._alike(before, one) for one in self.marks):
            marks = [
                say("{name} at {at:length}", name=one.name, at=before.points(one.position)[0].at)
                for one in self.marks
            ]
            on = owner_words(before, *owners)
            return say("Centre-punch, measured from the start of {on}: {marks}.", on=on, marks=listed(marks))
        places = [
            say("mark {name} at {place}", name=one.name, place=self._place(before, one)) for one in self.marks
        ]
        return say("Centre-punch {places}.", places=listed(places))

    def _alike(self, piece: Piece, mark: NamedPosition) -> bool:
        """Whether a mark is as far from the start on every member of a group."""
        first, *others = (one.at for one in piece.points(mark.position))
        return all(close(one, first) for one in others)

    def _place(self, piece: Piece, mark: NamedPosition) -> Sentence:
        """Return where a mark goes: from the start, to be measured with one rule, where that is the same."""
        if not self._alike(piece, mark):
            return point_words(piece, mark.position)
        on = owner_words(piece, mark.position.on)
        return say("{at:length} from the start of {on}", at=piece.points(mark.position)[0].at, on=on)

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for name, point in self.points(before):
            sketch.point(point, name)

    examples = (
        Example(
            "Marks from both ends and from the middle",
            before=bar(Section.square(12), 300),
            params={
                "marks": [
                    {"name": "A", "on": "bar", "datum": "start", "offset": 80},
                    {"name": "B", "on": "bar", "datum": "end", "offset": 25},
                    {"name": "C", "on": "bar", "datum": "centre"},
                ]
            },
            after=(Result(length=300, marks={"A": 80, "B": 275, "C": 150}),),
        ),
        Example(
            "A mark beyond the bar is refused",
            before=bar(Section.square(12), 300),
            params={"marks": [{"name": "A", "on": "bar", "datum": "start", "offset": 320}]},
            refused=("place.off_the_branch",),
        ),
    )
