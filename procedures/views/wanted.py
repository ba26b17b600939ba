"""What a reader asked to see of a procedure: which version, in which units, with scale or nominal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, wraps
from typing import Any, TypeVar, cast

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import render
from django.urls import reverse
from django.utils.formats import date_format
from django.utils.timezone import localtime

from calculators.wording import UnitSystem
from procedures import editing, queries
from procedures.access import readable_revision
from procedures.engine import document
from procedures.engine.document import LEVELS, LICENCES, Document
from procedures.engine.parameters.fields import DocumentError
from procedures.models import Procedure, Revision
from procedures.presenting import SCREEN, Room, ShownProcedure, present
from procedures.presenting.edition import content_key

from .shown_photos import photo_finder

View = TypeVar("View", bound=Callable[..., HttpResponseBase])


@dataclass(frozen=True)
class Wanted:
    """One version of a procedure as one reader wants to see it. `revision` is None for the draft.

    `pinned` is set where that very revision was asked for, whatever else is published: links keep to it.
    """

    procedure: Procedure
    revision: Revision | None
    units: UnitSystem
    nominal: bool
    pinned: bool = False

    @cached_property
    def stored(self) -> Any:
        """The document in its stored form."""
        return self.revision.document if self.revision else self.procedure.document

    @cached_property
    def document(self) -> Document:
        """The document."""
        return document.read(self.stored, draft=True)

    @cached_property
    def digest(self) -> str:
        """The digest of the document."""
        return self.revision.digest if self.revision else editing.digest(self.stored)

    @property
    def title(self) -> str:
        """The title of this version."""
        return str(self.stored["title"])

    @property
    def summary(self) -> str:
        """What it is about, in its author's words."""
        return str(self.stored.get("summary", ""))

    @property
    def level(self) -> str:
        """The level in a word."""
        return LEVELS[self.stored.get("level", "beginner")]

    @property
    def licence(self) -> str:
        """Its licence, by its name and as SPDX calls it."""
        licence = self.stored.get("licence", "CC-BY-4.0")
        return f"{LICENCES[licence]} ({licence})"

    @property
    def rights(self) -> str:
        """Who made it and under which licence, in a line: it goes with whatever is taken away."""
        names = ", ".join((self.author, *self.stored.get("credits", ())))
        return f"{names}. {self.licence}"

    @property
    def parts(self) -> list[dict[str, Any]]:
        """The parts in their stored form, for what needs no replay."""
        return list(self.stored["parts"])

    @property
    def query(self) -> str:
        """The query that keeps to this version and view: "?draft&view=nominal", or ""."""
        return f"?{self.asked}" if self.asked else ""

    @property
    def asked(self) -> str:
        """The same to go on a query that has begun: "draft&view=nominal", or ""."""
        draft = (
            self.revision is None and self.procedure.is_published
        )  # elsewhere the draft is what is shown anyway
        version = ["draft"] if draft else [f"revision={self.number}"] if self.pinned else []
        return "&".join(version + (["view=nominal"] if self.nominal else []))

    @property
    def number(self) -> int:
        """The number of the revision; 0 for the draft."""
        return self.revision.number if self.revision else 0

    @property
    def address(self) -> str:
        """Where this version is read, in this view."""
        if self.pinned and self.revision:
            page = reverse("procedures:revision", args=[self.procedure.slug, self.number])
            return page + ("?view=nominal" if self.nominal else "")
        return self.procedure.get_absolute_url() + self.query

    @property
    def version(self) -> str:
        """Which version it is, in words."""
        return f"Revision {self.revision.number}" if self.revision else "Draft"

    @property
    def date(self) -> str:
        """When this version was made."""
        when = self.revision.published_at if self.revision else self.procedure.updated
        return date_format(localtime(when), "j F Y")

    @property
    def author(self) -> str:
        """Whose it is."""
        return self.procedure.author

    def key(self, kind: str, *more: object) -> str:
        """Return the key to keep a rendering of this under."""
        version = (self.procedure.slug, self.version, self.pinned, self.author)
        return content_key(kind, self.digest, self.units.id, self.nominal, *version, *more)

    def shown(self, room: Room = SCREEN) -> ShownProcedure:
        """Return it replayed and ready to show, its drawings made for the room there is."""
        finder = photo_finder(self.procedure, self.units)
        return present(self.document, self.units, nominal=self.nominal, room=room, find_photo=finder)


def readable(view: View) -> View:
    """Say it on a page when a stored document reads no more, which only another release can cause."""

    @wraps(view)
    def shown(request: HttpRequest, procedure: Procedure, *args: Any, **kwargs: Any) -> HttpResponseBase:
        try:
            return view(request, procedure, *args, **kwargs)
        except DocumentError as error:
            context = {"procedure": procedure, "error": error}
            return render(request, "procedures/read/unreadable.html", context, status=409)

    return cast(View, shown)


def wanted_by(request: HttpRequest, procedure: Procedure) -> Wanted:
    """Return what a request wants of a procedure: `?draft` for its owner, `?view=nominal` without scale.

    `?revision=2` is that very one. Raises Http404, and Withdrawn where it was taken back.
    """
    if "revision" in request.GET:
        return pinned(request, procedure, request.GET["revision"])
    revision = queries.readable_revision(procedure, request.user, draft="draft" in request.GET)
    return Wanted(procedure, revision, units_of(request), nominal=request.GET.get("view") == "nominal")


def pinned(request: HttpRequest, procedure: Procedure, number: str) -> Wanted:
    """Return one revision by its number as a request wants it. Raises Http404, and Withdrawn."""
    revision = readable_revision(request.user, procedure, number)
    return Wanted(procedure, revision, units_of(request), request.GET.get("view") == "nominal", pinned=True)


def units_of(request: HttpRequest) -> UnitSystem:
    """Return the reader's units."""
    units: UnitSystem = request.units  # type: ignore[attr-defined]  # set by middleware
    return units
