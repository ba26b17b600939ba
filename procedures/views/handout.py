"""The class handout: the page where it is put together, and the handout as PDF."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import queries
from procedures.access import anyone
from procedures.engine.parameters.fields import DocumentError
from procedures.forms.printing import HandoutForm
from procedures.models import Procedure
from procedures.printing import SheetError
from procedures.printing.choices import Choices, choices_of
from procedures.printing.handout import MOST_PROCEDURES, Entry, HandoutError, check_size, handout_pdf

from .printing import imprint_of, pdf_response, remembered
from .wanted import Wanted

OFFERED = 60  # procedures on the page besides those ticked
LONGEST_SEARCH = 100  # characters


@anyone
@require_safe
def handout(request: HttpRequest) -> HttpResponse:
    """Anyone: tick procedures that one may read, and say which class they are for."""
    try:
        chosen = choices_of({**remembered(request), **request.GET.dict()})
        check_size(max(len(_ticked(request)), 1), 0)
    except (SheetError, HandoutError) as error:
        return _page(request, Choices(), error=str(error))
    return _page(request, chosen)


@anyone
@require_safe
def handout_file(request: HttpRequest) -> HttpResponse:
    """Anyone: the handout of procedures that one may read; the address holds all that it is made of."""
    chosen = Choices()
    try:
        chosen = choices_of(request.GET.dict())
        check_size(len(_ticked(request)), 0)
        wanted = _wanted(request, chosen)
        form = HandoutForm(chosen, request.units, _offered(request), _filled(request))  # type: ignore[attr-defined]
        if not form.is_valid():
            return _page(request, chosen, form=form)
        check_size(len(wanted), sum(len(part.get("steps", [])) for one in wanted for part in one.parts))
        made = handout_pdf(
            tuple(one.key("handout") for one in wanted),
            lambda: tuple(Entry(one.shown(chosen.sheet.room), imprint_of(request, one)) for one in wanted),
            form.chosen_course,
            chosen.sheet,
            wanted[0].units,
            chosen.contents,
        )
    except (SheetError, HandoutError, DocumentError) as error:
        return _page(request, chosen, error=str(error))
    return pdf_response(request, made, "class-handout.pdf", chosen)


def _ticked(request: HttpRequest) -> list[str]:
    return list(dict.fromkeys(request.GET.getlist("p")))


def _filled(request: HttpRequest) -> QueryDict:
    """Return the address as the form reads it, with the number of students it was offered."""
    given = request.GET.copy()
    given.setdefault("students", "8")
    return given


def _wanted(request: HttpRequest, chosen: Choices) -> list[Wanted]:
    """Return the procedures ticked that may be read, in the order of the address."""
    units = UNIT_SYSTEMS[chosen.units] if chosen.units else request.units  # type: ignore[attr-defined]
    found = {one.slug: one for one in _named(request)}
    return [
        Wanted(found[slug], queries.readable_revision(found[slug], request.user), units, nominal=False)
        for slug in _ticked(request)
        if slug in found
    ]


def _named(request: HttpRequest) -> list[Procedure]:
    return list(queries.readable_procedures(request.user).filter(slug__in=_ticked(request)[:MOST_PROCEDURES]))


def _offered(request: HttpRequest) -> list[tuple[str, str]]:
    """Return the procedures to choose from: those ticked first, then those that are searched for."""
    named = {one.slug: one for one in _named(request)}
    ticked = [named[slug] for slug in _ticked(request) if slug in named]
    others = queries.readable_procedures(request.user).exclude(slug__in=list(named))
    for word in _words(request).split():
        others = others.filter(latest__title__icontains=word)
    return [(one.slug, _title(one, request)) for one in (*ticked, *others[:OFFERED])]


def _title(procedure: Procedure, request: HttpRequest) -> str:
    revision = queries.readable_revision(procedure, request.user)
    author = procedure.author
    return f"{revision.title}, by {author}" if revision else f"{procedure.title}, by {author} (draft)"


def _words(request: HttpRequest) -> str:
    return " ".join(request.GET.get("q", "").replace("\0", " ").split())[:LONGEST_SEARCH]


def _page(
    request: HttpRequest, chosen: Choices, *, error: str = "", form: HandoutForm | None = None
) -> HttpResponse:
    status = 400 if error or form else 200
    form = form or HandoutForm(chosen, request.units, _offered(request), request.GET)  # type: ignore[attr-defined]
    context = {"form": form, "error": error, "words": _words(request), "most": MOST_PROCEDURES}
    return render(request, "procedures/print/handout_page.html", context, status=status)
