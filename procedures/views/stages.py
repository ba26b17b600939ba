"""The stages of the work: the piece as each step leaves it, to step or to run through."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from procedures.access import procedure_reader
from procedures.engine.catalogue import find
from procedures.models import Procedure
from procedures.presenting.kept import kept

from .wanted import Wanted, readable, wanted_by


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of a part: 0 is the bar as it comes, 1 to n what its steps leave."""

    wanted: Wanted
    part: dict[str, Any]  # in its stored form: while the stage is kept, nothing is replayed
    number: int

    @property
    def last(self) -> int:
        """The number of the last stage."""
        return len(self.part.get("steps", ()))

    @property
    def title(self) -> str:
        """What makes the piece what it is at this stage."""
        if self.number == 0:
            return "The bar as it comes"
        operation = self.part["steps"][self.number - 1]["operation"]
        known = find(operation)
        return known.title if known else operation

    @property
    def where(self) -> str:
        """How far on it is, in words."""
        return (
            f"Step {self.number} of {self.last}" if self.number else f"Before the first of {self.last} steps"
        )

    @property
    def base(self) -> str:
        """The address of the part's stages; a number and the query make it that of one."""
        return reverse("procedures:stages", args=[self.wanted.procedure.slug, self.part["key"]])

    @property
    def address(self) -> str:
        """The address of this one."""
        return f"{self.base}{self.number}/{self.wanted.query}"

    @property
    def back(self) -> Stage | None:
        """The stage before this one."""
        return Stage(self.wanted, self.part, self.number - 1) if self.number else None

    @property
    def next(self) -> Stage | None:
        """The stage after this one."""
        return Stage(self.wanted, self.part, self.number + 1) if self.number < self.last else None

    def body(self) -> SafeString:
        """Return what stands on it, which is the same for all readers."""
        return kept(self.wanted.key("stage", self.part["key"], self.number), self._made)

    def _made(self) -> str:
        part = self.wanted.shown().part(self.part["key"])
        assert part is not None
        step = part.steps[self.number - 1] if self.number else None
        return render_to_string("procedures/stages/_stage.html", {"stage": self, "part": part, "step": step})


def stage_of(wanted: Wanted, key: str, number: int | None = None) -> Stage:
    """Return a stage of a part, the last unless a number is given. Raises Http404."""
    part = next((one for one in wanted.parts if one["key"] == key), None)
    last = len(part.get("steps", ())) if part else 0
    if part is None or (number is not None and not 0 <= number <= last):
        raise Http404("There is no such step in this procedure.")
    return Stage(wanted, part, last if number is None else number)


def last_stages(wanted: Wanted) -> list[Stage]:
    """Return the last stage of every part that has steps."""
    return [stage_of(wanted, one["key"]) for one in wanted.parts if one.get("steps")]


@procedure_reader
@readable
@require_safe
def stages(request: HttpRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Who may read it: on to the stage that the form without script asks for; else to the first."""
    wanted = wanted_by(request, procedure)
    asked = request.GET.get("step", "0")
    if not (asked.isascii() and asked.isdigit() and len(asked) <= 4):
        raise Http404("A step is asked for by its number.")
    return redirect(stage_of(wanted, part, int(asked)).address)


@procedure_reader
@readable
@require_safe
@vary_on_headers("HX-Request")
def stage(request: HttpRequest, procedure: Procedure, part: str, number: int) -> HttpResponse:
    """Who may read it: one stage; to the script that runs through them, only what changes."""
    wanted = wanted_by(request, procedure)
    found = stage_of(wanted, part, number)
    if request.htmx:  # type: ignore[attr-defined]  # set by middleware
        return HttpResponse(found.body())
    context = {
        "procedure": procedure,
        "wanted": wanted,
        "stage": found,
        "parts": [
            {"text": one.part["name"], "href": one.address, "current": one.part["key"] == part}
            for one in last_stages(wanted)
        ],
    }
    return render(request, "procedures/stages/page.html", context)
