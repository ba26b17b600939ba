"""What is new for a person: questions and results on what is theirs, answers to what they asked, offers, and
what moderators did about what is theirs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import CharField, F, Model, Q, QuerySet, Value

from procedures.models import (
    Answer,
    ModerationAct,
    NewsRead,
    NewsSeen,
    Offer,
    Procedure,
    Question,
    Result,
)
from procedures.standing import unseen_by

from .procedures import readable_procedures

BEGINNING = datetime(1970, 1, 1, tzinfo=UTC)
KINDS = ("question", "answer", "offer", "result", "care")
WHEN = {"care": "at"}  # what a kind calls the time it came
What = ModerationAct.What
TOLD = (What.HIDDEN, What.UNHIDDEN, What.WARNED, What.BLOCKED, What.UNBLOCKED)  # to whom it is about


@dataclass(frozen=True, slots=True)
class News:
    """One item: its kind, what it tells of, when it came, and whether this person has read it."""

    kind: str
    thing: Any
    at: datetime
    is_read: bool


def news_of(user: AbstractBaseUser) -> QuerySet[Any]:
    """Return the kinds, keys and times of all news for a person, the newest first, as rows to be paged."""
    mine = {"procedure__owner_id": user.pk}
    standing = {"hidden": None, "deleted": None}
    questions = Question.objects.filter(**mine, **standing).exclude(by_id=user.pk)
    answers = Answer.objects.filter(_readable(user), question__by_id=user.pk, **standing)
    answers = answers.exclude(by_id=user.pk)
    results = Result.objects.filter(**mine, **standing).exclude(by_id=user.pk)
    offers = Offer.objects.filter(to__owner_id=user.pk, taken_back=None)
    unseen = unseen_by(user)
    acts = ModerationAct.objects.filter(about_id=user.pk, what__in=TOLD)
    found = [one.exclude(unseen) for one in (questions, answers, offers, results)] + [acts]
    rows = [
        one.order_by().values(key=F("pk"), came=F(WHEN.get(kind, "made")), sort=Value(kind, CharField()))
        for kind, one in zip(KINDS, found, strict=True)
    ]
    return rows[0].union(*rows[1:], all=True).order_by("-came", "-key")


def _readable(user: AbstractBaseUser) -> Q:
    """Return which answers a person may read: those on what is still open to them."""
    by_address = Q(question__procedure__status=Procedure.Status.UNLISTED, question__procedure__hidden=None)
    return by_address | Q(question__procedure__in=readable_procedures(user).order_by().values("pk"))


def read_until(user: AbstractBaseUser) -> datetime:
    """Return up to when a person has read all news."""
    seen = NewsSeen.objects.filter(user_id=user.pk).first()
    return seen.until if seen else BEGINNING


def told(user: AbstractBaseUser, rows: Sequence[dict[str, Any]]) -> list[News]:
    """Return the items of one page of `news_of`, whatever their number in a few queries."""
    until = read_until(user)
    keys = {kind: [row["key"] for row in rows if row["sort"] == kind] for kind in KINDS}
    marks = NewsRead.objects.filter(user_id=user.pk, item__in=[row["key"] for row in rows])
    read = set(marks.values_list("kind", "item"))
    things = {kind: _things(kind, keys[kind]) for kind in KINDS if keys[kind]}
    return [
        News(row["sort"], thing, row["came"], row["came"] <= until or (row["sort"], row["key"]) in read)
        for row in rows
        if (thing := things[row["sort"]].get(row["key"]))
    ]


def _things(kind: str, keys: list[int]) -> dict[int, Model]:
    known: dict[str, QuerySet[Any]] = {
        "question": Question.objects.select_related("by", "procedure__latest").defer(
            "procedure__document", "procedure__latest__document"
        ),
        "answer": Answer.objects.select_related("by", "question__procedure__latest").defer(
            "question__procedure__document", "question__procedure__latest__document"
        ),
        "result": Result.objects.select_related("by", "procedure__latest").defer(
            "procedure__document", "procedure__latest__document"
        ),
        "offer": Offer.objects.select_related("by", "to__latest").defer(
            "document", "base", "to__document", "to__latest__document"
        ),
        "care": ModerationAct.objects.all(),
    }
    found: dict[int, Model] = known[kind].in_bulk(keys)
    return found
