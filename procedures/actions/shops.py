"""Shops: made, changed, chosen to plan in, and the pieces forged there that they learn from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.models import Guild, Result, Run, Shop, ShopPiece, UsedShop
from procedures.planning.profile import ShopProfile

from .saving import Refused

MOST_SHOPS = 20  # of one person, and of one guild


@transaction.atomic
def make_shop(
    *,
    profile: ShopProfile,
    bars: Sequence[Mapping[str, Any]],
    places: Mapping[str, int],
    guild: Guild | None = None,
    by: AbstractBaseUser,
) -> Shop:
    """Keep a shop of one's own or a guild's; the first one to be made is planned in. Raises Refused."""
    own = Shop.objects.filter(guild=guild) if guild else Shop.objects.filter(owner_id=by.pk)
    if own.count() >= MOST_SHOPS:
        raise Refused(f"There are {MOST_SHOPS} shops already: delete one, or change it.")
    shop = Shop(guild=guild, owner_id=None if guild else by.pk)
    _write(shop, profile, bars, places)
    UsedShop.objects.get_or_create(user_id=by.pk, defaults={"shop": shop})
    return shop


@transaction.atomic
def edit_shop(
    *,
    shop: Shop,
    profile: ShopProfile,
    bars: Sequence[Mapping[str, Any]],
    places: Mapping[str, int],
    base: str | None = None,
    by: AbstractBaseUser,
) -> Shop:
    """Change a shop. What was learnt there stays, and is held against the shop as it is now.

    `base` is the digest of what was changed. Raises Refused where somebody saved since.
    """
    held = Shop.objects.select_for_update().filter(pk=shop.pk).first()
    if held is None:
        raise Refused("This shop was deleted meanwhile.")
    if base is not None and base != shop_digest(held):
        raise Refused(
            "Somebody else changed this shop since you opened it. What you typed stands here: "
            "save again to put it in the place of theirs."
        )
    _write(shop, profile, bars, places)
    return shop


def shop_digest(shop: Shop) -> str:
    """Return the digest of all that can be changed of a shop."""
    places = {name: getattr(shop, name) for name in ("forges", "irons", "anvils", "vices")}
    return editing.digest({"name": shop.name, "stored": shop.stored, "bars": shop.bars, **places})


def _write(
    shop: Shop, profile: ShopProfile, bars: Sequence[Mapping[str, Any]], places: Mapping[str, int]
) -> None:
    shop.name, shop.stored, shop.bars = profile.name, profile.write(), list(bars)
    for name, count in places.items():
        setattr(shop, name, count)
    shop.save()


@transaction.atomic
def delete_shop(*, shop: Shop, by: AbstractBaseUser) -> None:
    """Delete a shop, with which pieces were forged in it; their runs and results stay."""
    shop.delete()


@transaction.atomic
def use_shop(*, shop: Shop | None, by: AbstractBaseUser) -> None:
    """Plan in a shop from now on, or in a usual one."""
    if shop is None:
        UsedShop.objects.filter(user_id=by.pk).delete()
    else:
        UsedShop.objects.update_or_create(user_id=by.pk, defaults={"shop": shop})


# -- what was forged there ---------------------------------------------------------------------------


@transaction.atomic
def forged_in(
    *, shop: Shop, run: Run | None = None, result: Result | None = None, by: AbstractBaseUser
) -> ShopPiece:
    """Say that a run or a result of one's own was forged in a shop: once; said again, it moves there.

    A run and the result made from it are one piece. Raises Refused.
    """
    run = run or (result.run if result else None)
    revision = run.revision if run else result.revision if result else None
    if revision is None:
        raise Refused("Only what was forged by a published revision is learnt from.")
    known = ShopPiece.objects.select_for_update()
    found = (known.filter(run=run).first() if run else None) or (
        known.filter(result=result).first() if result else None
    )
    piece = found or ShopPiece(person_id=by.pk, revision=revision)
    piece.shop, piece.run = shop, run or piece.run
    piece.result = result or piece.result
    piece.save()
    return piece


def note_where(*, run: Run | None = None, result: Result | None = None, by: AbstractBaseUser) -> None:
    """Note what was just sent or reported as forged in the shop its smith plans in, where there is one.

    What is there already stays where it is, and a result comes to its run.
    """
    run = run or (result.run if result else None)
    piece = ShopPiece.objects.select_related("shop").filter(run=run).first() if run else None
    if piece is not None and result is None:
        return
    chosen = UsedShop.objects.select_related("shop").filter(user_id=by.pk).first()
    shop = piece.shop if piece else chosen.shop if chosen else None
    revision = run.revision if run else result.revision if result else None
    if shop is not None and revision is not None:
        forged_in(shop=shop, run=run, result=result, by=by)


@transaction.atomic
def take_out_of_shop(*, piece: ShopPiece, by: AbstractBaseUser) -> None:
    """Learn from a piece no longer; its run and result stay."""
    piece.delete()


@transaction.atomic
def count_piece(*, piece: ShopPiece, counted: Sequence[Mapping[str, Any]], by: AbstractBaseUser) -> ShopPiece:
    """Keep what was counted at the steps of a piece: blows, and seconds of hammering."""
    piece.counted = [dict(one) for one in counted]
    piece.save(update_fields=("counted",))
    return piece


@transaction.atomic
def answer_reading(*, piece: ShopPiece, reading: str, counts: bool, by: AbstractBaseUser) -> None:
    """Say of a reading that was asked about whether it counts."""
    held = ShopPiece.objects.select_for_update().get(pk=piece.pk)
    held.answers = {**held.answers, reading: counts}
    held.save(update_fields=("answers",))
