"""What goes wrong, told in one form: RFC 9457, application/problem+json."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from math import ceil
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, Throttled, ValidationError
from pydantic import BaseModel

from procedures.access import Withdrawn
from procedures.actions import EditConflict, Refused, Stops

MEDIA_TYPE = "application/problem+json"


class Problem(Exception):
    """An answer that says what is wrong."""

    def __init__(
        self, status: int, detail: str, *, headers: Mapping[str, str] | None = None, **more: Any
    ) -> None:
        super().__init__(detail)
        self.status = status
        self.detail = detail
        self.headers = headers or {}
        self.more = more


class Told(BaseModel):
    """A problem as it is told. `title` is the status in words, `detail` what is wrong and how to mend it."""

    type: str
    title: str
    status: int
    detail: str


def answer(problem: Problem) -> HttpResponse:
    """Return a problem as an answer."""
    told = Told(
        type="about:blank",
        title=HTTPStatus(problem.status).phrase,
        status=problem.status,
        detail=problem.detail,
    )
    return JsonResponse(
        {**told.model_dump(), **problem.more},
        status=problem.status,
        content_type=MEDIA_TYPE,
        headers=dict(problem.headers),
    )


def tell_all(api: NinjaAPI) -> None:
    """Have all that can go wrong told in this form."""

    def of(kind: type[Exception], made: Any) -> None:
        api.add_exception_handler(kind, lambda request, error: answer(made(error)))

    of(Problem, lambda error: error)
    of(Http404, lambda error: Problem(404, str(error) or "There is no such thing here."))
    of(Withdrawn, _withdrawn)
    of(Refused, lambda error: Problem(422, str(error)))
    of(Stops, _stops)
    of(EditConflict, lambda error: Problem(412, "The draft was changed since: fetch it again."))
    of(AuthenticationError, _unknown)
    of(ValidationError, _invalid)
    of(Throttled, _too_often)
    of(HttpError, lambda error: Problem(error.status_code, str(error)))


def _unknown(error: AuthenticationError) -> Problem:
    return Problem(
        401, "A token is needed: Authorization: Bearer ...", headers={"WWW-Authenticate": "Bearer"}
    )


def _too_often(error: Throttled) -> Problem:
    seconds = max(1, ceil(error.wait or 60))
    return Problem(429, "Too much was asked for. Wait a while.", headers={"Retry-After": str(seconds)})


def _withdrawn(error: Withdrawn) -> Problem:
    gone = error.revision or error.procedure
    if gone.hidden:
        return Problem(410, f"It was hidden by who looks after the site. {gone.hidden_reason}".strip())
    return Problem(410, f"It was withdrawn. {gone.withdrawn_reason}".strip())


def _stops(error: Stops) -> Problem:
    told = [
        {"step": frame.step.key, "code": one.code, "text": one.message.text()} for frame, one in error.stops
    ]
    return Problem(422, str(error), stops=told)


def _invalid(error: ValidationError) -> Problem:
    told = [
        {"at": ".".join(str(part) for part in one["loc"]), "text": str(one["msg"])} for one in error.errors
    ]
    return Problem(422, "; ".join(f"{one['at']}: {one['text']}" for one in told)[:1000], errors=told)


def too_large(request: HttpRequest) -> Problem:
    """Return what is told of a body that is larger than anything that is taken."""
    return Problem(413, "This is larger than a procedure can be.")
