"""News for a person: what others said of what is theirs, and what they were answered."""

from __future__ import annotations

from datetime import datetime

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, open_to_blocked, signed_in
from procedures.limits import limited
from procedures.queries import news as news_queries

ON_A_PAGE = 30
MOST_DIGITS = 18  # of a key that a database takes


@signed_in
@require_safe
def news(request: MemberRequest) -> HttpResponse:
    """Signed in: what is new, the newest first."""
    page = Paginator(news_queries.news_of(request.user), ON_A_PAGE).get_page(request.GET.get("page"))
    items = news_queries.told(request.user, list(page.object_list))
    context = {"page": page, "items": items, "now": timezone.now().isoformat()}
    return render(request, "procedures/talk/news.html", context)


@signed_in
@open_to_blocked
@limited("talk")
@require_POST
def read_news(request: MemberRequest) -> HttpResponse:
    """Signed in: mark one item as read, or all that had come when the page was made."""
    kind, _, item = request.POST.get("item", "").partition("-")
    if kind in news_queries.KINDS and item.isascii() and item.isdigit() and len(item) <= MOST_DIGITS:
        actions.read_one(kind=kind, item=int(item), by=request.user)
    elif until := _moment(request.POST.get("until", "")):
        actions.read_all(until=until, by=request.user)
    return redirect("procedures:news")


def _moment(text: str) -> datetime | None:
    try:
        found = parse_datetime(text)
    except ValueError:
        return None
    return found if found and timezone.is_aware(found) else None
