"""Who asks: a token's owner, or a stranger. Cookies open nothing, so no other site asks in one's name."""

from __future__ import annotations

from typing import Any

from allauth.core.ratelimit import consume
from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest
from ninja.security import HttpBearer
from ninja.throttling import SimpleRateThrottle

from procedures import actions
from procedures.models import ApiToken
from procedures.models.token import digest_of
from procedures.standing import may_write

from .problems import Problem


def anyone(request: HttpRequest) -> bool:
    """Let everybody in, as their token says; one that opens nothing is refused, not ignored."""
    sent = request.headers.get("Authorization", "")
    if sent:
        kind, _, secret = sent.partition(" ")
        token = _token(secret.strip()) if kind.casefold() == "bearer" else None
        if token is None:
            raise Problem(401, "This token opens nothing: it is unknown, taken back or its time is up.")
        _let_in(request, token)
    else:
        request.user = AnonymousUser()
    return True


class Reading(HttpBearer):
    """Let in whose token reads."""

    def authenticate(self, request: HttpRequest, token: str) -> Any | None:
        found = _token(token)
        if found is None:
            return None
        _let_in(request, found)
        return found


class Writing(Reading):
    """Let in whose token writes."""

    def authenticate(self, request: HttpRequest, token: str) -> Any | None:
        found = super().authenticate(request, token)
        if found is not None and not found.writes:
            raise Problem(403, "This token reads and does not write. Make one that has the scope “write”.")
        if found is not None and not may_write(found.owner):
            raise Problem(403, "You may not write now: your account page says until when and why.")
        if found is not None and not consume(request, action="api_write", key=f"token-{found.pk}"):
            raise Problem(429, "Too much was written. Wait a while.", headers={"Retry-After": "60"})
        return found


def _token(secret: str) -> ApiToken | None:
    found = ApiToken.objects.select_related("owner").filter(digest=digest_of(secret)).first()
    return found if found and not found.is_over and found.owner.is_active else None


def _let_in(request: HttpRequest, token: ApiToken) -> None:
    request.user = token.owner
    request.api_token = token  # type: ignore[attr-defined]
    actions.note_use(token=token)


class EachAsker(SimpleRateThrottle):
    """Counts what a token asks for, or an address without one, over a minute."""

    scope = "api"

    def __init__(self) -> None:
        super().__init__(settings.API_RATE)

    def get_cache_key(self, request: HttpRequest) -> str:
        token = getattr(request, "api_token", None)
        return f"api-{token.pk}" if token else f"api-{self.get_ident(request)}"
