"""Following a procedure at the anvil: one step a screen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core import signing
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.engine.catalogue import find
from procedures.models import Procedure
from procedures.presenting import PHONE
from procedures.presenting.anvil import anvil_of
from procedures.presenting.kept import kept
from procedures.presenting.spoken import spoken_done, spoken_ready, spoken_step
from procedures.presenting.think import think_of
from procedures.printing.gates import gates

from .wanted import Wanted, readable, wanted_by

COOKIE = "place"
FOR = 90 * 24 * 3600  # seconds


@dataclass(frozen=True, slots=True)
class Screen:
    """One screen of a part: 0 is what to have ready, 1 to n its steps, n + 1 the finished piece."""

    wanted: Wanted
    index: int  # of the part
    number: int

    @property
    def part(self) -> dict[str, Any]:
        """The part in its stored form: while the screen is kept, nothing is replayed."""
        return self.wanted.parts[self.index]

    @property
    def steps(self) -> int:
        """How many steps the part has."""
        return len(self.part.get("steps", ()))

    @property
    def kind(self) -> str:
        """ready, step or done."""
        if self.number == 0:
            return "ready"
        return "step" if self.number <= self.steps else "done"

    @property
    def title(self) -> str:
        """What the screen is called."""
        if self.kind == "ready":
            return f"Ready: {self.part['name']}"
        if self.kind == "done":
            return f"Done: {self.part['name']}"
        operation = self.part["steps"][self.number - 1]["operation"]
        known = find(operation)
        return f"Step {self.number}: {known.title if known else operation}"

    @property
    def address(self) -> str:
        """Where it is, in the same version and view."""
        procedure = self.wanted.procedure
        return reverse("procedures:follow", args=[procedure.slug, self.part["key"], self.number]) + (
            self.wanted.query
        )

    @property
    def anchor(self) -> str:
        """Its name on a page that holds all screens."""
        return f"{self.part['key']}-{self.number}"

    @property
    def fragment(self) -> str:
        """The link to it on such a page."""
        return f"#{self.anchor}"

    @property
    def step_key(self) -> str:
        """The key of its step, "" where it is none."""
        return str(self.part["steps"][self.number - 1]["key"]) if self.kind == "step" else ""

    def next(self) -> Screen | None:
        """Return the screen after this one: the next part's first after a part's last."""
        if self.number <= self.steps:
            return Screen(self.wanted, self.index, self.number + 1)
        last = self.index + 1 == len(self.wanted.parts)
        return None if last else Screen(self.wanted, self.index + 1, 0)

    def back(self) -> Screen | None:
        """Return the screen before this one."""
        if self.number > 0:
            return Screen(self.wanted, self.index, self.number - 1)
        if self.index == 0:
            return None
        return Screen(
            self.wanted, self.index - 1, len(self.wanted.parts[self.index - 1].get("steps", ())) + 1
        )

    def body(self) -> SafeString:
        """Return what stands on it, which is the same for all readers."""
        return kept(self.wanted.key("follow", self.part["key"], self.number, self.wanted.query), self._made)

    def _made(self) -> str:
        shown = self.wanted.shown(PHONE)
        part = shown.parts[self.index]
        step = part.steps[self.number - 1] if self.kind == "step" else None
        context = {"shown": shown, "part": part, "step": step, "wanted": self.wanted}
        says = {"ready": spoken_ready, "done": spoken_done}
        context["spoken"] = spoken_step(step) if step else says[self.kind](part)
        if self.kind == "done":
            context |= {"is_last": self.next() is None, "start": Screen(self.wanted, 0, 0).address}
        if step:
            context["think"], context["anchor"] = think_of(step), f"{self.anchor}-step"
            context["anvil"] = anvil_of(step.frame, self.wanted.units)
            context["gate"] = gates(part.replayed).get(step.number, "")
            slug = self.wanted.procedure.slug
            context["address"] = reverse("procedures:measured", args=[slug, part.key]) + self.wanted.query
        return render_to_string(f"procedures/follow/_{self.kind}.html", context)


@procedure_reader
@readable
@require_safe
def follow_start(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: on to the first screen of the first part."""
    return redirect(Screen(wanted_by(request, procedure), 0, 0).address)


@procedure_reader
@readable
@require_safe
def follow(request: HttpRequest, procedure: Procedure, part: str, number: int) -> HttpResponse:
    """Who may read it: one screen, and the place is kept in a cookie."""
    wanted = wanted_by(request, procedure)
    screen = screen_of(wanted, part, number)
    if screen is None:
        raise Http404("There is no such step in this procedure.")
    home = procedure.get_absolute_url() + wanted.query
    back, following = screen.back(), screen.next()
    keeps = number == 0 and wanted.revision is not None
    context = {
        "run_of": run_of(wanted),
        "to_keep": f"{shop_address(wanted)}to_keep.json" if keeps else "",
        "screen": screen,
        "wanted": wanted,
        "home": home,
        "resume": resume_of(request, wanted) if number == 0 else None,
        "back_href": back.address if back else "",
        "next_href": following.address if following else home,
        "next_text": "Next" if following else "Finish",
    }
    response = render(request, "procedures/follow/page.html", context)
    if number > 0:
        keep_place(response, screen)
    return response


def screen_of(wanted: Wanted, key: str, number: int) -> Screen | None:
    """Return a screen, or None for a part or a number that is not there."""
    for index, part in enumerate(wanted.parts):
        if part["key"] == key and number <= len(part.get("steps", ())) + 1:
            return Screen(wanted, index, number)
    return None


def shop_address(wanted: Wanted) -> str:
    """Return where the page of all screens is, in this version, units and view."""
    assert wanted.revision is not None
    view = "nominal" if wanted.nominal else "scale"
    args = [wanted.procedure.slug, wanted.revision.number, wanted.units.id, view]
    return reverse("procedures:shop", args=args)


def run_of(wanted: Wanted) -> dict[str, Any]:
    """Return what the log of a run on the phone says that it is a run of; revision 0 is the draft."""
    return {
        "slug": wanted.procedure.slug,
        "title": wanted.title,
        "revision": wanted.revision.number if wanted.revision else 0,
        "units": wanted.units.id,
        "nominal": wanted.nominal,
    }


# -- the place kept ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Resume:
    """Where a reader left off."""

    text: str
    href: str


def keep_place(response: HttpResponse, screen: Screen) -> None:
    """Remember a screen, for this procedure only; from the last there is no going on."""
    path = screen.wanted.procedure.get_absolute_url()
    if screen.next() is None:
        response.delete_cookie(COOKIE, path=path)
        return
    text = signing.dumps([screen.part["key"], screen.number, screen.wanted.query], salt=COOKIE)
    response.set_cookie(COOKIE, text, max_age=FOR, path=path, httponly=True, samesite="Lax")


def resume_of(request: HttpRequest, wanted: Wanted) -> Resume | None:
    """Return where this reader left off with this procedure, or None; a step since gone is forgotten."""
    text = request.COOKIES.get(COOKIE)
    if not text:
        return None
    try:
        key, number, query = signing.loads(text, salt=COOKIE, max_age=FOR)
    except signing.BadSignature:
        return None
    screen = screen_of(wanted, key, number)
    if screen is None:
        return None
    several = f" of {screen.part['name']}" if len(wanted.parts) > 1 else ""
    href = reverse("procedures:follow", args=[wanted.procedure.slug, key, number]) + query
    return Resume(f"Resume at step {min(number, screen.steps)}{several}", href)
