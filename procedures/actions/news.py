"""What a person has read of their news."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures.models import NewsRead, NewsSeen


@transaction.atomic
def read_one(*, kind: str, item: int, by: AbstractBaseUser) -> None:
    """Mark one item as read."""
    NewsRead.objects.get_or_create(user_id=by.pk, kind=kind, item=item)


@transaction.atomic
def read_all(*, until: datetime, by: AbstractBaseUser) -> None:
    """Mark all that came up to a time as read; single marks are needed no longer."""
    until = min(until, timezone.now())
    seen, made = NewsSeen.objects.get_or_create(user_id=by.pk, defaults={"until": until})
    if not made and seen.until < until:
        seen.until = until
        seen.save(update_fields=("until",))
