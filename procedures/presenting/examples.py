"""A worked or a refused example of an operation, as the guide shows it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString

from calculators.wording import UnitSystem
from procedures.engine.exampling import frames
from procedures.engine.finding import Level
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.operation import Example, Operation
from procedures.engine.pieces.piece import Piece

from .figures import Fact, Figure, figures
from .findings import ShownFinding, shown_finding
from .given import part_words, said, stock_words
from .room import PHONE, SCREEN, Room

if TYPE_CHECKING:
    from procedures.drawing import PartDrawing

LISTED = Room("small", width=240, tallest=90)
_ANGLE_OR_COUNT = re.compile(r"\d+°")


class ShownExample:
    """One example in the reader's units. Everything is reckoned when it is first asked for."""

    def __init__(self, kind: type[Operation], example: Example, number: int, units: UnitSystem) -> None:
        self._kind = kind
        self._example = example
        self.number = number
        self.units = units

    def __repr__(self) -> str:
        return f"<example {self.number} of {self._kind.id}>"

    @cached_property
    def _frames(self) -> tuple[Frame, ...]:
        return frames(self._kind, self._example)

    @property
    def _frame(self) -> Frame:
        return self._frames[-1]

    @property
    def is_done(self) -> bool:
        """Whether it comes about."""
        return self._frame.status == "done"

    @property
    def anchor(self) -> str:
        """A name for it on the page."""
        return f"example-{self.number}"

    @property
    def title(self) -> str:
        """What it shows."""
        return self._example.title

    @property
    def sum(self) -> str:
        """Where its numbers come from: the arithmetic by hand, in millimetres; or ""."""
        return self._example.source

    @property
    def says_millimetres(self) -> bool:
        """Whether the title holds sizes that are not in the reader's units."""
        bare = _ANGLE_OR_COUNT.sub("", self.title)
        return self.units.id != "metric" and any(one.isdigit() for one in bare)

    # -- what it begins with ---------------------------------------------------------------------

    @cached_property
    def bar(self) -> str:
        """The bar it begins with, and what lies ready beside it."""
        piece = self._example.before
        words = stock_words(piece, self.units)
        if piece.material.id != "mild_steel":
            words += f", {piece.material.said}"
        marks = [f"{one.name} at {self.units.length(one.at)}" for one in piece.root.marks]
        if marks:
            words += f"; marked {', '.join(marks)} from its start"
        beside = [f"{key}, {part_words(one, self.units)}" for key, one in piece.bench.items()]
        return "; beside it ".join([words, *beside])

    @cached_property
    def first(self) -> tuple[str, ...]:
        """What is done before, a sentence a step."""
        return tuple(one.instruction.text(self.units) for one in self._frames[:-1] if one.instruction)

    @cached_property
    def given(self) -> tuple[Fact, ...]:
        """What the step is given, in words."""
        return tuple(self._facts(self._frame.before))

    def _facts(self, piece: Piece) -> Iterator[Fact]:
        operation = self._frame.operation
        for name in self._example.params if operation else ():
            param = self._kind.params()[name]
            yield Fact(param.label, said(param, getattr(operation, name), piece, self.units))

    @cached_property
    def follows(self) -> tuple[Fact, ...]:
        """What follows of the parameters that are not given."""
        frame, params = self._frame, self._kind.params()
        if not self.is_done:
            return ()
        return tuple(
            Fact(params[name].label, said(params[name], value, frame.after, self.units))
            for name, value in frame.solved.items()
            if name not in self._example.params
        )

    @property
    def fire(self) -> str:
        """What the fire takes in it, or "": most examples are reckoned without scale."""
        one = self._example
        parts = []
        for heats, scale, noun in (
            (one.heats, one.scale, "heat"),
            (one.welding_heats, one.weld_scale, "welding heat"),
        ):
            if heats and scale:
                each = "" if heats == 1 else " each"
                plural = "" if heats == 1 else "s"
                parts.append(f"{heats} {noun}{plural}, {self.units.length(scale)} off every face{each}")
        return "; ".join(parts)

    # -- what comes of it ------------------------------------------------------------------------

    @cached_property
    def instruction(self) -> str:
        """The sentence for the card."""
        return self._frame.instruction.text(self.units) if self._frame.instruction else ""

    @cached_property
    def check(self) -> str:
        """What to measure, or ""."""
        text = self._frame.check.text(self.units) if self._frame.check else ""
        return text[:1].upper() + text[1:]

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """Section, lengths and mass, before and after."""
        return figures(self._frame, self.units)

    @cached_property
    def marks(self) -> tuple[Fact, ...]:
        """Where the marks lie afterwards that it looks at."""
        after = self._frame.after
        found = [
            (name, after.branch(result.branch), mark.at)
            for result in self._example.after
            if after.has_branch(result.branch)
            for name in result.marks
            if (mark := after.branch(result.branch).mark(name)) is not None
        ]
        twice = Counter(name for name, _, _ in found)  # a mark of a split bar is on every arm
        return tuple(
            Fact(f"{name} of {branch.said}" if twice[name] > 1 else name, self.units.length(at))
            for name, branch, at in found
        )

    @property
    def lost(self) -> str:
        """The metal it costs, or ""."""
        lost = self._frame.after.mass_of(self._frame.lost) if self.is_done else 0.0
        return self.units.mass(lost) if abs(lost) > 1e-9 else ""

    @cached_property
    def findings(self) -> tuple[ShownFinding, ...]:
        """What the checks say of it."""
        return tuple(shown_finding(one, self.anchor, self.number, self.units) for one in self._frame.findings)

    @property
    def cautions(self) -> tuple[ShownFinding, ...]:
        """What it is cautioned for."""
        return tuple(one for one in self.findings if one.level == Level.CAUTION)

    # -- drawings --------------------------------------------------------------------------------

    @property
    def drawings(self) -> tuple[SafeString, SafeString]:
        """The piece before and after it as SVG, at one scale and on one datum, for a screen."""
        return self._before(SCREEN), self._after(SCREEN)

    @property
    def narrow_drawings(self) -> tuple[SafeString, SafeString]:
        """The same for a telephone."""
        return self._before(PHONE), self.drawing

    @cached_property
    def drawing(self) -> SafeString:
        """The piece after it, small."""
        return self._after(PHONE)

    @property
    def portrait(self) -> SafeString:
        """The piece after it, for a list."""
        return self._after(LISTED)

    def _before(self, room: Room) -> SafeString:
        return SafeString(self._pen(room).before(self._frame))

    def _after(self, room: Room) -> SafeString:
        return SafeString(self._pen(room).step(self._frame))

    def _pen(self, room: Room) -> PartDrawing:
        from procedures.drawing import PartDrawing  # slow to import, and a list of operations draws nothing

        alone = PartReplay(self._frame.part, self._frame.before, (self._frame,))
        return PartDrawing(alone, self.units, room.size, width=room.width, tallest=room.tallest)
