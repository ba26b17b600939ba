"""Finding procedures, and the searches that somebody keeps."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe
from django.views.decorators.vary import vary_on_headers

from procedures import actions
from procedures.access import MemberRequest, anyone, search_owner, signed_in
from procedures.actions import Refused
from procedures.forms.finding import FindForm, KeepSearchForm
from procedures.limits import limited
from procedures.middleware import ReaderRequest
from procedures.models import SavedSearch
from procedures.queries import finding

from .home import entries_of

ON_A_PAGE = 24
PAGES = "procedures/find/"


@anyone
@require_safe
@vary_on_headers("HX-Request", "Cookie")
def procedure_list(request: ReaderRequest) -> HttpResponse:
    """Anyone: what may be read of all procedures, by words, by what is done, with what, from which bar.

    What a search can be narrowed by is counted when it is asked for: most who search never open it.
    """
    form = FindForm(request.units, request.GET)
    keys = finding.found(form.wish, request.user)
    page = Paginator(keys[: finding.MOST], ON_A_PAGE).get_page(request.GET.get("page"))
    query = _query(request.GET)
    context = {
        "form": form,
        "words": form.words,
        "count": len(keys),
        "most": finding.MOST,
        "page": page,
        "entries": entries_of(finding.shown(list(page), request.user), request.units),
        "query": f"{query}&" if query else "",
        "meant": _meant(form, keys, request.GET),
        "asked": bool(query),
    }
    if request.htmx:
        response = render(request, PAGES + "_found.html", context)
        response["HX-Trigger-After-Swap"] = "found"
        return response
    context["narrowed"] = any(request.GET.get(one) for one in form.narrowing)
    context["panel"] = "narrow" in request.GET or bool(form.errors)
    if context["panel"]:
        context["facets"] = form.facets(finding.counts(keys))
    if request.user.is_authenticated and query:
        context["keep"] = KeepSearchForm(initial={"query": query, "name": form.words})
    return render(request, PAGES + "page.html", context)


@anyone
@require_safe
def narrow(request: ReaderRequest) -> HttpResponse:
    """Anyone: what a search can be narrowed by, with how many of what it finds have each."""
    form = FindForm(request.units, request.GET)
    facets = form.facets(finding.counts(finding.found(form.wish, request.user)))
    context = {"form": form, "facets": facets, "asked": bool(_query(request.GET))}
    return render(request, PAGES + "_narrow.html", context)


def _query(asked: QueryDict) -> str:
    """Return what is asked without what asks for nothing, and without the page."""
    given = [
        (name, one) for name in asked for one in asked.getlist(name) if one and name not in ("page", "narrow")
    ]
    return urlencode(given)


def _meant(form: FindForm, keys: list[int], asked: QueryDict) -> dict[str, str] | None:
    """Return the search that may have been meant where nothing goes by the words, with its query."""
    words = finding.meant(form.wish.asked) if form.words and not keys else ""
    if not words:
        return None
    other = asked.copy()
    other["q"] = words
    return {"words": words, "query": _query(other)}


@signed_in
@require_safe
def searches(request: MemberRequest) -> HttpResponse:
    """Signed in: the searches one keeps, and how much that is new each finds."""
    kept = [
        {"search": one, "new": finding.new_since(_keys(one, request), one)}
        for one in finding.searches(request.user)
    ]
    return render(request, PAGES + "searches.html", {"kept": kept})


def _keys(search: SavedSearch, request: MemberRequest) -> list[int]:
    return finding.found(FindForm(request.units, QueryDict(search.query)).wish, request.user)


@signed_in
@limited("search")
@require_POST
def keep_search(request: MemberRequest) -> HttpResponse:
    """Signed in: keep a search under a name."""
    form = KeepSearchForm(request.POST)
    if not form.is_valid():
        return render(request, PAGES + "keep.html", {"keep": form}, status=422)
    try:
        query = _query(QueryDict(form.cleaned_data["query"]))
        made = actions.keep_search(name=form.cleaned_data["name"], query=query, by=request.user)
    except Refused as refused:
        form.add_error("name", str(refused))
        return render(request, PAGES + "keep.html", {"keep": form}, status=422)
    messages.success(request, f"Kept as “{made.name}”.")
    return redirect(made)


@search_owner
@require_safe
def open_search(request: MemberRequest, search: SavedSearch) -> HttpResponse:
    """Whose it is: what a search finds; what it finds from now on is new."""
    actions.look_at_search(search=search, by=request.user)
    return redirect(search)


@search_owner
@limited("search")
@require_POST
def forget_search(request: MemberRequest, search: SavedSearch) -> HttpResponse:
    """Whose it is: keep a search no longer."""
    actions.forget_search(search=search, by=request.user)
    messages.success(request, f"“{search.name}” is kept no longer.")
    return redirect("procedures:searches")
