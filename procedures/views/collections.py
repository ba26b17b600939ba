"""Collections: found, made, read, changed, put in order, taken away."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions, markdown
from procedures.access import (
    MOST_DIGITS,
    MemberRequest,
    anyone,
    collection_keeper,
    collection_reader,
    may_keep_collection,
    procedure_reader,
    readable_revision,
    sign_in_first,
    signed_in,
)
from procedures.actions import Refused
from procedures.exchange.packing import in_one_zip, packed
from procedures.forms.keeping import CollectionForm, ItemForm, NewCollectionForm
from procedures.limits import limited
from procedures.models import Collection, CollectionItem, Procedure, Revision
from procedures.printing.handout import MOST_PROCEDURES
from procedures.queries import keeping

from .exchange import sent

HTML = "procedures/keeping/"
ON_A_PAGE = 30
MOST_OWN = 200


@anyone
@require_safe
def collections(request: HttpRequest) -> HttpResponse:
    """Anyone: one's own collections, and those that everybody may find."""
    page = Paginator(keeping.public_collections(), ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"own": keeping.own_collections(request.user)[:MOST_OWN], "page": page}
    return render(request, HTML + "list.html", context)


@signed_in
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def make_collection(request: MemberRequest) -> HttpResponse:
    """Signed in: make a collection, one's own or a guild's that one edits for."""
    guilds = keeping.guilds_edited(request.user)
    form = CollectionForm(request.POST if request.method == "POST" else None, guilds=guilds)
    if form.is_valid():
        try:
            return redirect(actions.make_collection(**form.cleaned_data, by=request.user))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"form": form, "heading": "New collection", "action": "Make it"}
    return render(request, HTML + "edit.html", context, status=422 if form.is_bound else 200)


@collection_reader
@require_safe
def collection(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Who may see it: what is in it, as far as one may read that."""
    items = keeping.shown_items(collection, request.user)
    slugs = [one.procedure.slug for one in items if one.procedure]
    keeps = may_keep_collection(request.user, collection)
    context = {
        "collection": collection,
        "about": markdown.render(collection.about),
        "items": items,
        "keeps": keeps,
        "handout": f"{reverse('procedures:handout')}?{urlencode({'p': slugs[:MOST_PROCEDURES]}, doseq=True)}",
        "some": len(slugs) > MOST_PROCEDURES,
        "most": MOST_PROCEDURES,
        "readable": len(slugs),
    }
    return render(request, HTML + "page.html", context)


@collection_keeper
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_collection(request: MemberRequest, collection: Collection) -> HttpResponse:
    """Who keeps it: its title, the words about it, who reads it."""
    form = CollectionForm(request.POST if request.method == "POST" else None, of=collection)
    if form.is_valid():
        actions.edit_collection(collection=collection, **form.cleaned_data, by=request.user)
        messages.success(request, "Kept.")
        return redirect(collection)
    context = {"form": form, "heading": collection.title, "action": "Save", "collection": collection}
    return render(request, HTML + "edit.html", context, status=422 if form.is_bound else 200)


@collection_keeper
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_collection(request: MemberRequest, collection: Collection) -> HttpResponse:
    """Who keeps it: let the collection go, after being asked once."""
    if request.method == "POST":
        actions.delete_collection(collection=collection, by=request.user)
        messages.success(request, f"The collection “{collection.title}” is gone.")
        return redirect("procedures:collections")
    context = {
        "heading": f"Delete the collection “{collection.title}”?",
        "text": "This cannot be undone. The procedures in it stay where they are.",
        "losses": ["its order and the notes in it", "its address and its feed"],
        "action": "Delete it for good",
        "action_url": request.path,
        "cancel_url": collection.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)


@collection_reader
@require_safe
def collection_package(request: HttpRequest, collection: Collection) -> HttpResponseBase:
    """Who may see it: what one may read of it in one zip, each at the revision that it shows."""
    items = [one for one in keeping.shown_items(collection, request.user) if one.procedure]
    if not items:
        raise Http404("There is nothing in it that you may read.")
    found = (
        packed(
            one.procedure,
            one.revision,
            address=request.build_absolute_uri(reverse("procedures:cited", args=[one.revision.code])),
        )
        for one in items
        if one.procedure and one.revision
    )
    return sent(in_one_zip(found, folders=True), f"{collection.slug}.zip")


# -- what is in it -----------------------------------------------------------------------------------


@collection_keeper
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def collection_item(request: MemberRequest, collection: Collection, item: int) -> HttpResponse:
    """Who keeps it: the note on one procedure, and which revision is meant."""
    found = _item(request, collection, item)
    initial = {"note": found.item.note, "revision": found.item.revision_id}
    form = ItemForm(found.procedure, request.POST if request.method == "POST" else None, initial=initial)
    if form.is_valid():
        actions.note_item(item=found.item, **form.cleaned_data, by=request.user)
        return _back(collection, found.item)
    context = {"collection": collection, "shown": found, "form": form}
    return render(request, HTML + "item.html", context, status=422 if form.is_bound else 200)


@collection_keeper
@limited("create")
@require_POST
def move_item(request: MemberRequest, collection: Collection, item: int) -> HttpResponse:
    """Who keeps it: move one procedure up or down."""
    found = _item(request, collection, item)
    ways = {"up": -1, "down": 1}
    way = request.POST.get("way", "")
    if way not in ways:
        raise Http404("It moves up or down.")
    place = actions.move_item(item=found.item, by_places=ways[way], by=request.user)
    if request.htmx:
        items = keeping.shown_items(collection, request.user)
        title = found.revision.title if found.revision else "It"
        told = f"{title} is number {place} now."
        context: dict[str, Any] = {"collection": collection, "items": items, "keeps": True, "told": told}
        return render(request, HTML + "_items.html", context)
    return _back(collection, found.item)


@collection_keeper
@limited("create")
@require_POST
def drop_item(request: MemberRequest, collection: Collection, item: int) -> HttpResponse:
    """Who keeps it: take one procedure out."""
    found = _item(request, collection, item)
    actions.drop_item(item=found.item, by=request.user)
    messages.success(request, f"Taken out of “{collection.title}”.")
    return redirect(collection)


def _item(request: MemberRequest, collection: Collection, pk: int) -> keeping.ShownItem:
    found = keeping.shown_items(collection, request.user) if pk < 10**MOST_DIGITS else []
    one = next((one for one in found if one.item.pk == pk), None)
    if one is None:
        raise Http404("There is no such procedure in this collection.")
    one.item.collection = collection
    return one


def _back(collection: Collection, item: CollectionItem) -> HttpResponse:
    return redirect(f"{collection.get_absolute_url()}#item-{item.pk}")


@procedure_reader
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def collect(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it and is signed in: put it into a collection; `?revision=2` frozen there."""
    if not request.user.is_authenticated:
        return sign_in_first(request)  # type: ignore[arg-type]
    if not procedure.is_published:
        raise Http404("What is not published is in no collection.")
    asked = request.POST.get("revision") or request.GET.get("revision", "")
    revision = readable_revision(request.user, procedure, asked) if asked else None
    own = list(keeping.own_collections(request.user)[:MOST_OWN])
    chosen = request.POST.get("collection")
    form = NewCollectionForm(request.POST if request.method == "POST" and chosen is None else None)
    error = ""
    if request.method == "POST" and (chosen is not None or form.is_valid()):
        try:
            return _collected(request, procedure, revision, own, form)
        except Refused as refusal:
            error = str(refusal)
    context = {
        "procedure": procedure,
        "title": (revision or procedure.latest).title,  # type: ignore[union-attr]
        "revision": revision,
        "own": own,
        "held": keeping.places_of(procedure, own),
        "form": form,
        "error": error,
    }
    return render(request, HTML + "collect.html", context, status=422 if request.method == "POST" else 200)


def _collected(
    request: HttpRequest,
    procedure: Procedure,
    revision: Revision | None,
    own: list[Collection],
    form: NewCollectionForm,
) -> HttpResponse:
    """Put it where it was asked to go. Raises Refused, and Http404 for a collection of another's."""
    by: Any = request.user
    chosen = request.POST.get("collection")
    if chosen is None:
        into = actions.make_collection(title=form.cleaned_data["title"], by=by)
    else:
        found = next((one for one in own if one.slug == chosen), None)
        if found is None:
            raise Http404("You keep no such collection.")
        into = found
    actions.collect(collection=into, procedure=procedure, revision=revision, by=by)
    messages.success(request, f"It stands in “{into.title}”.")
    return redirect(into)
