"""The shops of two invented smiths: one with bars and prices, one that learns from three hooks."""

from django.contrib.auth.models import User

from calculators.sections import Section
from procedures import actions
from procedures.models import Shop, ShopPiece
from procedures.planning.profile import ShopProfile
from procedures.queries import shops

LEAN_TO = ShopProfile(
    name="The lean-to",
    power_energy=160.0,
    hourly_cost=42.0,
    fuel="coke",
    fuel_cost=3.5,
    currency="EUR",
)
EVENING_CLASS = ShopProfile(name="Evening class, fire two", hand_rate=1.5)
BARS = (
    (Section.square(10), [6000.0, 320.0], 2.6),
    (Section.square(12), [6000.0, 450.0, 450.0], 2.4),
    (Section.square(16), [3000.0], 2.4),
    (Section.flat(40, 8), [6000.0, 620.0], 2.1),
)
TIMES = (1.3, 1.15, 1.05)  # what is predicted of the blows of the taper: an apprentice who comes on
COUNTED_AT = "taper"


def keep_shops(smith: User, apprentice: User) -> None:
    """Keep a shop of each; the first one that a person keeps is planned in."""
    bars = [{"section": one.to_json(), "lengths": lengths, "price": price} for one, lengths, price in BARS]
    two = {"forges": 2, "irons": 2, "anvils": 2, "vices": 2}
    actions.make_shop(profile=LEAN_TO, bars=bars, places=two, by=smith)
    one = {"forges": 1, "irons": 2, "anvils": 1, "vices": 1}
    actions.make_shop(profile=EVENING_CLASS, bars=[], places=one, by=apprentice)


def count_blows(apprentice: User) -> None:
    """Count blows and seconds at the pieces that the apprentice told of."""
    shop = Shop.objects.get(owner=apprentice)
    pieces = ShopPiece.objects.filter(shop=shop).select_related("revision").order_by("pk")
    for piece, times in zip(pieces, TIMES, strict=False):
        plan = shops.expected_of(piece.revision, shops.profile_of(shop))
        step = next(one for one in plan if one.step == COUNTED_AT)
        counted = {"blows": round(step.blows * times), "seconds": float(round(step.seconds * times))}
        actions.count_piece(
            piece=piece, counted=[{"part": step.part, "step": step.step, **counted}], by=apprentice
        )
