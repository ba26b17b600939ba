"""The list of steps on the author's page: one row each, and its small drawing by digest."""

from __future__ import annotations

from collections import OrderedDict
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


def bench_address(slug: str, part: str, step: str = "") -> str:
    """Return the address of the author's page with this part and step at the bench."""
    query = f"part={part}&step={step}" if step else f"part={part}"
    return f"{reverse('procedures:edit', args=[slug])}?{query}"


def rows_of(part: ShownPart, procedure: Procedure) -> tuple[Row, ...]:
    """Return the rows of a part's steps."""
    digests = drawing_digests(procedure.document, part.key, part.units)
    return tuple(_row(one, procedure.slug, digests[one.key]) for one in part.steps)


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


class RowsSent:
    """The rows that were sent last for a version of a draft, so that an edit sends only those that changed.

    Kept by each process for itself: where nothing is remembered, the whole list is sent.
    """

    def __init__(self, most: int = 256) -> None:
        self._kept: OrderedDict[tuple[object, ...], tuple[Row, ...]] = OrderedDict()
        self._most = most

    def remember(self, procedure: Procedure, part: str, units: UnitSystem, rows: tuple[Row, ...]) -> None:
        """Keep what was sent for the version the procedure is at."""
        self._kept[_version(procedure, part, units)] = rows
        while len(self._kept) > self._most:
            self._kept.popitem(last=False)

    def recall(self, procedure: Procedure, part: str, units: UnitSystem) -> tuple[Row, ...] | None:
        """Return what was sent for the version the procedure is at, or None."""
        return self._kept.get(_version(procedure, part, units))


rows_sent = RowsSent()


def _version(procedure: Procedure, part: str, units: UnitSystem) -> tuple[object, ...]:
    return procedure.pk, procedure.version, procedure.updated, part, units.id


@lru_cache(maxsize=4096)
def rendered(row: Row, *, current: bool = False, oob: bool = False) -> SafeString:
    """Return the row as HTML; most rows of a long list are the same from one edit to the next."""
    html = get_template("procedures/author/_row.html").render({"row": row, "current": current, "oob": oob})
    return mark_safe(html)  # noqa: S308  a template made it


def drawing_digests(document: Mapping[str, Any], part_key: str, units: UnitSystem) -> dict[str, str]:
    """Return the digest of each step's small drawing, by step key, without replaying anything.

    A drawing follows from the bar and every step up to its own, so the digests are a chain of those. It may
    change where the drawing does not; never the other way round.
    """
    part = editing.part_of(document, part_key)
    others = document["parts"] if _brings_in(part) else []
    # All drawings of a part share one scale, which follows from its longest piece: so from all of it.
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
    return any(param.kind == "part" for kind in kinds if kind for param in kind.params().values())
