"""Full size: the page that offers patterns, and the patterns as PDF, SVG and DXF."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.full_size import LAYINGS, MOST_SHEETS, PAPERS, FullSizeError, Pattern, dxf_of, pattern_svg
from procedures.models import Procedure
from procedures.presenting.full_size import FullSize, Wish, wish_of
from procedures.presenting.kept import kept
from procedures.printing.full_size import full_size_pdf

from .printing import imprint_of
from .wanted import Wanted, readable, wanted_by


@procedure_reader
@readable
@require_safe
def full_size(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what can be printed at full size, with the sheets that what is ticked takes."""
    wanted = wanted_by(request, procedure)
    return _page(request, wanted, _wish(request, wanted))


@procedure_reader
@readable
@require_safe
def full_size_pdf_file(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what is ticked, as PDF."""
    wanted = wanted_by(request, procedure)
    wish = _wish(request, wanted)
    try:
        made = full_size_pdf(
            wanted.key("full-size", wish), lambda: _full_size(wanted, wish), imprint_of(request, wanted)
        )
    except FullSizeError as error:
        return _page(request, wanted, wish, error=str(error))
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{procedure.slug}-full-size.pdf"'
    response["Cache-Control"] = "private, no-cache"
    return response


@procedure_reader
@readable
@require_safe
def full_size_svg(request: HttpRequest, procedure: Procedure, part: str, pattern: str) -> HttpResponse:
    """Who may read it: one pattern as SVG; `?after=` names the step."""
    return _file(request, procedure, (part, pattern), "svg", pattern_svg)


@procedure_reader
@readable
@require_safe
def full_size_dxf(request: HttpRequest, procedure: Procedure, part: str, pattern: str) -> HttpResponse:
    """Who may read it: one pattern as DXF; `?after=` names the step."""
    return _file(request, procedure, (part, pattern), "dxf", dxf_of)


def _wish(request: HttpRequest, wanted: Wanted) -> Wish:
    keys = [one["key"] for one in wanted.parts]
    return wish_of(request.GET.dict(), request.GET.getlist("print"), keys)


def _full_size(wanted: Wanted, wish: Wish, *, strict: bool = True) -> FullSize:
    return FullSize(wanted.document, wanted.units, wish, nominal=wanted.nominal, strict=strict)


def _page(request: HttpRequest, wanted: Wanted, wish: Wish, *, error: str = "") -> HttpResponse:
    """Return the page; where what is wished for is not there, it says so and offers the usual."""
    try:
        form = _kept_form(wanted, wish)
    except FullSizeError as fault:
        form, error = _kept_form(wanted, Wish()), error or str(fault)
    context = {"procedure": wanted.procedure, "wanted": wanted, "error": error, "form": form}
    return render(request, "procedures/full_size/page.html", context, status=400 if error else 200)


def _kept_form(wanted: Wanted, wish: Wish) -> SafeString:
    """Return the form, which is the same for all readers. Raises FullSizeError."""
    return kept(wanted.key("full-size-page", wish, wanted.query), lambda: _form(wanted, wish))


def _form(wanted: Wanted, wish: Wish) -> str:
    found = _full_size(wanted, wish, strict=False)
    context: dict[str, Any] = {
        "procedure": wanted.procedure,
        "wanted": wanted,
        "draft": "draft" in wanted.query,
        "found": found,
        "papers": [(key, words, key == found.paper) for key, words in PAPERS.items()],
        "layings": [(key, words, key == found.strips) for key, words in LAYINGS.items()],
        "parts": list(found.choices()),
        "most": MOST_SHEETS,
    }
    return render_to_string("procedures/full_size/_form.html", context)


def _file(
    request: HttpRequest,
    procedure: Procedure,
    names: tuple[str, str],
    kind: str,
    write: Callable[[Pattern, str], str],
) -> HttpResponse:
    """Return one pattern of a part as a file to keep, made once for the same content."""
    wanted = wanted_by(request, procedure)
    part, key = names
    after = request.GET.get("after", "")

    def made() -> str:
        pattern = _full_size(wanted, Wish()).part(part, after).pattern(key)
        if pattern is None:
            raise FullSizeError(f"There is no pattern {key[:40]!r} of it.")
        return write(pattern, wanted.rights)

    try:
        text = kept(wanted.key(f"full-size-{kind}", part, key, after), made)
    except FullSizeError as error:
        raise Http404(str(error)) from error
    types = {"svg": "image/svg+xml", "dxf": "image/vnd.dxf"}
    response = HttpResponse(text, content_type=types[kind])
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-{part}-{key}.{kind}"'
    response["Cache-Control"] = "private, no-cache"
    return response
