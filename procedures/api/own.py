"""What is one's own: runs."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from ninja import Router

from procedures.access import may_see_run
from procedures.models import Run
from procedures.queries import runs as run_queries

from .answers import Fields, told
from .reading import Page, paged, reader
from .shapes import RunsOut
from .signing import Reading

router = Router(tags=["Runs"], auth=Reading())


@router.get("/runs", response=RunsOut, summary="One's runs")
def runs(request: HttpRequest, page: int = Page) -> HttpResponse:
    """The runs of whose token it is, those sent last first."""
    return paged(request, run_queries.own_runs(reader(request)), page, lambda one: _run(request, one))


@router.get("/runs/{run}", response=dict[str, Any], summary="One run")
def run(request: HttpRequest, run: str) -> HttpResponse:
    """All that was entered in a run."""
    key = run_queries.uuid_or_none(run)
    found = (
        Run.objects.select_related("procedure", "revision", "course").filter(pk=key).first() if key else None
    )
    if found is None or not may_see_run(reader(request), found):
        raise Http404("There is no such run here.")
    return told(run_queries.whole_run(found))


def _run(request: HttpRequest, one: Run) -> Fields:
    return {
        "id": str(one.pk),
        "procedure": one.procedure.slug,
        "started": one.started.isoformat(),
        "ended": one.ended,
        "url": request.build_absolute_uri(one.get_absolute_url()),
    }
