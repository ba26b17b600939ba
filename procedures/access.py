"""Who may see and change what. Every view carries one of these, and nothing else decides.

Each marks the view with its own name as `access`, and does the check before the view runs.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpResponse, HttpResponseBase
from django_htmx.http import HttpResponseClientRedirect

from .middleware import ReaderRequest
from .models import Course, Procedure, Run

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


def may_see_run(user: Visitor, run: Run) -> bool:
    """Whether this user may see a run: who made it, and the teacher of its class."""
    teaches = run.course is not None and run.course.teacher_id == user.pk
    return user.is_authenticated and (run.owner_id == user.pk or teaches)


def run_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may see the run named by `run`, and give the view the run in its place; else 404."""

    @wraps(view)
    def checked(request: ReaderRequest, run: UUID, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        found = Run.objects.select_related("procedure", "revision", "course").filter(pk=run).first()
        if found is None or not may_see_run(request.user, found):
            raise Http404("There is no such run here.")
        return view(request, found, *args, **kwargs)

    return _marked(checked, "run_reader")


def course_teacher(view: View) -> Callable[..., HttpResponseBase]:
    """Let in the teacher of the class named by `course`, and give the view the class; else 404."""

    @wraps(view)
    def checked(request: ReaderRequest, course: UUID, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        found = Course.objects.select_related("procedure", "revision").filter(pk=course).first()
        if found is None or found.teacher_id != request.user.pk:
            raise Http404("There is no such class here.")
        return view(request, found, *args, **kwargs)

    return _marked(checked, "course_teacher")


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
