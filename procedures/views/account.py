"""A person's own: all that the site keeps of them taken away, or deleted for good."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import logout
from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.timezone import localdate
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from procedures import actions, queries
from procedures.access import MemberRequest, open_to_blocked, signed_in
from procedures.exchange import account
from procedures.exchange.packing import as_they_stand, in_one_zip
from procedures.forms.leaving import LeavingForm
from procedures.limits import limited
from procedures.models import Procedure, Run

from .exchange import sent

ABOUT = """\
This is all that the site keeps of one person. Beside the procedures: account.json says who; runs holds what
was forged, with its photos; other files are named after what they hold. A site takes in the procedures."""


@signed_in
@open_to_blocked
@limited("export")
@require_http_methods(["GET", "HEAD", "POST"])
def export_account(request: MemberRequest) -> HttpResponseBase:
    """Signed in: what the site keeps of one, and on a press all of it in one zip."""
    if request.method == "POST":
        own = queries.own_procedures(request.user)
        more = ((one.path, one.read) for one in account.gathered(request.user))
        file = in_one_zip(as_they_stand(own), folders=True, more=more, about=ABOUT)
        return sent(file, f"forgesite-{localdate().isoformat()}.zip")
    context = {
        "told": account.told(request.user),
        "has_procedures": queries.own_procedures(request.user).exists(),
    }
    return render(request, "procedures/exchange/account.html", context)


@sensitive_post_parameters("password")
@signed_in
@open_to_blocked
@limited("leave")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_account(request: MemberRequest) -> HttpResponse:
    """Signed in: delete one's account for good, after saying what becomes of what is published."""
    own = Procedure.objects.filter(owner=request.user)
    has_published = own.exclude(status=Procedure.Status.DRAFT).exists()
    form = LeavingForm(
        request.user, request.POST if request.method == "POST" else None, has_published=has_published
    )
    if form.is_valid():
        actions.leave(leaving=form.leaving, by=request.user)
        logout(request)
        messages.success(request, "Your account is deleted, and all that was yours with it.")
        return redirect("procedures:home")
    context = {
        "form": form,
        "has_published": has_published,
        "told": account.told(request.user),
        "others_runs": Run.objects.filter(procedure__owner=request.user).exclude(owner=request.user).count(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "procedures/exchange/delete_account.html", context, status=status)
