"""What is reported, whatever its kind; the moderators' queue and log; and what a person may see of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, User
from django.db.models import Case, Count, Max, Min, QuerySet, Value, When
from django.urls import reverse

from procedures.models import (
    Answer,
    Collection,
    Guild,
    ModerationAct,
    Procedure,
    Question,
    Report,
    Result,
    Revision,
    ShutOut,
    WritingBlock,
    WrittenWarning,
)
from procedures.models.care import TITLE_LIMIT, WORDS_LIMIT, Kind

URGENT = (Report.Reason.MINOR, Report.Reason.UNSAFE)  # looked at first, in this order
RANKED = (*(one.label for one in URGENT), "")


@dataclass(frozen=True)
class Thing:
    """One thing that can be reported: what it is called and says, whose it is, and where it stands."""

    kind: Kind
    found: Any
    title: str
    words: str
    people: tuple[User, ...]
    address: str

    @property
    def item(self) -> int:
        """Its key."""
        key: int = self.found.pk
        return key

    @property
    def about(self) -> User | None:
        """Whose it is, where it is one person's."""
        return self.people[0] if len(self.people) == 1 else None

    @property
    def can_hide(self) -> bool:
        """Whether it is a thing that is hidden: a person is not."""
        return self.kind != Kind.PERSON

    @property
    def is_hidden(self) -> bool:
        """Whether it is."""
        return getattr(self.found, "hidden", None) is not None


def thing_of(kind: str, item: int) -> Thing | None:
    """Return a thing by its kind and key, whoever may see it; None where it is gone."""
    if kind not in _KNOWN:
        return None
    known, describe = _KNOWN[Kind(kind)]
    found = known().filter(pk=item).first()
    return describe(found) if found else None


def described(found: Any) -> Thing:
    """Return something that was found as a thing that can be reported."""
    kind = Kind.PERSON if isinstance(found, User) else Kind(type(found).__name__.lower())
    return _KNOWN[kind][1](found)


def _thing(kind: Kind, found: Any, title: str, words: str, *people: User | None, address: str) -> Thing:
    known = tuple(dict.fromkeys(one for one in people if one is not None))
    told = words if len(words) <= WORDS_LIMIT else words[: WORDS_LIMIT - 1] + "…"
    return Thing(kind, found, title[:TITLE_LIMIT], told, known, address)


def _document_told(document: Mapping[str, Any]) -> str:
    steps = [step for part in document["parts"] for step in part.get("steps", [])]
    lines = [document.get("summary", ""), *(step.get("note", "") for step in steps)]
    lines += [
        photo.get(name, "")
        for step in steps
        for photo in step.get("photos", [])
        for name in ("alt", "caption")
    ]
    return "\n\n".join(one for one in lines if one)


def _procedure(one: Procedure) -> Thing:
    shown = one.latest or one
    people = (one.owner,)
    told = _document_told(shown.document)
    return _thing(Kind.PROCEDURE, one, shown.title, told, *people, address=one.get_absolute_url())


def _revision(one: Revision) -> Thing:
    told = _document_told(one.document)
    owner = one.procedure.owner
    return _thing(Kind.REVISION, one, str(one), told, owner, address=one.get_absolute_url())


def _question(one: Question) -> Thing:
    title = f"A question on {one.step_was}"
    return _thing(Kind.QUESTION, one, title, one.words, one.by, address=one.get_absolute_url())


def _answer(one: Answer) -> Thing:
    title = f"An answer to a question on {one.question.step_was}"
    return _thing(Kind.ANSWER, one, title, one.words, one.by, address=one.get_absolute_url())


def _result(one: Result) -> Thing:
    told = "\n\n".join(text for text in (one.words, one.wrong, one.changed) if text)
    title = f"A result of {one.revision.title}"
    return _thing(Kind.RESULT, one, title, told, one.by, address=one.get_absolute_url())


def _collection(one: Collection) -> Thing:
    keepers: tuple[User | None, ...] = (one.owner,)
    if one.guild is not None:
        keepers = tuple(User.objects.filter(memberships__guild=one.guild, memberships__role="keeper"))
    told = "\n\n".join(text for text in (one.about, *one.items.values_list("note", flat=True)) if text)
    return _thing(Kind.COLLECTION, one, one.title, told, *keepers, address=one.get_absolute_url())


def _guild(one: Guild) -> Thing:
    keepers = User.objects.filter(memberships__guild=one, memberships__role="keeper")
    told = "\n\n".join(text for text in (one.about, one.place, one.shop) if text)
    return _thing(Kind.GUILD, one, one.name, told, *keepers, address=one.get_absolute_url())


def _person(one: User) -> Thing:
    address = reverse("procedures:smith", args=[one.get_username()])
    return _thing(Kind.PERSON, one, one.get_username(), "", one, address=address)


_KNOWN: dict[Kind, tuple[Callable[[], QuerySet[Any]], Callable[[Any], Thing]]] = {
    Kind.PROCEDURE: (lambda: Procedure.objects.select_related("owner", "latest", "guild"), _procedure),
    Kind.REVISION: (lambda: Revision.objects.select_related("procedure__owner"), _revision),
    Kind.QUESTION: (lambda: Question.objects.select_related("by", "procedure"), _question),
    Kind.ANSWER: (lambda: Answer.objects.select_related("by", "question__procedure"), _answer),
    Kind.RESULT: (lambda: Result.objects.select_related("by", "revision", "procedure"), _result),
    Kind.COLLECTION: (lambda: Collection.objects.select_related("owner", "guild"), _collection),
    Kind.GUILD: (Guild.objects.all, _guild),
    Kind.PERSON: (User.objects.all, _person),
}


# -- the moderators' ---------------------------------------------------------------------------------


def waiting() -> QuerySet[Any]:
    """Return what is reported and waits: a row a thing, minors and danger first, then who waits longest."""
    rank = Case(
        *(When(reason=one, then=Value(n)) for n, one in enumerate(URGENT)), default=Value(len(URGENT))
    )
    rows = Report.objects.filter(closed=None).order_by().values("kind", "item")
    told = rows.annotate(rank=Min(rank), since=Min("made"), many=Count("pk"), name=Max("title"))
    return told.order_by("rank", "since", "kind", "item")


def reports_of(thing_kind: str, item: int) -> QuerySet[Report]:
    """Return the reports of a thing, those that wait first, then the newest."""
    found = Report.objects.filter(kind=thing_kind, item=item).select_related("by", "about")
    return found.order_by(Case(When(closed=None, then=0), default=1), "-pk")


def log(kind: str = "", item: int | None = None) -> QuerySet[ModerationAct]:
    """Return the moderators' log, or its lines on one thing, the newest first."""
    found = ModerationAct.objects.select_related("by", "about")
    return found.filter(kind=kind, item=item) if item is not None else found


def blocks_of(user: AbstractBaseUser) -> QuerySet[WritingBlock]:
    """Return the blocks of a person that stand or wait for a second word, the newest first."""
    return WritingBlock.objects.filter(user_id=user.pk, lifted=None).select_related("by")


# -- a person's own ----------------------------------------------------------------------------------


def acts_about(user: AbstractBaseUser) -> QuerySet[ModerationAct]:
    """Return what was done about a person and what is theirs, the newest first.

    Reports that led to nothing are not told: who reported is nobody's to find out.
    """
    untold = (ModerationAct.What.DISMISSED, ModerationAct.What.PROPOSED, ModerationAct.What.DROPPED)
    return ModerationAct.objects.filter(about_id=user.pk).exclude(what__in=untold)


def warnings_of(user: AbstractBaseUser) -> QuerySet[WrittenWarning]:
    """Return the warnings of a person, the newest first."""
    return WrittenWarning.objects.filter(user_id=user.pk)


def own_reports(user: AbstractBaseUser) -> QuerySet[Report]:
    """Return what a person reported, the newest first."""
    return Report.objects.filter(by_id=user.pk).order_by("-pk")


def shut_out_by(user: AbstractBaseUser) -> QuerySet[ShutOut]:
    """Return whom a person shuts out, the last first."""
    return ShutOut.objects.filter(by_id=user.pk).select_related("whom")
