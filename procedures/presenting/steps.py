"""One step as pages, cards and the phone show it. Everything is reckoned when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString

from calculators.number_texts import SPACE
from calculators.retelling import retold
from calculators.wording import Sentence
from procedures import markdown
from procedures.engine.document import Photo
from procedures.engine.evidence import STANDINGS
from procedures.engine.finding import Level
from procedures.engine.replay import Frame

from .figures import Figure, branch_of, figures, run_at, spans_of
from .findings import ShownFinding, shown_finding
from .heats import ShownHeat, heat_of, planned
from .places import place_of

if TYPE_CHECKING:
    from .parts import ShownPart

FindPhoto = Callable[[Photo], Any]


@dataclass(frozen=True, slots=True)
class Lengths:
    """A length after a step without scale and with it, as texts."""

    what: str
    nominal: str
    expected: str


STATES = {"done": "", "stopped": "stopped", "not_reached": "unreached"}


class ShownStep:
    """One step of a part, in the reader's units.
    A page that lists sixty steps asks for a few texts of each; drawings cost most, and only those that are
    asked for are made.
    """

    def __init__(self, part: ShownPart, frame: Frame) -> None:
        self.part = part
        self.frame = frame
        self.units = part.units

    def __repr__(self) -> str:
        return f"<step {self.number} of {self.part.key}: {self.title}>"

    # -- what it is ------------------------------------------------------------------------------

    @property
    def number(self) -> int:
        """Its number in the part, from 1."""
        return self.frame.number

    @property
    def key(self) -> str:
        """The key of the step."""
        return self.frame.key

    @property
    def anchor(self) -> str:
        """A name for it on a page that shows all parts."""
        return f"{self.part.key}-{self.key}"

    @property
    def title(self) -> str:
        """The trade title of the operation."""
        return self.frame.title

    @property
    def about(self) -> str:
        """The id of its operation, which the guide has a page of; "" where there is none such."""
        return self.frame.step.kind.id if self.frame.step.kind else ""

    @property
    def status(self) -> str:
        """done, stopped or not_reached."""
        return self.frame.status

    @property
    def state(self) -> str:
        """The same as the components name it: "", "stopped" or "unreached"."""
        return STATES[self.frame.status]

    @cached_property
    def place(self) -> str:
        """Where it works, in words; "" when that is no one place."""
        if self.frame.operation is None:
            return ""
        return place_of(self.frame.operation, self.frame.before, self.units)

    @cached_property
    def instruction(self) -> str:
        """The sentence for the card; "" for a step that did not come about."""
        return self._said(self.frame.instruction)

    @cached_property
    def check(self) -> str:
        """The one thing to measure before going on, or ""."""
        return self._said(self.frame.check)

    def _said(self, sentence: Sentence | None) -> str:
        text = sentence.text(self.units) if sentence else ""
        return text[:1].upper() + text[1:]

    # -- numbers ---------------------------------------------------------------------------------

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """Section, lengths and mass, before and after."""
        return figures(self.frame, self.units)

    @cached_property
    def sizes(self) -> tuple[Figure, ...]:
        """The figures to read at arm's length: section and lengths, holes too, without the mass."""
        return tuple(one for one in self.figures if one.kind != "mass")

    @property
    def section(self) -> Figure | None:
        """The section before and after, or None where the step works no run."""
        return next((one for one in self.figures if one.kind == "section"), None)

    @cached_property
    def leaves(self) -> str:
        """The section it leaves where it worked, with its unit: the size to show in a list."""
        if self.frame.status != "done":
            return ""
        _, worked = spans_of(self.frame)
        section = run_at(self.frame.after, worked, self.units)
        return f"{section}{SPACE}{self.units.length_unit}" if section else ""

    @cached_property
    def lengths(self) -> tuple[Lengths, ...]:
        """Its lengths afterwards in both views: of the part worked if that changed, and of the branch."""
        nominal, expected = self._both_views()
        if nominal is None or expected is None:
            return ()
        rows = []
        first, second = (spans_of(one)[1] for one in (nominal, expected))
        if first and second and any(one.kind == "worked" and one.changed for one in self.figures):
            rows.append(self._lengths("worked part", first.length, second.length))
        name = branch_of(expected)
        if nominal.after.has_branch(name):
            long = (one.after.branch(name).length for one in (nominal, expected))
            rows.append(self._lengths(name if len(expected.after.branches) > 1 else "whole", *long))
        return tuple(rows)

    def _lengths(self, what: str, nominal: float, expected: float) -> Lengths:
        return Lengths(what, self.units.length(nominal), self.units.length(expected))

    @cached_property
    def other_view(self) -> str:
        """What the lengths are in the view not shown, in a line; "" where they are the same."""
        told = "With scale" if self.part.nominal else "Nominal"
        said = [
            f"{one.what} {one.expected if self.part.nominal else one.nominal}"
            for one in self.lengths
            if one.nominal != one.expected
        ]
        return f"{told}: {', '.join(said)}" if said else ""

    def _both_views(self) -> tuple[Frame | None, Frame | None]:
        """Return the frame without and with scale, each None where the step did not come about."""
        own = self.frame if self.frame.status == "done" else None
        twin = self.part.twin_of(self.frame)
        return (own, twin) if self.part.nominal else (twin, own)

    # -- heat and help ---------------------------------------------------------------------------

    @cached_property
    def heat(self) -> ShownHeat | None:
        """The heat to work at, or None for cold work."""
        operation = self.frame.operation
        heat = operation.planned_heat(self.frame.before) if operation else None
        return heat_of(heat, self.units) if heat else None

    @property
    def heats(self) -> int:
        """Planned heats in all, welding heats too, every member counted."""
        return self.frame.heats + self.frame.welding_heats

    @cached_property
    def planned(self) -> str:
        """Planned heats in words, or ""."""
        return planned(self.frame)

    @property
    def heat_boxes(self) -> range:
        """One for each planned heat, to tick."""
        return range(self.heats)

    @property
    def tongs(self) -> str:
        """The tongs named, or ""."""
        return self.frame.step.tongs

    def _told(self, text: str) -> str:
        return retold(text, self.units)

    @property
    def tools(self) -> tuple[str, ...]:
        """The usual hand tools."""
        return tuple(map(self._told, self.frame.step.kind.tools)) if self.frame.step.kind else ()

    @property
    def power_tools(self) -> tuple[str, ...]:
        """The usual tools at a power hammer or the like."""
        return tuple(map(self._told, self.frame.step.kind.power_tools)) if self.frame.step.kind else ()

    @property
    def helper(self) -> str:
        """When a second person is wanted, or ""."""
        return self._told(self.frame.step.kind.helper) if self.frame.step.kind else ""

    @property
    def period(self) -> str:
        """How it was done, or ""."""
        return self._told(self.frame.step.kind.period) if self.frame.step.kind else ""

    @property
    def modern(self) -> str:
        """What is done instead today, or ""."""
        return self._told(self.frame.step.kind.modern) if self.frame.step.kind else ""

    @property
    def safety(self) -> tuple[str, ...]:
        """Safety lines of the operation."""
        return tuple(map(self._told, self.frame.step.kind.safety)) if self.frame.step.kind else ()

    # -- what is said about it -------------------------------------------------------------------

    @cached_property
    def findings(self) -> tuple[ShownFinding, ...]:
        """What the checks say."""
        return tuple(shown_finding(one, self.anchor, self.number, self.units) for one in self.frame.findings)

    @property
    def stops(self) -> int:
        """How many stops there are."""
        return len(self.frame.of_level(Level.STOP))

    @property
    def cautions(self) -> int:
        """How many cautions there are."""
        return len(self.frame.of_level(Level.CAUTION))

    @cached_property
    def warnings(self) -> tuple[ShownFinding, ...]:
        """The findings to know before the step is begun: stops and cautions that are not silenced."""
        return tuple(one for one in self.findings if one.level != Level.NOTE and not one.silenced)

    @cached_property
    def let_stand(self) -> tuple[ShownFinding, ...]:
        """The cautions that the author lets stand, with the reason: for the card."""
        return tuple(one for one in self.findings if one.level == Level.CAUTION and one.silenced)

    @cached_property
    def note(self) -> SafeString:
        """The author's note as safe HTML."""
        return markdown.render(self.frame.step.note) if self.frame.step.note else SafeString("")

    @cached_property
    def photos(self) -> tuple[Any, ...]:
        """The photos that are there, as the photo component takes them."""
        found = (self.part.procedure.find_photo(one) for one in self.frame.step.photos)
        return tuple(one for one in found if one is not None)

    @property
    def silent_photos(self) -> int:
        """How many of its photos have no words for who cannot see them."""
        return sum(not one.alt.strip() for one in self.frame.step.photos)

    @property
    def evidence(self) -> str:
        """How the step is known of the original, and what shows it: "Seen: a weld line"; or ""."""
        found = self.frame.step.evidence
        if found is None:
            return ""
        words = f"{STANDINGS[found.standing]}: {found.reason}" if found.reason else STANDINGS[found.standing]
        cited = f" [{', '.join(key.upper() for key in found.sources)}]" if found.sources else ""
        return words + cited + (f" Then: {found.method}" if found.method else "")

    @property
    def deviation(self) -> str:
        """Where it is done otherwise than on the original, or ""."""
        return self.frame.step.deviation

    # -- drawings --------------------------------------------------------------------------------

    @cached_property
    def drawing(self) -> SafeString:
        """The drawing of the step as SVG; "" for one that did not come about."""
        done = self.frame.status == "done"
        return SafeString(self.part.pen.step(self.frame) if done else "")

    @cached_property
    def narrow_drawing(self) -> SafeString:
        """The same for a telephone."""
        done = self.frame.status == "done"
        return SafeString(self.part.narrow_pen.step(self.frame) if done else "")
