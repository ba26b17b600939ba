"""Who may see and change what. Every view carries one of these, and nothing else decides.

Each marks the view with its own name as `access`, and does the check before the view runs.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpResponse, HttpResponseBase
from django_htmx.http import HttpResponseClientRedirect

from .middleware import ReaderRequest
from .models import Procedure

Visitor = AbstractBaseUser | AnonymousUser
View = TypeVar("View", bound=Callable[..., HttpResponseBase])


class MemberRequest(ReaderRequest):
    """A request that came through `signed_in` or `procedure_editor`: for annotations only."""

    user: User


def may_edit(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user may change the procedure, and so see its draft: its owner only."""
    return user.is_authenticated and procedure.owner_id == user.pk


def may_read(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user may read the procedure in some form: its owner, or anyone once it is public."""
    return procedure.is_public or may_edit(user, procedure)


def anyone(view: View) -> View:
    """Let everybody in."""
    return _marked(view, "anyone")


def signed_in(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who is signed in; send others to sign in first."""

    @wraps(view)
    def checked(request: ReaderRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        return view(request, *args, **kwargs)

    return _marked(checked, "signed_in")


def procedure_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may read the procedure named by `slug`, and give the view the procedure in its place.

    To anyone else it does not exist: 404. `queries.readable_document` decides what is shown of it.
    """

    @wraps(view)
    def checked(request: ReaderRequest, slug: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        return view(request, _procedure(slug, request.user, may_read), *args, **kwargs)

    return _marked(checked, "procedure_reader")


def procedure_editor(view: View) -> Callable[..., HttpResponseBase]:
    """Let in the owner of the procedure named by `slug`, and give the view the procedure in its place.

    Who is signed in as someone else gets 404, and who is not signed in is sent to sign in.
    """

    @wraps(view)
    def checked(request: ReaderRequest, slug: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        return view(request, _procedure(slug, request.user, may_edit), *args, **kwargs)

    return _marked(checked, "procedure_editor")


def sign_in_first(request: ReaderRequest) -> HttpResponse:
    """Send to the sign-in page, and back after it; htmx is told to leave the whole page."""
    if request.htmx:
        back = request.htmx.current_url_abs_path or "/"
        return HttpResponseClientRedirect(redirect_to_login(back).url)
    return redirect_to_login(request.get_full_path() if request.method == "GET" else "/")


def _procedure(slug: str, user: Visitor, allowed: Callable[[Visitor, Procedure], bool]) -> Procedure:
    # Documents are large, and a page that is kept needs neither: they are fetched when they are first used.
    found = (
        Procedure.objects.select_related("owner", "latest")
        .defer("document", "latest__document")
        .filter(slug=slug)
        .first()
    )
    if found is None or not allowed(user, found):
        raise Http404("There is no such procedure here.")
    return found


def _marked(view: Any, access: str) -> Any:
    view.access = access
    return view
