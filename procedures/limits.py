"""How often one person may do what costs much or fills the disk; the rates are in the settings."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.core.ratelimit import consume
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render


def limited(action: str) -> Callable[[Callable[..., HttpResponseBase]], Callable[..., HttpResponseBase]]:
    """Return a decorator that turns a person's posts away, with 429, beyond ACCOUNT_RATE_LIMITS[action]."""

    def decorate(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def counted(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if request.method == "POST" and not consume(request, action=action, user=request.user):
                return too_often(request)
            return view(request, *args, **kwargs)

        return counted

    return decorate


def too_often(request: HttpRequest) -> HttpResponse:
    """Return the page that says so."""
    return render(request, "429.html", status=429)
