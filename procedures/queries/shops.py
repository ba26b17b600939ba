"""What is read of shops: those one may plan in, the one that is planned in, and what was learnt there."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Q, QuerySet

from procedures.access import may_use_shop
from procedures.engine import document
from procedures.engine.parameters.fields import DocumentError
from procedures.learning import Expected, Forged, Lessons, expected
from procedures.models import Guild, Membership, Result, Revision, Run, Shop, ShopPiece, UsedShop
from procedures.planning.profile import ProfileError, ShopProfile, default, read
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept

from .talk import measured_at

Visitor = AbstractBaseUser | AnonymousUser
MOST_PIECES = 300  # of one person in one shop that are learnt from, the newest
_COUNTS = {"heat": 1, "heat_undone": -1}


def profile_of(shop: Shop) -> ShopProfile:
    """Return what a shop predicts with; a usual shop where what is kept does not read any more."""
    try:
        return read({**shop.stored, "name": shop.name})
    except ProfileError:
        return default()


def usable_shops(user: Visitor) -> QuerySet[Shop]:
    """Return the shops that a user may plan in: their own and those of their guilds, by name."""
    if not user.is_authenticated:
        return Shop.objects.none()
    guilds = Guild.objects.filter(memberships__user_id=user.pk)
    return Shop.objects.filter(Q(owner_id=user.pk) | Q(guild__in=guilds)).select_related("guild")


def guilds_with_shops(user: Visitor) -> QuerySet[Guild]:
    """Return the guilds for which a user may make a shop."""
    if not user.is_authenticated:
        return Guild.objects.none()
    roles = (Membership.Role.KEEPER, Membership.Role.EDITOR)
    return Guild.objects.filter(memberships__user_id=user.pk, memberships__role__in=roles)


def usable_shop(user: Visitor, number: str) -> Shop | None:
    """Return the shop that an address names, for who may plan in it."""
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        return None
    return usable_shops(user).filter(pk=int(number)).first()


def used_shop(user: Visitor) -> Shop | None:
    """Return the shop that a user chose to plan in, while they may."""
    if not user.is_authenticated:
        return None
    known = UsedShop.objects.select_related("shop__guild").filter(user_id=user.pk).first()
    return known.shop if known and may_use_shop(user, known.shop) else None


# -- what was forged there ---------------------------------------------------------------------------


def pieces_of(shop: Shop, user: Visitor) -> QuerySet[ShopPiece]:
    """Return what a user forged in a shop, the newest first."""
    found = ShopPiece.objects.filter(shop=shop, person_id=user.pk)
    return found.select_related("revision__procedure", "run", "result").order_by("-pk")


def unplaced_results(user: Visitor) -> QuerySet[Result]:
    """Return a user's results that were forged in no shop, the newest first."""
    found = Result.objects.filter(by_id=user.pk, deleted=None, shop_piece=None)
    return found.select_related("procedure", "revision").order_by("-pk")


def unplaced_runs(user: Visitor) -> QuerySet[Run]:
    """Return a user's runs of what is published that were forged in no shop and reported nowhere."""
    found = Run.objects.filter(owner_id=user.pk, revision__isnull=False, shop_piece=None, result=None)
    return found.select_related("procedure", "revision").order_by("-received")


def lessons(shop: Shop, user: Visitor) -> Lessons:
    """Return what a user's pieces teach of a shop, as it is now; nobody else's are in it."""
    if not user.is_authenticated:
        return Lessons(())
    known = pieces_of(shop, user).prefetch_related("run__entries", "result__readings")
    pieces = list(known[:MOST_PIECES])[::-1]
    profile = profile_of(shop)
    plans = {
        pk: expected_of(one, profile) for pk, one in {one.revision_id: one.revision for one in pieces}.items()
    }
    return Lessons((forged_of(one), plans[one.revision_id]) for one in pieces)


def expected_of(revision: Revision, profile: ShopProfile) -> list[Expected]:
    """Return what is predicted of a revision's steps in a shop, kept by its content."""

    def made() -> str:
        try:
            found = expected(document.read(revision.document, draft=True), profile)
        except DocumentError:
            return "[]"
        return json.dumps([asdict(one) for one in found])

    shop = json.dumps(profile.write(), sort_keys=True)
    rows = json.loads(kept(content_key("expected", revision.digest, shop), made))
    return [Expected(**{**row, "width": tuple(row["width"]) if row["width"] else None}) for row in rows]


def forged_of(piece: ShopPiece) -> Forged:
    """Return what is known of a piece: its result before its run, since its writer could put that right."""
    result = piece.result if piece.result and piece.result.deleted is None else None
    heats, total = _heats(piece.run)
    was_put_right = result is not None and result.heats not in (None, total)
    return Forged(
        key=piece.pk,
        heats={} if was_put_right else heats,
        in_all=result.heats if result else None,
        sizes=dict(size for row in result.readings.all() if row.piece == 1 for size in measured_at(row))
        if result
        else {},
        counted=piece.counted,
        answers=piece.answers,
        other_bar=_is_other_bar(result, piece.revision.document) if result else False,
    )


def _heats(run: Run | None) -> tuple[Mapping[tuple[str, str], int], int]:
    """Return the heats that a run counted at each step, of each part's first piece, and all it counted."""
    found: Counter[tuple[str, str]] = Counter()
    total = 0
    for one in run.entries.all() if run else ():
        if one.kind in _COUNTS:
            total += _COUNTS[one.kind]
            if one.step and one.data.get("piece", 1) == 1:
                found[one.part, one.step] += _COUNTS[one.kind]
    return {key: count for key, count in found.items() if count > 0}, total


def _is_other_bar(result: Result, stored: Mapping[str, Any]) -> bool:
    planned = {part["key"]: part.get("stock", part) for part in stored["parts"]}
    return any(not _is_alike(one, planned.get(one.get("part"), {})) for one in result.bars)


def _is_alike(bar: Mapping[str, Any], planned: Mapping[str, Any]) -> bool:
    return all(bar.get(name) in (None, planned.get(name)) for name in ("section", "length"))
