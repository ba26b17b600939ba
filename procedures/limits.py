"""How often one person may do what costs much or fills the disk; the rates are in the settings."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.core.ratelimit import consume
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render


def limited(
    action: str, *, unnamed: str | None = None
) -> Callable[[Callable[..., HttpResponseBase]], Callable[..., HttpResponseBase]]:
    """Return a decorator that turns a person's posts away, with 429, beyond ACCOUNT_RATE_LIMITS[action].

    `unnamed` is the rate of who is not signed in, where it is another.
    """

    def decorate(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def counted(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if request.method == "POST":  # who asks is looked up for nothing else: a file is the same for all
                rate = action if unnamed is None or request.user.is_authenticated else unnamed
                if not consume(request, action=rate, user=request.user):
                    return too_often(request)
            return view(request, *args, **kwargs)

        counted.limited = action  # type: ignore[attr-defined]
        return counted

    return decorate


def too_often(request: HttpRequest) -> HttpResponse:
    """Return the page that says so."""
    return render(request, "429.html", status=429)
