"""The marks on a step's photo: shown large, placed by hand or typed, drawn while they are."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from procedures import actions, editing
from procedures.access import MemberRequest, procedure_editor
from procedures.actions import EditConflict, Refused
from procedures.editing import NoSuchPlace, Stored
from procedures.engine.annotation import KINDS, POINTS, Annotation, read_annotations
from procedures.engine.document import Photo as Named
from procedures.forms import annotations_formset
from procedures.models import Photo, Procedure

from .answers import readable_draft, who
from .shown_photos import ShownPhoto, shown_photo

AT_BENCH = "procedures/author/"


@procedure_editor
@readable_draft
@require_http_methods(["GET", "POST"])
def mark_photo(
    request: MemberRequest, procedure: Procedure, part: str, step: str, digest: str
) -> HttpResponse:
    """Owner: lay arrows, circles, dimensions and labels over a step's photo."""
    photo = get_object_or_404(Photo, procedure=procedure, digest=digest)
    stored = _stored(procedure, part, step, digest)
    there = read_annotations(stored.get("annotations", []), ())
    sheet = _Sheet(request, procedure, part, step, photo, stored)
    if request.method == "GET":
        rows = annotations_formset(request.units, there, spare=0 if there else 1)
        return sheet.page(rows, there)
    rows = annotations_formset(request.units, there, request.POST)
    faultless = rows.is_valid()
    if "preview" in request.POST:
        return sheet.preview(rows.annotations)
    if "more" in request.POST:
        return sheet.page(_one_more(request, there), rows.annotations, base=request.POST.get("base", ""))
    if not faultless:
        return sheet.page(rows, rows.annotations, status=422)
    try:
        actions.annotate_photo(
            procedure=procedure,
            part=part,
            step=step,
            digest=digest,
            annotations=rows.annotations,
            base=request.POST.get("base", ""),
            by=request.user,
        )
    except EditConflict as conflict:
        return sheet.page(rows, there, status=409, conflict=who(conflict, request))
    except Refused as refusal:
        messages.error(request, str(refusal))
        return sheet.page(rows, rows.annotations, status=422)
    messages.success(request, "The marks on the photo are saved.")
    return redirect(sheet.back)


def _stored(procedure: Procedure, part: str, step: str, digest: str) -> Stored:
    """Return the photo as the step names it. Raises Http404."""
    try:
        named = editing.step_of(procedure.document, part, step).get("photos", [])
    except NoSuchPlace as error:
        raise Http404(str(error)) from error
    found = next((one for one in named if one["digest"] == digest), None)
    if found is None:
        raise Http404("There is no such photo at this step.")
    return dict(found)


def _one_more(request: MemberRequest, there: tuple[Annotation, ...]) -> Any:
    """Return the rows as they were typed, and an empty one."""
    data = request.POST.copy()
    total = data.get("mark-TOTAL_FORMS", "")
    data["mark-TOTAL_FORMS"] = str(int(total) + 1) if total.isascii() and total.isdigit() else "1"
    return annotations_formset(request.units, there, data)


class _Sheet:
    """The page of one photo and its marks."""

    def __init__(
        self,
        request: MemberRequest,
        procedure: Procedure,
        part: str,
        step: str,
        photo: Photo,
        stored: Stored,
    ) -> None:
        self.request: HttpRequest = request
        self.procedure = procedure
        self.photo = photo
        self.stored = stored
        self.units = request.units
        bench = reverse("procedures:edit", args=[procedure.slug])
        self.back = f"{bench}?part={part}&step={step}#photos"

    def shown(self, annotations: tuple[Annotation, ...]) -> ShownPhoto:
        """Return the photo with these marks."""
        named = Named(self.stored["digest"], self.stored["alt"], self.stored.get("caption", ""))
        marked = replace(named, annotations=annotations)
        return shown_photo(self.photo, marked, self.procedure.slug, self.units)

    def page(self, rows: Any, drawn: tuple[Annotation, ...], status: int = 200, **more: Any) -> HttpResponse:
        """Return the page with these rows and these marks drawn."""
        context = {
            "procedure": self.procedure,
            "photo": self.shown(drawn),
            "rows": rows,
            "kinds": KINDS.items(),
            "points": POINTS,
            "back": self.back,
            "length_unit": self.units.length_unit,
            "base": actions.marks_digest(self.stored),
            **more,
        }
        if status == 422:  # what is there may have changed since: that is told when these can be saved
            context["base"] = self.request.POST.get("base", "")
        return render(self.request, AT_BENCH + "photo_marks.html", context, status=status)

    def preview(self, drawn: tuple[Annotation, ...]) -> HttpResponse:
        """Return the drawing of marks that are not saved, and the words that go with it."""
        context = {"photo": self.shown(drawn)}
        return render(self.request, AT_BENCH + "_photo_drawn.html", context)
