"""What is recorded of an original: shown on the page, at the bench and on the record sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from django.utils.formats import date_format

from calculators.number_texts import SPACE, decimal
from calculators.wording import UnitSystem
from procedures.engine.evidence import STANDINGS
from procedures.engine.originals import (
    ANSWERS,
    IDENTITY,
    ORIGINAL,
    PERMITS,
    SOURCE_KINDS,
    TOOLS,
    Measurement,
    Original,
)

if TYPE_CHECKING:
    from .procedures import ShownProcedure
    from .steps import ShownStep

NOT_SAID = "Not said"
INCH = 25.4  # mm


@dataclass(frozen=True, slots=True)
class MeasuredRow:
    """A measurement in the reader's units, with the sum that corrects it."""

    key: str
    what: str
    tool: str
    found: str
    faces: tuple[str, ...]
    sum: str
    corrected: str
    sources: str
    note: str


@dataclass(frozen=True, slots=True)
class SourceRow:
    """A source: its key as it is cited, what kind it is, what it is."""

    key: str
    cited: str
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step of the reproduction, and how it is known."""

    part: str
    number: int
    title: str
    standing: str
    reason: str
    sources: str
    method: str
    done: str
    deviation: str


@dataclass(frozen=True, slots=True)
class Share:
    """How much of the work stands so: steps, and metal worked."""

    standing: str
    steps: int
    steps_share: str
    length: str
    length_share: str


class Record:
    """The record of a procedure's original, in the reader's units."""

    def __init__(self, shown: ShownProcedure) -> None:
        self.shown = shown
        self.units: UnitSystem = shown.units
        self.original = shown.document.original or Original()

    def __bool__(self) -> bool:
        """Whether anything is said of an original."""
        document = self.shown.document
        steps = (step for part in document.parts for step in part.steps)
        return document.original is not None or any(one.evidence or one.deviation for one in steps)

    @property
    def identity(self) -> list[tuple[str, str]]:
        """What it is, by its labels."""
        seen = [("Seen on", _day(self.original.seen_on))] if self.original.seen_on else []
        return [*self._texts(IDENTITY), *seen, *self._texts({"identity": ORIGINAL["identity"]})]

    @property
    def state(self) -> list[tuple[str, str]]:
        """Its condition."""
        return self._texts({"condition": ORIGINAL["condition"]})

    def _texts(self, labels: dict[str, tuple[str, str, int]]) -> list[tuple[str, str]]:
        found = ((label, getattr(self.original, key)) for key, (label, _, _) in labels.items())
        return [(label, text) for label, text in found if text]

    @property
    def permits(self) -> list[tuple[str, str]]:
        """What is permitted, by whom and on what terms."""
        rows = []
        for key, label in PERMITS.items():
            one = self.original.permits.get(key)
            said = NOT_SAID if one is None else ANSWERS[one.answer]
            if one is not None:
                said += f" by {one.by}" if one.by else ""
                said += f", {_day(one.on)}" if one.on else ""
                said += f". {one.terms}" if one.terms else ""
            rows.append((label, said))
        return rows + self._texts({"permission": ORIGINAL["permission"]})

    @cached_property
    def measurements(self) -> list[MeasuredRow]:
        """What was measured, with corrections."""
        return [self._measured(one) for one in self.original.measurements]

    def _measured(self, one: Measurement) -> MeasuredRow:
        return MeasuredRow(
            key=one.key,
            what=one.what + (" (opening)" if one.opening else ""),
            tool=TOOLS[one.tool],
            found=self._give_or_take(one.value, one.uncertainty),
            faces=tuple(
                f"{face.face}: {self._give_or_take(face.depth, face.uncertainty)}. {face.reason}"
                for face in one.faces
            ),
            sum=self._sum(one),
            corrected=self._give_or_take(one.corrected, one.doubt),
            sources=self.cited(one.sources),
            note=one.note,
        )

    def _sum(self, one: Measurement) -> str:
        """Return how a correction was reckoned: "24 + 0.5 + 0.5 = 25; ± √(0.2² + 0.3² + 0.3²) = 0.47"."""
        if not one.faces:
            return ""
        sign = " − " if one.opening else " + "
        sizes = sign.join(self.number(part) for part in (one.value, *(face.depth for face in one.faces)))
        doubts = [one.uncertainty, *(face.uncertainty for face in one.faces)]
        squares = " + ".join(f"{self.number(doubt)}²" for doubt in doubts)
        return f"{sizes} = {self.number(one.corrected)}; ± √({squares}) = {self.number(one.doubt)}{self.unit}"

    def _give_or_take(self, mm: float, doubt: float) -> str:
        return f"{self.number(mm)} ± {self.number(doubt)}{self.unit}"

    def number(self, mm: float) -> str:
        """Return a size as it is measured: hundredths of a millimetre, thousandths of an inch."""
        return decimal(mm / INCH, 3) if self.units.length_unit == "in" else decimal(mm, 2)

    @property
    def unit(self) -> str:
        """The unit of such a size, with the space before it."""
        return f"{SPACE}{self.units.length_unit}"

    @property
    def sources(self) -> list[SourceRow]:
        """The sources cited."""
        return [
            SourceRow(one.key, one.key.upper(), SOURCE_KINDS[one.kind], one.text)
            for one in self.original.references
        ]

    @property
    def more_sources(self) -> str:
        """What is said of sources beside the list."""
        return self.original.sources

    def cited(self, keys: tuple[str, ...]) -> str:
        """Return sources as they are cited; one that is not in the list is said to be missing."""
        known = {one.key for one in self.original.references}
        return ", ".join(key.upper() + ("" if key in known else " (not in the list)") for key in keys)

    @cached_property
    def steps(self) -> list[StepRow]:
        """Every step, and how it is known."""
        return [self._step(one) for one in self.shown.steps]

    def _step(self, one: ShownStep) -> StepRow:
        found = one.frame.step.evidence
        return StepRow(
            part=one.part.name,
            number=one.number,
            title=one.title,
            standing=STANDINGS[found.standing] if found else NOT_SAID,
            reason=found.reason if found else "",
            sources=self.cited(found.sources) if found else "",
            method=found.method if found else "",
            done=one.instruction,
            deviation=one.deviation,
        )

    @cached_property
    def shares(self) -> list[Share]:
        """How much is seen, inferred and guessed, by steps and by the length of metal that they worked."""
        steps = dict.fromkeys([*STANDINGS, ""], 0)
        lengths = dict.fromkeys([*STANDINGS, ""], 0.0)
        for step in self.shown.steps:
            found = step.frame.step.evidence
            standing = found.standing if found else ""
            steps[standing] += 1
            if step.frame.status == "done":
                lengths[standing] += sum(one.high - one.low for one in step.frame.after.worked)
        all_steps, all_length = sum(steps.values()) or 1, sum(lengths.values()) or 1.0
        return [
            Share(
                STANDINGS.get(one, NOT_SAID),
                steps[one],
                self.units.percent(steps[one] / all_steps),
                self.units.length(lengths[one]),
                self.units.percent(lengths[one] / all_length),
            )
            for one in steps
            if one or steps[one]
        ]

    @cached_property
    def photos(self) -> list[Any]:
        """The photos that show the original, as the photo component takes them."""
        return list(self._photos())

    def _photos(self) -> Iterator[Any]:
        seen = set()
        for part in self.shown.document.parts:
            for photo in (one for step in part.steps for one in step.photos if one.of_original):
                shown = None if photo.digest in seen else self.shown.find_photo(photo)
                seen.add(photo.digest)
                if shown is not None:
                    yield shown


def _day(text: str) -> str:
    return date_format(date.fromisoformat(text), "j F Y")
