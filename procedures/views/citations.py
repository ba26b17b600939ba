"""How a revision is cited: what stands on its page, and the files that a bibliography takes in."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.timezone import localtime
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.models import Procedure
from procedures.presenting.citing import Citation

from .wanted import Wanted, pinned, readable


@procedure_reader
@readable
@require_safe
def bibtex(request: HttpRequest, procedure: Procedure, number: int) -> HttpResponse:
    """Who may read it: the citation as BibTeX."""
    citation = citation_of(request, pinned(request, procedure, str(number)))
    made = HttpResponse(citation.bibtex(), content_type="application/x-bibtex; charset=utf-8")
    return _file(made, citation, "bib")


@procedure_reader
@readable
@require_safe
def csl(request: HttpRequest, procedure: Procedure, number: int) -> HttpResponse:
    """Who may read it: the citation as CSL-JSON."""
    citation = citation_of(request, pinned(request, procedure, str(number)))
    kind = "application/vnd.citationstyles.csl+json"
    made = JsonResponse(
        citation.csl(), safe=False, content_type=kind, json_dumps_params={"ensure_ascii": False, "indent": 2}
    )
    return _file(made, citation, "json")


def citation_of(request: HttpRequest, wanted: Wanted) -> Citation:
    """Return a revision as it is cited, without reading all of its document: every page says it."""
    assert wanted.revision is not None
    return Citation(
        title=wanted.title,
        author=wanted.author,
        credits=wanted.stored.get("credits", ()),
        licence=wanted.stored.get("licence", "CC-BY-4.0"),
        number=wanted.number,
        code=wanted.revision.code,
        published=localtime(wanted.revision.published_at).date(),
        address=request.build_absolute_uri(reverse("procedures:cited", args=[wanted.revision.code])),
    )


def _file(response: HttpResponse, citation: Citation, ending: str) -> HttpResponse:
    response["Content-Disposition"] = f'attachment; filename="{citation.key}.{ending}"'
    return response
