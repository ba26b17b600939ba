"""Care: reporting a thing, what was done about one's own, and shutting somebody out."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.models import User
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions, notices
from procedures.access import MemberRequest, anyone, open_to_blocked, reportable, signed_in
from procedures.actions import Refused
from procedures.forms.care import ReportForm
from procedures.limits import limited
from procedures.queries import care as care_queries
from procedures.queries.care import Thing, described
from procedures.standing import standing_of

HTML = "procedures/care/"
ON_A_PAGE = 30
THANKS = "Thank you. Somebody who looks after the site will look at it."


@anyone
@limited("report", unnamed="report_unnamed")
@require_http_methods(["GET", "HEAD", "POST"])
def report(request: HttpRequest, kind: str, key: str) -> HttpResponse:
    """Who may see a thing, signed in or not: report it to who looks after the site."""
    thing = described(reportable(request.user, kind, key))
    form = ReportForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            _report(request, thing, form)
            messages.success(request, THANKS)
            return redirect(thing.address)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"form": form, "thing": thing, "back": thing.address, "contact": settings.CONTACT}
    return render(request, HTML + "report.html", context, status=422 if form.is_bound else 200)


def _report(request: HttpRequest, thing: Thing, form: ReportForm) -> None:
    """Keep a report, but not one that a machine made. Raises Refused."""
    if form.is_by_machine:
        return
    by = request.user if request.user.is_authenticated else None
    actions.report(thing=thing, reason=form.cleaned_data["reason"], words=form.cleaned_data["words"], by=by)


@signed_in
@require_safe
def care(request: MemberRequest) -> HttpResponse:
    """Signed in: what was done about oneself and what is one's own, one's reports, and whom one shuts out."""
    user = request.user
    context = {
        "standing": standing_of(user),
        "warnings": care_queries.warnings_of(user)[:ON_A_PAGE],
        "page": Paginator(care_queries.acts_about(user), ON_A_PAGE).get_page(request.GET.get("page")),
        "reports": care_queries.own_reports(user)[:ON_A_PAGE],
        "shut_out": care_queries.shut_out_by(user),
        "contact": settings.CONTACT,
    }
    return render(request, HTML + "own.html", context)


@signed_in
@open_to_blocked
@limited("care")
@require_POST
def read_warning(request: MemberRequest, warning: int) -> HttpResponse:
    """Signed in: say that one has read a warning."""
    actions.read_warning(warning=warning, by=request.user)
    messages.success(request, "Noted. You may write again.")
    return redirect("procedures:care")


@signed_in
@limited("care")
@require_http_methods(["GET", "HEAD", "POST"])
def shut_out(request: MemberRequest, name: str) -> HttpResponse:
    """Signed in: want nothing more of a person, or take what they say again."""
    person = User.objects.filter(username=name, is_active=True).first()
    if person is None or person == request.user:
        raise Http404("There is no such other person here.")
    if request.method == "POST":
        try:
            _let_in_or_out(request, person)
        except Refused as refusal:
            messages.error(request, str(refusal))
        return redirect("procedures:care")
    context = {
        "heading": f"Shut {name} out?",
        "text": f"You see no questions, answers, results or offers by {name} any more, and {name} sees none"
        f" of yours. {name} cannot ask you, answer you, thank you or offer you changes, and is not told"
        " that you want it so. Procedures that you publish stay open to everybody.",
        "action": "Shut them out",
        "action_url": request.path,
        "cancel_url": reverse("procedures:smith", args=[name]),
    }
    return render(request, "components/confirm_page.html", context)


def _let_in_or_out(request: MemberRequest, person: User) -> None:
    """Do what a button asks for. Raises Refused."""
    if "in" in request.POST:
        actions.let_back_in(person=person.pk, by=request.user)
        messages.success(request, f"{person.get_username()} is let in again.")
    else:
        actions.shut_out(person=person, by=request.user)
        messages.success(request, f"{person.get_username()} is shut out, and is not told.")


@anyone
@require_safe
def safety(request: HttpRequest) -> HttpResponse:
    """Anyone: where work can hurt, and what the site does not certify."""
    return render(request, HTML + "safety.html", {"notices": notices, "contact": settings.CONTACT})


@anyone
@require_safe
def terms(request: HttpRequest) -> HttpResponse:
    """Anyone: what holds between the site and who uses it, and what it keeps of them."""
    return render(request, HTML + "terms.html", {"notices": notices, "contact": settings.CONTACT})
