"""Comparing: two revisions, a revision and the draft, or an adaptation and its original, step by step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.http import require_safe

from procedures.access import may_edit, procedure_reader, readable_procedure
from procedures.models import Procedure
from procedures.presenting.comparison import ComparedStep, Comparison
from procedures.presenting.comparison import compare as compared
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept

from .wanted import Wanted, pinned, readable, units_of

HTML = "procedures/revisions/"
DRAFT = "draft"


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two versions on the page."""

    wanted: Wanted
    name: str

    def drawing_of(self, part: str, step: Any) -> str:
        """Return the address of the stage that a step leaves; "" where the version has no such step."""
        if step is None:
            return ""
        args = [self.wanted.procedure.slug, part, step.number]
        return reverse("procedures:stage", args=args) + self.wanted.query


@procedure_reader
@readable
@require_safe
def compare(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read both: `?from=1&to=3`; `draft` for the owner's, `?other=SLUG` is whose `to` it is."""
    slug = request.GET.get("other", "")
    other = readable_procedure(request.user, slug) if slug else procedure
    new = version_of(request, other, request.GET.get("to", ""))
    old = version_of(request, procedure, request.GET.get("from", "") or _before(new, procedure))
    sides = _named(old, new)
    key = content_key("compare", *(one.key("compare", one.asked) for one in (old, new)))
    body = kept(key, lambda: render_to_string(HTML + "_compare.html", _context(sides)))
    query = request.GET.copy()
    query.pop("view", None)
    asked = query.urlencode()
    views = [
        {"text": "With scale", "href": f"?{asked}", "current": not new.nominal},
        {"text": "Nominal", "href": f"?{asked}&view=nominal", "current": new.nominal},
    ]
    return render(
        request, HTML + "compare.html", {"old": sides[0], "new": sides[1], "body": body, "views": views}
    )


def version_of(request: HttpRequest, procedure: Procedure, asked: str) -> Wanted:
    """Return the version that is asked for: a number, "draft" for its owner, or the latest for "".

    Raises Http404, and Withdrawn.
    """
    if asked == DRAFT or (not asked and procedure.latest is None):
        if not may_edit(request.user, procedure):
            raise Http404("There is no such version here.")
        return Wanted(procedure, None, units_of(request), request.GET.get("view") == "nominal")
    return pinned(request, procedure, asked or str(procedure.latest.number))  # type: ignore[union-attr]


def _before(new: Wanted, procedure: Procedure) -> str:
    """Return the version to compare one with when none is named: that before it, or what is published."""
    standing = procedure.revisions.filter(withdrawn=None, hidden=None)
    if new.procedure == procedure and new.revision:
        standing = standing.filter(number__lt=new.number)
    found = standing.values_list("number", flat=True).first()
    return str(found or "")


def _named(old: Wanted, new: Wanted) -> tuple[Side, Side]:
    """Return both sides, named as shortly as tells them apart."""
    if old.procedure == new.procedure:
        return Side(old, old.version), Side(new, new.version)
    return tuple(Side(one, f"{one.title}, {one.version.lower()}, by {one.author}") for one in (old, new))  # type: ignore[return-value]


def _context(sides: tuple[Side, Side]) -> dict[str, Any]:
    old, new = (one.wanted for one in sides)
    found = compared((old.stored, old.document), (new.stored, new.document), new.units, nominal=new.nominal)
    return {
        "comparison": found,
        "old": sides[0],
        "new": sides[1],
        "parts": [(part, [_shown(sides, part.key, one) for one in part.differing]) for part in found.parts],
        "counts": _counted(found),
    }


def _shown(sides: tuple[Side, Side], part: str, step: ComparedStep) -> dict[str, Any]:
    both = zip(sides, (step.old, step.new), strict=True)
    return {"step": step, "drawings": [(side.name, side.drawing_of(part, one)) for side, one in both]}


def _counted(found: Comparison) -> str:
    """Return how much differs, in words: "2 steps changed, 1 added"."""
    told = [f"{count} {state}" for state, count in found.counts.items()]
    return f"Steps: {', '.join(told)}." if told else "No step was changed, added, removed or moved."
