"""Atom feeds: of all that is published, of a person, a guild, a procedure and a collection."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlsplit

from django.contrib.auth.models import User
from django.contrib.syndication.views import Feed
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.cache import get_conditional_response
from django.utils.feedgenerator import Atom1Feed
from django.utils.html import format_html_join
from django.utils.http import http_date
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from procedures.access import anyone, collection_reader, guild_reader, person_reader, procedure_reader
from procedures.engine.document import LICENCES
from procedures.models import Collection, Guild, Procedure
from procedures.presenting.edition import content_key
from procedures.queries import feeds
from procedures.queries.feeds import Told

KEPT_FOR = 300  # seconds that a cache may go without asking
BEGAN = datetime(2026, 1, 1, tzinfo=UTC)  # when a feed without entries was changed last
NO_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufdd0-\ufdef\ufffe\uffff]")


@dataclass(frozen=True)
class About:
    """What a feed is of. `page` is the path of the page it belongs to, `path` its own; `is_shared` whether
    everybody gets it, so that any cache may keep it."""

    title: str
    page: str
    path: str
    rows: Sequence[Told]
    said: str = ""
    by: str = "forgesite"
    changed: datetime = BEGAN
    is_shared: bool = True
    host: str = ""

    @property
    def last(self) -> datetime:
        """When it changed last, as far as that is known."""
        return max([self.changed, *(one.published_at for one in self.rows)])


def tag(host: str, when: datetime, path: str) -> str:
    """Return a name that stays the same wherever a thing is moved to (RFC 4151)."""
    name = urlsplit(f"//{host}").hostname or "localhost"
    return f"tag:{name},{when.date().isoformat()}:{path}"


def plain(text: str) -> str:
    """Return a text without the characters that XML cannot hold, or that its readers are warned of."""
    return NO_XML.sub("", text)


class SteadyAtom(Atom1Feed):
    """An Atom feed that says when it changed last even while it is empty, instead of now."""

    def latest_post_date(self) -> datetime:
        """Return when the feed changed last."""
        found: datetime = self.feed["changed"]
        return found


class Revisions(Feed):
    """Revisions as entries. Their words are escaped here; whatever a document says is text in a feed."""

    feed_type = SteadyAtom

    def title(self, obj: About) -> str:
        """Of the feed."""
        return plain(obj.title)

    def subtitle(self, obj: About) -> str:
        """What the feed is of."""
        return plain(obj.said)

    def link(self, obj: About) -> str:
        """The page it belongs to."""
        return obj.page

    def feed_url(self, obj: About) -> str:
        """Its own address."""
        return obj.path

    def feed_guid(self, obj: About) -> str:
        """Its lasting name."""
        return tag(obj.host, BEGAN, obj.path.strip("/"))

    def author_name(self, obj: About) -> str:
        """Whose it is."""
        return plain(obj.by)

    def feed_extra_kwargs(self, obj: About) -> dict[str, Any]:
        """When it changed."""
        return {"changed": obj.last}

    def items(self, obj: About) -> Sequence[tuple[About, Told]]:
        """The entries, each with its feed."""
        return [(obj, one) for one in obj.rows]

    def item_title(self, item: tuple[About, Told]) -> str:
        """The title as it was published, and which revision that is."""
        return plain(f"{item[1].title}, revision {item[1].number}")

    def item_description(self, item: tuple[About, Told]) -> SafeString:
        """What it is, what changed, and under which licence."""
        row = item[1]
        licence = LICENCES.get(row.licence, row.licence)
        said = [*row.summary.split("\n\n"), row.note and f"What changed: {row.note}", f"Licence: {licence}"]
        return format_html_join("", "<p>{}</p>", ((plain(one).strip(),) for one in said if one.strip()))

    def item_link(self, item: tuple[About, Told]) -> str:
        """The address of the revision, which stays its own."""
        return reverse("procedures:revision", args=[item[1].slug, item[1].number])

    def item_guid(self, item: tuple[About, Told]) -> str:
        """Its lasting name, of the code that it is cited by."""
        about, row = item
        return tag(about.host, row.published_at, f"r/{row.code}")

    def item_author_name(self, item: tuple[About, Told]) -> str:
        """Who wrote it."""
        return plain(item[1].author)

    def item_pubdate(self, item: tuple[About, Told]) -> datetime:
        """When it was published."""
        return item[1].published_at

    def item_updateddate(self, item: tuple[About, Told]) -> datetime:
        """The same: a revision never changes."""
        return item[1].published_at

    def item_copyright(self, item: tuple[About, Told]) -> str:
        """The licence by its SPDX name."""
        return item[1].licence


def answered(request: HttpRequest, about: About) -> HttpResponse:
    """Return a feed, or 304 to who has it as it is; nothing but its rows was asked of the database."""
    about = replace(about, host=request.get_host())
    told = (about.title, about.said, about.by, about.last, *(one.key for one in about.rows))
    etag = f'"{content_key("feed", request.scheme, about.host, *told)}"'
    changed = int(about.last.timestamp())
    response = get_conditional_response(request, etag=etag, last_modified=changed)
    if response is None:
        response = HttpResponse(content_type=SteadyAtom.content_type)
        Revisions().get_feed(about, request).write(response, "utf-8")
    response["ETag"] = etag
    response["Last-Modified"] = http_date(changed)
    response["Cache-Control"] = f"{'public' if about.is_shared else 'private'}, max-age={KEPT_FOR}"
    return response


@anyone
@require_safe
def news_feed(request: HttpRequest) -> HttpResponse:
    """Anyone: every new revision of what is public."""
    about = About(
        title="forgesite: new forging procedures",
        page=reverse("procedures:list"),
        path=request.path,
        rows=feeds.of_everybody(),
        said="Every revision that is published for everybody.",
    )
    return answered(request, about)


@person_reader
@require_safe
def smith_feed(request: HttpRequest, person: User) -> HttpResponse:
    """Anyone: the revisions of what somebody published for everybody; 404 where that is nothing."""
    rows = feeds.of_person(person)
    if not rows:
        raise Http404("There is nothing of this smith here.")
    name = person.get_username()
    page = reverse("procedures:smith", args=[name])
    return answered(request, About(f"Forging procedures by {name}", page, request.path, rows, by=name))


@guild_reader
@require_safe
def guild_feed(request: HttpRequest, guild: Guild) -> HttpResponse:
    """Who may see the guild: the revisions of what it has out for everybody."""
    about = About(
        title=f"Forging procedures of {guild.name}",
        page=guild.get_absolute_url(),
        path=request.path,
        rows=feeds.of_guild(guild),
        by=guild.name,
        changed=guild.made,
        is_shared=guild.is_shown,
    )
    return answered(request, about)


@procedure_reader
@require_safe
def procedure_feed(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Anyone: the revisions of what is public; what few read, or is found by its address alone, has none."""
    if not procedure.is_public:
        raise Http404("This procedure has no feed.")
    rows = feeds.of_procedure(procedure)
    title = rows[0].title if rows else procedure.slug
    page = procedure.get_absolute_url()
    return answered(request, About(f"{title}: revisions", page, request.path, rows, by=procedure.author))


@collection_reader
@require_safe
def collection_feed(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Who may see the collection: what is in it of what is public."""
    about = About(
        title=collection.title,
        page=collection.get_absolute_url(),
        path=request.path,
        rows=feeds.of_collection(collection),
        said="A collection of forging procedures.",
        by=collection.keeper,
        changed=collection.updated,
        is_shared=collection.is_public,
    )
    return answered(request, about)
