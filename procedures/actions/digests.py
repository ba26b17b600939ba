"""Mail of what is new: how often somebody wants it, and the mail itself."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from allauth.account.models import EmailAddress
from django.contrib.auth.models import AbstractBaseUser, User
from django.core.mail import EmailMultiAlternatives
from django.core.signing import BadSignature, Signer
from django.db.models import Q, QuerySet
from django.http import QueryDict
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone

from calculators.wording import METRIC
from procedures.forms.finding import FindForm
from procedures.models import DigestWish, Facts, Revision, SavedSearch
from procedures.queries import finding, keeping

MOST_TOLD = 50  # revisions in one mail; more are a number
# A little less than a day and a week: what is run daily does not always run at the same minute.
BETWEEN = {
    DigestWish.Often.DAILY: timedelta(hours=22),
    DigestWish.Often.WEEKLY: timedelta(days=6, hours=22),
}
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class FoundAnew:
    """A search that somebody keeps, and how much of what it finds was published since the last mail."""

    search: SavedSearch
    count: int


@dataclass(frozen=True)
class Digest:
    """What is new for one person since they were told last."""

    user: User
    revisions: list[Revision]
    more: int
    searches: list[FoundAnew]

    @property
    def count(self) -> int:
        """How many things there are to tell."""
        return len(self.revisions) + self.more + len(self.searches)


def wish_digest(*, often: str, by: AbstractBaseUser) -> DigestWish:
    """Say how often one wants mail; what is new counts from when it is wanted first."""
    found, made = DigestWish.objects.get_or_create(
        user_id=by.pk, defaults={"often": often, "told": timezone.now()}
    )
    if not made and found.often != often:
        if found.often == DigestWish.Often.NEVER:
            found.told = timezone.now()
        found.often = often
        found.save(update_fields=("often", "told"))
    return found


def stop_token(user: AbstractBaseUser) -> str:
    """Return the token that stops a person's mail without signing in; it stays good for ever."""
    return Signer(salt="digest").sign(str(user.pk))


def stop_digest(*, token: str) -> bool:
    """Send no more mail to whom a token names; return whether it is one of ours."""
    try:
        key = Signer(salt="digest").unsign(token)
    except BadSignature:
        return False
    DigestWish.objects.filter(pk=int(key)).update(often=DigestWish.Often.NEVER)
    return True


def send_digests(*, now: datetime, address: str) -> int:
    """Send mail to everybody who wants it, is due and has something new to hear; return to how many.

    `address` is the site's own, such as "https://forge.example". What cannot be sent is logged and tried
    again at the next run; nobody is told the same twice.
    """
    return sum(_send(wish, now, address) for wish in due(now).iterator(chunk_size=100))


def due(now: datetime) -> QuerySet[DigestWish]:
    """Return who wants mail and had none for long enough."""
    found = Q()
    for often, between in BETWEEN.items():
        found |= Q(often=often, told__lte=now - between)
    return DigestWish.objects.filter(found, user__is_active=True).select_related("user").order_by("pk")


def digest_of(user: User, since: datetime) -> Digest:
    """Return what is new for a person: of what they follow and search for, and may still read."""
    new = keeping.new_for(user, since=since)
    revisions = list(new[:MOST_TOLD])
    more = new.count() - len(revisions) if len(revisions) == MOST_TOLD else 0
    return Digest(user, revisions, more, list(_searched(user, since)))


def _searched(user: User, since: datetime) -> Iterator[FoundAnew]:
    """Yield the searches that find something new; sizes without a unit are read as millimetres."""
    for one in finding.searches(user):
        keys = finding.found(FindForm(METRIC, QueryDict(one.query)).wish, user)[: finding.MOST]
        new = Facts.objects.filter(pk__in=keys, published_at__gt=since).exclude(procedure__owner_id=user.pk)
        if count := new.count():
            yield FoundAnew(one, count)


def _send(wish: DigestWish, now: datetime, address: str) -> bool:
    to = verified_address(wish.user)
    digest = digest_of(wish.user, wish.told) if to else None
    if to is None or digest is None or not digest.count:
        return False
    # Taken before it is sent, so that two runs at once do not tell it twice.
    if not DigestWish.objects.filter(pk=wish.pk, told=wish.told).update(told=now):
        return False
    try:
        _mail(digest, to, address).send()
    except OSError:  # whatever a mail server does wrong is one of these
        log.exception("No mail could be sent to account %s.", wish.pk)
        DigestWish.objects.filter(pk=wish.pk, told=now).update(told=wish.told)
        return False
    return True


def verified_address(user: User) -> str | None:
    """Return the address that a person showed to be theirs, or None: nobody gets mail by another's typing."""
    found = EmailAddress.objects.filter(user=user, verified=True).order_by("-primary", "pk").first()
    return found.email if found else None


def _mail(digest: Digest, to: str, address: str) -> EmailMultiAlternatives:
    stop = address + reverse("procedures:stop_digest", args=[stop_token(digest.user)])
    context = {"digest": digest, "address": address, "stop": stop}
    many = "s" * (digest.count != 1)
    mail = EmailMultiAlternatives(
        subject=f"forgesite: {digest.count} new thing{many} for you",
        body=render_to_string("procedures/keeping/digest_mail.txt", context),
        to=[to],
        headers={
            "List-Unsubscribe": f"<{stop}>",
            "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",  # RFC 8058
            "Auto-Submitted": "auto-generated",  # RFC 3834
        },
    )
    mail.attach_alternative(render_to_string("procedures/keeping/digest_mail.html", context), "text/html")
    return mail
