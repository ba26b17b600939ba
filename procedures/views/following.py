"""Following a procedure at the anvil: one step a screen."""

from __future__ import annotations

from dataclasses import dataclass

from django.core import signing
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.models import Procedure
from procedures.presenting import PHONE, ShownPart, ShownProcedure, ShownStep

from .wanted import Wanted, wanted_by

COOKIE = "place"
KEPT = 90 * 24 * 3600  # seconds


@dataclass(frozen=True, slots=True)
class Screen:
    """One screen of a part: 0 is what to have ready, 1 to n its steps, n + 1 the finished piece."""

    part: ShownPart
    number: int

    @property
    def last(self) -> int:
        """The number of the part's last screen."""
        return len(self.part.steps) + 1

    @property
    def step(self) -> ShownStep | None:
        """The step on this screen, or None on the first and the last."""
        return self.part.steps[self.number - 1] if 0 < self.number < self.last else None

    @property
    def template(self) -> str:
        """The template of this kind of screen."""
        kind = "step" if self.step else "done" if self.number else "ready"
        return f"procedures/follow/{kind}.html"

    def next(self) -> Screen | None:
        """Return the screen after this one: the next part's first after a part's last."""
        if self.number < self.last:
            return Screen(self.part, self.number + 1)
        return Screen(part, 0) if (part := self._part_beside(+1)) else None

    def back(self) -> Screen | None:
        """Return the screen before this one."""
        if self.number > 0:
            return Screen(self.part, self.number - 1)
        part = self._part_beside(-1)
        return Screen(part, len(part.steps) + 1) if part else None

    def _part_beside(self, way: int) -> ShownPart | None:
        parts = self.part.procedure.parts
        index = parts.index(self.part) + way
        return parts[index] if 0 <= index < len(parts) else None


@dataclass(frozen=True, slots=True)
class Resume:
    """Where a reader left off."""

    text: str
    href: str


@procedure_reader
@require_safe
def follow_start(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: on to the first screen of the first part."""
    wanted = wanted_by(request, procedure)
    return redirect(address_of(wanted, wanted.document.parts[0].key, 0))


@procedure_reader
@require_safe
def follow(request: HttpRequest, procedure: Procedure, part: str, number: int) -> HttpResponse:
    """Who may read it: one screen, and the place is kept in a cookie."""
    wanted = wanted_by(request, procedure)
    screen = screen_of(wanted.shown(PHONE), part, number)
    context = {
        "procedure": procedure,
        "wanted": wanted,
        "screen": screen,
        "part": screen.part,
        "step": screen.step,
        "shown": screen.part.procedure,
        "resume": resume_of(request, wanted) if number == 0 else None,
        "next_href": href_of(wanted, screen.next()) or wanted.procedure.get_absolute_url() + wanted.query,
        "next_text": "Next" if screen.next() else "Finish",
        "back_href": href_of(wanted, screen.back()),
    }
    response = render(request, screen.template, context)
    if number > 0:
        keep_place(response, wanted, screen)
    return response


def screen_of(shown: ShownProcedure, key: str, number: int) -> Screen:
    """Return a screen. Raises Http404 for a part or a number that is not there."""
    part = shown.part(key)
    if part is None or number > len(part.steps) + 1:
        raise Http404("There is no such step in this procedure.")
    return Screen(part, number)


def address_of(wanted: Wanted, part: str, number: int) -> str:
    """Return the address of a screen, the draft or the nominal view kept."""
    return reverse("procedures:follow", args=[wanted.procedure.slug, part, number]) + wanted.query


def href_of(wanted: Wanted, screen: Screen | None) -> str:
    """Return the address of a screen, or "" where there is none."""
    return address_of(wanted, screen.part.key, screen.number) if screen else ""


# -- the place kept ----------------------------------------------------------------------------------


def keep_place(response: HttpResponse, wanted: Wanted, screen: Screen) -> None:
    """Remember a screen, for this procedure only; from the finished piece there is no going on."""
    path = wanted.procedure.get_absolute_url()
    if screen.next() is None:
        response.delete_cookie(COOKIE, path=path)
        return
    place = [screen.part.key, screen.number, wanted.query]
    text = signing.dumps(place, salt=COOKIE)
    response.set_cookie(COOKIE, text, max_age=KEPT, path=path, httponly=True, samesite="Lax")


def resume_of(request: HttpRequest, wanted: Wanted) -> Resume | None:
    """Return where this reader left off with this procedure, or None; a step since gone is forgotten."""
    try:
        key, number, query = signing.loads(request.COOKIES.get(COOKIE, ""), salt=COOKIE, max_age=KEPT)
    except signing.BadSignature:
        return None
    part = wanted.document.part(key)
    if part is None or number > len(part.steps) + 1:
        return None
    href = reverse("procedures:follow", args=[wanted.procedure.slug, key, number]) + query
    several = f" of {part.name}" if len(wanted.document.parts) > 1 else ""
    return Resume(f"Resume at step {min(number, len(part.steps))}{several}", href)
