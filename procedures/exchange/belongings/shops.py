"""Shops, which one is planned in, and the pieces that were forged in them."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import Belongings, Gathered, as_json
from procedures.exchange.counting import counted
from procedures.models import Shop, ShopPiece, UsedShop

PLACES = ("forges", "irons", "anvils", "vices")


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the shops of a person, and what was counted and answered of pieces, in guilds' shops too."""
    used = UsedShop.objects.filter(user_id=person.pk).select_related("shop").first()
    kept = {
        "shops": [
            {"name": one.name, "profile": one.stored, "bars": one.bars, "made": one.made.isoformat()}
            | {name: getattr(one, name) for name in PLACES}
            for one in Shop.objects.filter(owner_id=person.pk)
        ],
        "planned_in": used.shop.name if used else None,
        "pieces": [
            {
                "shop": one.shop.name,
                "procedure": one.revision.procedure.slug,
                "revision": one.revision.number,
                "run": str(one.run_id) if one.run_id else None,
                "result": one.result_id,
                "counted": one.counted,
                "answers": one.answers,
                "made": one.made.isoformat(),
            }
            for one in ShopPiece.objects.filter(person_id=person.pk).select_related(
                "shop", "revision__procedure"
            )
        ],
    }
    if any(kept.values()):
        yield as_json("shops.json", kept)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Shop.objects.filter(owner_id=person.pk).count(), "shop", "with its figures and bars")
    pieces = ShopPiece.objects.filter(person_id=person.pk).count()
    yield from counted(pieces, "piece", "that shops learn from")


BELONGINGS = Belongings(
    title="Shops",
    fields={
        "procedures.Shop.owner": "deleted",
        "procedures.UsedShop.user": "deleted",
        "procedures.ShopPiece.person": "deleted",
    },
    gather=gather,
    told=told,
)
