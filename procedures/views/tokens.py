"""Tokens for programs, and the page that says how programs read the site."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, anyone, signed_in, token_owner
from procedures.actions import Refused
from procedures.forms.token import TokenForm
from procedures.limits import limited
from procedures.middleware import ReaderRequest
from procedures.models import ApiToken

PAGES = "procedures/api/"


@anyone
@require_safe
def api_page(request: ReaderRequest) -> HttpResponse:
    """Anyone: how programs read and write."""
    return render(request, PAGES + "page.html", {"root": request.build_absolute_uri("/api/1/")})


@signed_in
@never_cache
@limited("token")
@require_http_methods(["GET", "POST"])
def tokens(request: MemberRequest) -> HttpResponse:
    """Signed in: one's tokens, and a new one, whose secret is shown this once."""
    form = TokenForm(request.POST if request.method == "POST" else None)
    secret, status = "", 200
    if form.is_bound:
        status = 422
        if form.is_valid():
            try:
                _, secret = actions.make_token(
                    name=form.cleaned_data["name"],
                    writes=form.cleaned_data["scope"] == "write",
                    days=form.days,
                    by=request.user,
                )
                form, status = TokenForm(), 201
            except Refused as refused:
                form.add_error(None, str(refused))
    kept = ApiToken.objects.filter(owner_id=request.user.pk)
    return render(
        request, PAGES + "tokens.html", {"form": form, "secret": secret, "tokens": kept}, status=status
    )


@token_owner
@limited("token")
@require_POST
def take_token_back(request: MemberRequest, token: ApiToken) -> HttpResponse:
    """Whose it is: let a token open nothing any more."""
    actions.take_token_back(token=token, by=request.user)
    messages.success(request, f"“{token.name}” opens nothing any more.")
    return redirect("procedures:tokens")
