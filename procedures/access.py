"""Who may see and change what. Every view carries one of these, and nothing else decides.

Each marks the view with its own name as `access`, and does the check before the view runs. Each closes the
view's posts to who may not write (`open_to_blocked` marks the few that stay open), and limits their rate.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast
from uuid import UUID

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.contrib.auth.views import redirect_to_login
from django.db.models import QuerySet
from django.http import Http404, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.cache import patch_cache_control
from django_htmx.http import HttpResponseClientRedirect

from .limits import limited
from .middleware import ReaderRequest
from .models import (
    Answer,
    ApiToken,
    Collection,
    Course,
    Guild,
    Membership,
    Offer,
    Procedure,
    Question,
    Result,
    Revision,
    Run,
    SavedSearch,
    Shop,
    ShopPiece,
)
from .models.talk import Said
from .standing import keep_apart, may_moderate, standing_of, unseen_by

Visitor = AbstractBaseUser | AnonymousUser
SAFE = ("GET", "HEAD", "OPTIONS", "TRACE")
MOST_DIGITS = 9  # of a revision's number: more than any has, and no more than a database takes
View = TypeVar("View", bound=Callable[..., HttpResponseBase])


class MemberRequest(ReaderRequest):
    """A request of somebody signed in, as one of the checks below let it in: for annotations only."""

    user: User


def membership_in(user: Visitor, guild: Guild | None) -> Membership | None:
    """Return this user's membership of a guild, or None; looked up once for each guild that is asked."""
    if guild is None or not user.is_authenticated:
        return None
    known: dict[Any, Membership | None] = guild.__dict__.setdefault("_memberships_known", {})
    if user.pk not in known:
        known[user.pk] = Membership.objects.filter(guild=guild, user_id=user.pk).first()
    return known[user.pk]


def may_edit(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user may change the draft, and so see it: its owner; on a guild's shelf, editors too."""
    if not user.is_authenticated:
        return False
    if procedure.owner_id == user.pk:
        return True
    found = membership_in(user, procedure.guild) if procedure.on_shelf else None
    return found is not None and found.edits


def may_manage(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user may publish, withdraw or delete it and change its settings.

    Its owner may; on a guild's shelf its keepers too. An editor works at the draft and no more: what goes out
    is answered for by one person.
    """
    if not user.is_authenticated:
        return False
    if procedure.owner_id == user.pk:
        return True
    found = membership_in(user, procedure.guild) if procedure.on_shelf else None
    return found is not None and found.keeps


def may_read(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user may read the procedure in some form.

    Who may edit it may; anyone once it is public or, by its address, unlisted; and when it is published for a
    guild, the guild. What is hidden, moderators read too.
    """
    if procedure.is_open or may_edit(user, procedure):
        return True
    if procedure.hidden and procedure.latest_id is not None and may_moderate(user):
        return True
    return procedure.is_published and membership_in(user, procedure.guild) is not None


def _may_see_stone(user: Visitor, procedure: Procedure) -> bool:
    """Whether this user could read what was withdrawn or hidden, and so is told that it was."""
    if procedure.withdrawn is None and procedure.hidden is None:
        return False
    was = procedure.withdrawn_from or procedure.status
    if was == Procedure.Status.DRAFT:
        return False
    return was != Procedure.Status.GUILD or membership_in(user, procedure.guild) is not None


class Withdrawn(Exception):
    """What a reader asks for was published and taken back: a revision, or the procedure when that is None."""

    def __init__(self, procedure: Procedure, revision: Revision | None = None) -> None:
        super().__init__("It was withdrawn.")
        self.procedure = procedure
        self.revision = revision


def readable_revision(user: Visitor, procedure: Procedure, number: str) -> Revision:
    """Return the revision that an address asks for by its number, for who may read the procedure.

    Raises Http404, and Withdrawn for one that was taken back or hidden, which only who may edit still reads;
    moderators read what is hidden.
    """
    is_number = number.isascii() and number.isdigit() and len(number) < MOST_DIGITS
    found = procedure.revisions.filter(number=int(number)).first() if is_number else None
    if found is None:
        raise Http404("There is no such revision of this procedure.")
    if (found.withdrawn or (found.hidden and not may_moderate(user))) and not may_edit(user, procedure):
        raise Withdrawn(procedure, found)
    return found


def anyone(view: View) -> View:
    """Let everybody in."""
    return _marked(view, "anyone")


def signed_in(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who is signed in; send others to sign in first."""

    @wraps(view)
    def checked(request: ReaderRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        return view(request, *args, **kwargs)

    return _marked(checked, "signed_in")


def procedure_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may read the procedure named by `slug`, and give the view the procedure in its place.

    To anyone else it does not exist: 404; but where it was public once, a stone stands in its place, which
    says that it was withdrawn and why: 410. `queries.readable_document` decides what is shown of it. No
    search engine may list what is not public, whichever file of it it came by.
    """

    @wraps(view)
    def checked(request: ReaderRequest, slug: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        try:
            found = readable_procedure(request.user, slug)
            response = view(request, found, *args, **kwargs)
        except Withdrawn as gone:
            return stone(request, gone)
        if not found.is_public:
            response["X-Robots-Tag"] = "noindex"
        if not found.is_open and "public" in response.get("Cache-Control", ""):
            patch_cache_control(response, private=True)  # what some read stays out of caches that many share
        return response

    return _marked(checked, "procedure_reader")


def procedure_editor(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may edit the procedure named by `slug`, and give the view the procedure in its place.

    Who is signed in as someone else gets 404, and who is not signed in is sent to sign in.
    """
    return _marked(_let_in(view, may_edit), "procedure_editor")


def procedure_manager(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may publish, withdraw and delete the procedure named by `slug`; see procedure_editor."""
    return _marked(_let_in(view, may_manage), "procedure_manager")


def _let_in(view: View, allowed: Callable[[Visitor, Procedure], bool]) -> Callable[..., HttpResponseBase]:
    @wraps(view)
    def checked(request: ReaderRequest, slug: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        return view(request, _procedure(slug, request.user, allowed), *args, **kwargs)

    return checked


def _given(
    view: View, argument: str, look: Callable[[User, Any], Any], missing: str
) -> Callable[..., HttpResponseBase]:
    """Give the view what `look` finds for who asks, in place of the address's `argument`.

    Who is not signed in is sent to sign in; where nothing is found it does not exist, and `missing` says so.
    """

    @wraps(view)
    def checked(request: ReaderRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        found = look(request.user, kwargs.pop(argument))
        if found is None:
            raise Http404(missing)
        return view(request, found, *args, **kwargs)

    return checked


def _numbered(rows: QuerySet[Any], number: int) -> Any:
    """Return the row of a number that stood in an address, or None; a number can be longer than any key."""
    return rows.filter(pk=number).first() if number < 10**MOST_DIGITS else None


def may_see_run(user: Visitor, run: Run) -> bool:
    """Whether this user may see a run: who made it, and the teacher of its class."""
    teaches = run.course is not None and run.course.teacher_id == user.pk
    return user.is_authenticated and (run.owner_id == user.pk or teaches)


def run_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may see the run named by `run`, and give the view the run in its place; else 404."""

    def look(user: User, run: UUID) -> Any:
        found = Run.objects.select_related("procedure", "revision", "course").filter(pk=run).first()
        return found if found and may_see_run(user, found) else None

    return _marked(_given(view, "run", look, "There is no such run here."), "run_reader")


def course_teacher(view: View) -> Callable[..., HttpResponseBase]:
    """Let in the teacher of the class named by `course`, and give the view the class; else 404."""

    def look(user: User, course: UUID) -> Any:
        return Course.objects.filter(pk=course, teacher_id=user.pk).first()

    return _marked(_given(view, "course", look, "There is no such class here."), "course_teacher")


def search_owner(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who keeps the search named by `search`, and give the view the search in its place; else 404."""

    def look(user: User, search: int) -> Any:
        return _numbered(SavedSearch.objects.filter(owner_id=user.pk), search)

    return _marked(_given(view, "search", look, "You keep no such search."), "search_owner")


def guild_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may see the page of the guild named by `guild`: anyone while it is listed, else members."""
    return _marked(_guild(view, lambda guild, found: guild.is_shown or found is not None), "guild_reader")


def guild_member(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who is in the guild named by `guild`, and give the view the guild; else 404."""
    return _marked(_guild(view, lambda guild, found: found is not None), "guild_member")


def guild_keeper(view: View) -> Callable[..., HttpResponseBase]:
    """Let in the keepers of the guild named by `guild`, and give the view the guild; else 404."""
    return _marked(_guild(view, lambda guild, found: found is not None and found.keeps), "guild_keeper")


def _guild(
    view: View, allowed: Callable[[Guild, Membership | None], bool]
) -> Callable[..., HttpResponseBase]:
    @wraps(view)
    def checked(request: ReaderRequest, guild: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        found = Guild.objects.filter(slug=guild).first()
        if found is not None and allowed(found, membership_in(request.user, found)):
            return view(request, found, *args, **kwargs)
        if not request.user.is_authenticated:
            return sign_in_first(request)
        raise Http404("There is no such guild here.")

    return checked


def may_use_shop(user: Visitor, shop: Shop) -> bool:
    """Whether this user may see a shop and plan in it: whose it is, and who is in its guild."""
    if not user.is_authenticated:
        return False
    return shop.owner_id == user.pk or membership_in(user, shop.guild) is not None


def may_keep_shop(user: Visitor, shop: Shop) -> bool:
    """Whether this user may change a shop: whose it is, and who edits for its guild."""
    if not user.is_authenticated:
        return False
    found = membership_in(user, shop.guild)
    return shop.owner_id == user.pk or (found is not None and found.edits)


def shop_user(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may plan in the shop numbered `shop`, and give the view the shop in its place; else 404."""
    return _marked(_shop(view, may_use_shop), "shop_user")


def shop_keeper(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may change the shop numbered `shop`, and give the view the shop in its place; else 404."""
    return _marked(_shop(view, may_keep_shop), "shop_keeper")


def _shop(view: View, allowed: Callable[[Visitor, Shop], bool]) -> Callable[..., HttpResponseBase]:
    def look(user: User, shop: int) -> Any:
        found = _numbered(Shop.objects.select_related("guild"), shop)
        return found if found and allowed(user, found) else None

    return _given(view, "shop", look, "You have no such shop.")


def shop_piece_of(user: Visitor, shop: Shop, pk: int) -> ShopPiece:
    """Return a piece that this user forged in a shop, and nobody else's. Raises Http404."""
    known = ShopPiece.objects.select_related("revision__procedure", "run", "result")
    own = known.filter(shop=shop, person_id=user.pk)
    found = own.filter(pk=pk).first() if pk < 10**MOST_DIGITS else None
    if found is None:
        raise Http404("You forged no such piece here.")
    found.shop = shop
    return found


def offer_party(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who made the offer named by `offer` and who answers it, and give the view the offer."""

    def look(user: User, offer: int) -> Any:
        found = _numbered(Offer.objects.select_related("by", "procedure__owner", "to__owner"), offer)
        return found if found and (found.by_id == user.pk or may_edit(user, found.to)) else None

    return _marked(_given(view, "offer", look, "There is no such offer here."), "offer_party")


def may_keep_collection(user: Visitor, collection: Collection) -> bool:
    """Whether this user may change a collection: whose it is; in a guild, its editors."""
    if not user.is_authenticated:
        return False
    found = membership_in(user, collection.guild)
    return collection.owner_id == user.pk or (found is not None and found.edits)


def may_read_collection(user: Visitor, collection: Collection) -> bool:
    """Whether this user may see a collection; each procedure in it is looked at by itself.

    Who keeps it and its guild may; anyone while it is open; what is hidden, moderators too.
    """
    if collection.is_open or may_keep_collection(user, collection):
        return True
    if collection.hidden and collection.status != Collection.Status.PRIVATE and may_moderate(user):
        return True
    return membership_in(user, collection.guild) is not None


def collection_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may see the collection named by `collection`, and give the view the collection; else 404.

    No search engine may list what is not public.
    """

    @wraps(view)
    def checked(request: ReaderRequest, collection: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        found = _collection(collection)
        if found is None or not may_read_collection(request.user, found):
            raise Http404("There is no such collection here.")
        response = view(request, found, *args, **kwargs)
        if not found.is_public:
            response["X-Robots-Tag"] = "noindex"
        return response

    return _marked(checked, "collection_reader")


def collection_keeper(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may change the collection named by `collection`, and give the view the collection."""

    def look(user: User, collection: str) -> Any:
        found = _collection(collection)
        return found if found and may_keep_collection(user, found) else None

    return _marked(_given(view, "collection", look, "You keep no such collection."), "collection_keeper")


def _collection(slug: str) -> Collection | None:
    return Collection.objects.select_related("owner", "guild").filter(slug=slug).first()


def person_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let everybody in, and give the view the person named by `person`; 404 where there is none."""

    @wraps(view)
    def checked(request: ReaderRequest, person: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        found = User.objects.filter(username=person, is_active=True).first()
        return view(request, _or_404(found), *args, **kwargs)

    return _marked(checked, "person_reader")


def followable(user: Visitor, kind: str, key: str) -> Procedure | Guild | User:
    """Return what is followed by its kind and the key in its address, for who may see it. Raises Http404."""
    if kind == "procedure":
        found = _seen(lambda: readable_procedure(user, key))
        return cast(Procedure, _or_404(found if found.is_published else None))
    if kind == "guild":
        guild = _or_404(Guild.objects.filter(slug=key).first())
        return cast(Guild, _or_404(guild if guild.is_shown or membership_in(user, guild) else None))
    person = User.objects.filter(username=key, is_active=True).first() if kind == "person" else None
    return cast(User, _or_404(person))


def moderator(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who looks after the site; who is signed in as someone else gets 404."""

    @wraps(view)
    def checked(request: ReaderRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        if not may_moderate(request.user):
            raise Http404("There is no such page for you.")
        return view(request, *args, **kwargs)

    return _marked(checked, "moderator")


def reportable(user: Visitor, kind: str, key: str) -> Any:
    """Return what is reported by its kind and the key in its address, for who may see it. Raises Http404."""
    number = int(key) if key.isascii() and key.isdigit() and len(key) < MOST_DIGITS else 0
    if kind == "procedure":
        return _seen(lambda: readable_procedure(user, key))
    if kind == "revision":
        found = cited_revision(user, key)
        return _seen(
            lambda: readable_revision(user, readable_procedure(user, found.procedure.slug), str(found.number))
        )
    if kind == "person":
        return _or_404(User.objects.filter(username=key, is_active=True).first())
    if kind == "collection":
        collection = _or_404(_collection(key))
        return _or_404(collection if may_read_collection(user, collection) else None)
    if kind == "guild":
        guild = _or_404(Guild.objects.filter(slug=key).first())
        return _or_404(guild if guild.is_shown or membership_in(user, guild) else None)
    lookups = {
        "question": (Question, "procedure"),
        "answer": (Answer, "question__procedure"),
        "result": (Result, "procedure"),
    }
    if kind not in lookups:
        raise Http404("Nothing of this kind is reported.")
    model, path = lookups[kind]
    said = _or_404(
        model._default_manager.select_related(path, "by").filter(pk=number, hidden=None, deleted=None).first()
    )
    procedure = said.question.procedure if kind == "answer" else said.procedure
    _seen(lambda: readable_procedure(user, procedure.slug))
    return said


def _seen(look: Callable[[], Any]) -> Any:
    """Return what is looked up; what was withdrawn is not seen, so it is not reported. Raises Http404."""
    try:
        return look()
    except Withdrawn:
        raise Http404("It was withdrawn.") from None


def _or_404(found: Any) -> Any:
    if found is None:
        raise Http404("There is no such thing here.")
    return found


def may_change(user: Visitor, said: Said) -> bool:
    """Whether this user may change or take back what was said: its writer, while it stands."""
    return user.is_authenticated and said.by_id == user.pk and said.stands


def may_settle(user: Visitor, question: Question) -> bool:
    """Whether this user may accept an answer: the asker, and the author."""
    return user.is_authenticated and (question.by_id == user.pk or may_edit(user, question.procedure))


def may_thank(user: Visitor, thing: Procedure | Answer | Result) -> bool:
    """Whether this user may thank for something: who is signed in, for what is another's and stands."""
    whose = (thing.owner_id, thing.writer_id) if isinstance(thing, Procedure) else (thing.by_id,)
    if not user.is_authenticated or user.pk in whose or keep_apart(user, *whose):
        return False
    return isinstance(thing, Procedure) or thing.stands


def question_of(user: Visitor, procedure: Procedure, pk: int) -> Question:
    """Return a question on a procedure, for who may read the procedure. Raises Http404.

    Who wants nothing of its asker, or is shut out by them, finds none.
    """
    known = Question.objects.select_related("by", "revision", "accepted__by").defer("revision__document")
    known = known.exclude(unseen_by(user))
    found = known.filter(pk=pk, procedure=procedure).first() if pk < 10**MOST_DIGITS else None
    if found is None:
        raise Http404("There is no such question here.")
    found.procedure = procedure
    return found


def answer_of(user: Visitor, procedure: Procedure, pk: int) -> Answer:
    """Return an answer to a question on a procedure, for who may read both. Raises Http404."""
    known = Answer.objects.select_related("by", "question")
    known = known.exclude(unseen_by(user)).exclude(unseen_by(user, "question__by"))
    found = known.filter(pk=pk, question__procedure=procedure).first() if pk < 10**MOST_DIGITS else None
    if found is None:
        raise Http404("There is no such answer here.")
    found.question.procedure = procedure
    return found


def result_of(user: Visitor, procedure: Procedure, pk: int) -> Result:
    """Return a result for who may read its procedure; a hidden one for its writer alone. Raises Http404."""
    known = Result.objects.select_related("by", "revision").exclude(unseen_by(user))
    found = known.filter(pk=pk, procedure=procedure).first() if pk < 10**MOST_DIGITS else None
    if found is None or (found.hidden and not (user.is_authenticated and found.by_id == user.pk)):
        raise Http404("There is no such result here.")
    found.procedure = procedure
    return found


def sign_in_first(request: ReaderRequest) -> HttpResponse:
    """Send to the sign-in page, and back after it; htmx is told to leave the whole page."""
    if request.htmx:
        back = request.htmx.current_url_abs_path or "/"
        return HttpResponseClientRedirect(redirect_to_login(back).url)
    return redirect_to_login(request.get_full_path() if request.method == "GET" else "/")


def code_reader(view: View) -> Callable[..., HttpResponseBase]:
    """Let in who may read the revision cited by `code`, and give the view the revision; else 404."""

    @wraps(view)
    def checked(request: ReaderRequest, code: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
        return view(request, cited_revision(request.user, code), *args, **kwargs)

    return _marked(checked, "code_reader")


def cited_revision(user: Visitor, code: str) -> Revision:
    """Return the revision cited by a code, for who may read it or the stone in its place. Raises Http404."""
    known = Revision.objects.select_related("procedure__guild").defer("document", "procedure__document")
    found = known.filter(code=code).first()
    if found is None or not (may_read(user, found.procedure) or _may_see_stone(user, found.procedure)):
        raise Http404("There is no revision by this name.")
    return found


def readable_procedure(user: Visitor, slug: str) -> Procedure:
    """Return the procedure of this slug for who may read it. Raises Http404, and Withdrawn."""
    found = _found(slug)
    if found is not None and may_read(user, found):
        return found
    if found is not None and _may_see_stone(user, found):
        raise Withdrawn(found)
    raise Http404("There is no such procedure here.")


def editable_procedure(user: Visitor, slug: str) -> Procedure:
    """Return the procedure of this slug for who may change its draft. Raises Http404."""
    return _procedure(slug, user, may_edit)


def manageable_procedure(user: Visitor, slug: str) -> Procedure:
    """Return the procedure of this slug for who may publish and delete it. Raises Http404."""
    return _procedure(slug, user, may_manage)


def token_owner(view: View) -> Callable[..., HttpResponseBase]:
    """Let in whose token is named by `token`, and give the view the token in its place; else 404."""

    def look(user: User, token: int) -> Any:
        return _numbered(ApiToken.objects.filter(owner_id=user.pk), token)

    return _marked(_given(view, "token", look, "You have no such token."), "token_owner")


def stone(request: ReaderRequest, gone: Withdrawn) -> HttpResponse:
    """Return the page that stands where something was withdrawn."""
    procedure = gone.procedure
    last = gone.revision or procedure.revisions.defer("document").first()  # the draft may be called otherwise
    context = {
        "procedure": procedure,
        "revision": gone.revision,
        "gone": gone.revision or procedure,
        "last": last,
    }
    return render(request, "procedures/read/stone.html", context, status=410)


def _procedure(slug: str, user: Visitor, allowed: Callable[[Visitor, Procedure], bool]) -> Procedure:
    found = _found(slug)
    if found is None or not allowed(user, found):
        raise Http404("There is no such procedure here.")
    return found


def _found(slug: str) -> Procedure | None:
    # Documents are large, and a page that is kept needs neither: they are fetched when they are first used.
    wanted = Procedure.objects.select_related("owner", "writer", "latest", "adaptation", "guild")
    return wanted.defer("document", "latest__document").filter(slug=slug).first()


def open_to_blocked(view: View) -> View:
    """Mark a view whose posts stay open to who may not write: what is their own to take away or to leave."""
    view.open_to_blocked = True  # type: ignore[attr-defined]
    return view


def may_not_write(request: ReaderRequest) -> HttpResponse | None:
    """Return the answer to who is kept from writing, which says until when and why; None for all others."""
    standing = standing_of(request.user)
    if standing.may_write:
        return None
    if request.htmx:
        return HttpResponseClientRedirect(reverse("procedures:care"))
    if request.content_type == "application/json":
        return JsonResponse({"fault": "You may not write now: your account page says why."}, status=403)
    context = {"standing": standing, "contact": settings.CONTACT}
    return render(request, "procedures/care/may_not_write.html", context, status=403)


def _marked(view: Any, access: str) -> Any:
    """Mark a view with who gets it; close its posts to who may not write, and limit them if nothing does."""
    if hasattr(view, "access"):  # another check stands inside, and keeps the posts
        view.access = access
        return view
    inner = view if hasattr(view, "limited") else limited("write", unnamed="write_unnamed")(view)

    @wraps(inner)
    def guarded(request: ReaderRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        refused = None
        if request.method not in SAFE and not hasattr(view, "open_to_blocked"):
            refused = may_not_write(request)
        return refused or inner(request, *args, **kwargs)

    guarded.access = access  # type: ignore[attr-defined]
    return guarded
