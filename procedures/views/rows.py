"""The list of steps on the author's page: one row each, and its small drawing by digest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.template.loader import get_template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from calculators.wording import UnitSystem
from procedures import editing
from procedures.engine.catalogue import find
from procedures.engine.operation import Operation
from procedures.engine.replay import Frame
from procedures.models import Procedure
from procedures.presenting import ShownPart, ShownStep
from procedures.presenting.edition import edition

ROW_KINDS = ("section", "hole", "length")
DRAWN_FROM = ("operation", "version", "params", "heats", "welding_heats", "heated")


@dataclass(frozen=True, slots=True)
class RowFigure:
    """One number of a row."""

    kind: str
    before: str
    after: str
    unit: str
    changed: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One step in the list. Two rows that are equal look the same."""

    slug: str
    part: str
    key: str
    number: int
    title: str
    place: str
    state: str
    figures: tuple[RowFigure, ...]
    stops: int
    cautions: int
    drawing: str  # digest of the small drawing, "" for none

    @property
    def href(self) -> str:
        """The address of the page with this step at the bench."""
        return bench_address(self.slug, self.part, self.key)

    @property
    def move_address(self) -> str:
        """The address that another place in the list is posted to."""
        return address_of("procedures:move_step", self.slug, self.part, self.key)

    @property
    def drawing_address(self) -> str:
        """The address of the small drawing; another one for another drawing."""
        address = address_of("procedures:drawing", self.slug, self.part, self.key)
        return f"{address}?v={self.drawing}"


def bench_address(slug: str, part: str, step: str = "") -> str:
    """Return the address of the author's page with this part and step at the bench."""
    query = f"part={part}&step={step}" if step else f"part={part}"
    return f"{address_of('procedures:edit', slug)}?{query}"


@lru_cache(maxsize=4096)
def address_of(name: str, *args: str) -> str:
    """Return an address, found once: a list asks for the same ones with every edit."""
    return reverse(name, args=args)


EarlierList = list[tuple[Frame, Row]]


def rows_of(part: ShownPart, procedure: Procedure, earlier: EarlierList | None = None) -> tuple[Row, ...]:
    """Return the rows of a part's steps; those of frames that an earlier list has too are taken from it."""
    digests = drawing_digests(procedure.document, part.key, part.units)
    same = dict(enumerate(earlier or ()))
    rows = []
    for index, step in enumerate(part.steps):
        frame, row = same.get(index, (None, None))
        if row and frame and _tells_the_same(frame, step.frame):
            rows.append(row)
        else:
            rows.append(_row(step, procedure.slug, digests[step.key]))
    return tuple(rows)


def _tells_the_same(old: Frame, new: Frame) -> bool:
    """Whether a frame was taken from an earlier replay as it was, and is found the same by the rules."""
    return old.after is new.after and old.step is new.step and old.findings == new.findings


def _row(step: ShownStep, slug: str, digest: str) -> Row:
    return Row(
        slug=slug,
        part=step.part.key,
        key=step.key,
        number=step.number,
        title=step.title,
        place=step.place,
        state=step.state,
        figures=tuple(
            RowFigure(one.kind, one.before, one.after, one.unit, one.changed)
            for one in step.figures
            if one.kind in ROW_KINDS
        ),
        stops=step.stops,
        cautions=step.cautions,
        drawing=digest if step.status == "done" else "",
    )


@lru_cache(maxsize=4096)
def rendered(row: Row, *, current: bool = False, oob: bool = False, whole: bool = False) -> SafeString:
    """Return the row as HTML; most rows of a long list are the same from one edit to the next."""
    context = {"row": row, "current": current, "oob": oob, "whole": whole}
    html = get_template("procedures/author/_row.html").render(context)
    return mark_safe(html)  # noqa: S308  a template made it


def drawing_digests(document: Mapping[str, Any], part_key: str, units: UnitSystem) -> dict[str, str]:
    """Return the digest of each step's small drawing, by step key, without replaying anything.

    A drawing follows from the bar and every step up to its own, so the digests are a chain of those; only its
    scale, which all drawings of a part share, follows from the later steps too.
    """
    part = editing.part_of(document, part_key)
    others = document["parts"] if _brings_in(part) else []
    chain = editing.digest(
        [edition(), units.id, part["stock"], part.get("material"), document.get("scale"), others]
    )
    digests = {}
    for step in part.get("steps", []):
        chain = editing.digest([chain, [step.get(name) for name in DRAWN_FROM]])
        digests[step["key"]] = chain
    return digests


def _brings_in(part: Mapping[str, Any]) -> bool:
    """Whether a step of the part brings another part in."""
    kinds: list[type[Operation] | None] = [find(one["operation"]) for one in part.get("steps", [])]
    return any(kind.brings_in() for kind in kinds if kind)
