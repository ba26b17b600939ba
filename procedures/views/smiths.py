"""A person's public page."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from procedures.access import person_reader
from procedures.middleware import ReaderRequest
from procedures.queries import keeping

from .follows import follow_of
from .home import entries_of

ON_A_PAGE = 24
MOST_COLLECTIONS = 100


@person_reader
@require_safe
def smith(request: ReaderRequest, person: User) -> HttpResponse:
    """Anyone: what somebody published, their collections and the guilds they keep; 404 where that is nothing.

    Who never showed anything to everybody has no page, so that nobody learns who has an account.
    """
    is_self = request.user.is_authenticated and request.user.pk == person.pk
    page = Paginator(keeping.published_by(person), ON_A_PAGE).get_page(request.GET.get("page"))
    collections = list(keeping.public_collections().filter(owner=person)[:MOST_COLLECTIONS])
    guilds = list(keeping.guilds_showing(person))
    if not (is_self or collections or guilds or page.paginator.count):
        raise Http404("There is nobody by this name here.")
    context = {
        "person": person,
        "is_self": is_self,
        "page": page,
        "entries": entries_of(page.object_list, request.units),
        "collections": collections,
        "guilds": guilds,
        "follow": follow_of(request.user, person),
    }
    return render(request, "procedures/keeping/smith.html", context)
