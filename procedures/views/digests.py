"""Mail of what is new: how often one wants it, and stopping it from the mail itself."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from procedures import actions
from procedures.access import MemberRequest, anyone, open_to_blocked, signed_in
from procedures.actions.digests import verified_address
from procedures.forms.keeping import DigestForm
from procedures.limits import limited
from procedures.models import DigestWish

HTML = "procedures/keeping/"


@signed_in
@open_to_blocked
@limited("follow")
@require_http_methods(["GET", "HEAD", "POST"])
def digest(request: MemberRequest) -> HttpResponse:
    """Signed in: how often mail of what is new comes."""
    wish = DigestWish.objects.filter(pk=request.user.pk).first()
    initial = {"often": wish.often if wish else DigestWish.Often.NEVER}
    form = DigestForm(request.POST if request.method == "POST" else None, initial=initial)
    if form.is_valid():
        actions.wish_digest(often=form.cleaned_data["often"], by=request.user)
        messages.success(request, "Kept.")
        return redirect("procedures:digest")
    context = {"form": form, "to": verified_address(request.user)}
    return render(request, HTML + "digest.html", context, status=422 if form.is_bound else 200)


@csrf_exempt  # a mail program presses the button for its reader, from nowhere (RFC 8058); the token is signed
@anyone
@open_to_blocked
@require_http_methods(["GET", "HEAD", "POST"])
def stop_digest(request: HttpRequest, token: str) -> HttpResponse:
    """Anyone with the link of a mail: get no more of them. Looking alone stops nothing: filters look."""
    stopped = False
    if request.method == "POST":
        stopped = actions.stop_digest(token=token)
        if not stopped:
            raise Http404("This is no link of ours.")
    response = render(request, HTML + "stopped.html", {"stopped": stopped})
    response["X-Robots-Tag"] = "noindex"
    return response
