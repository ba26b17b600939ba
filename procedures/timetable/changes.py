"""What would change if the class were smaller or the shop larger: each reckoned, none guessed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from .classes import ClassShop, Planned, StepTime, plan
from .tasks import ANVIL, FORGE, HELPER, POWER, TEACHER, VICE, NoSchedule

PLACED = 2500  # tasks tried for each: enough for a second opinion of a class of usual size
MOST_IRONS = 4  # in one fire that a student still watches: from memory
_FIELDS = {
    FORGE: "forges",
    ANVIL: "anvils",
    VICE: "vices",
    POWER: "power_hammers",
    HELPER: "helpers",
    TEACHER: "teachers",
}


@dataclass(frozen=True, slots=True)
class Change:
    """Another class or shop: what is changed, its whole session as planned, what that saves, if it fits.

    `kind` is "more" with a `place`, "irons", "pieces", "students" or "groups"; `shop` is what is changed to.
    Minutes of two groups are those of each. `saved` is None where nothing could be planned before.
    """

    kind: str
    shop: ClassShop
    minutes: float
    saved: float | None
    fits: bool
    place: str = ""


def changes(steps: Sequence[StepTime], shop: ClassShop, now: Planned | None) -> list[Change]:
    """Return what could be changed, the most saved first. `now` is the plan, None where there is none."""
    found = []
    for kind, place, other in _others(shop, now):
        try:
            planned = plan(steps, other, placed=PLACED)
        except NoSchedule:
            continue
        minutes = planned.minutes
        if now and kind in ("more", "irons"):  # what is added may stand idle
            minutes = min(minutes, now.minutes)
        saved = now.minutes - minutes if now else None
        found.append(Change(kind, other, minutes, saved, minutes <= shop.session + 1e-9, place))
    return sorted(found, key=lambda one: -(one.saved or 0.0))


def _others(shop: ClassShop, now: Planned | None) -> Iterator[tuple[str, str, ClassShop]]:
    """Yield the changes worth reckoning: more of what is used, or is missing, and less to do."""
    for place, field in _FIELDS.items():
        if now is None or place in now.bounds.loads:
            yield "more", place, replace(shop, **{field: getattr(shop, field) + 1})
    if (now is None or FORGE in now.bounds.loads) and shop.irons < MOST_IRONS:
        yield "irons", FORGE, replace(shop, irons=shop.irons + 1)
    if now is None:
        return
    if shop.pieces > 1:
        yield "pieces", "", replace(shop, pieces=shop.pieces - 1)
    if shop.students > 1:
        yield "groups", "", replace(shop, students=(shop.students + 1) // 2)


def most_students(steps: Sequence[StepTime], shop: ClassShop) -> int:
    """Return how many students the session holds, as typically planned: 0 where not even one."""
    low, high = 0, shop.students
    while low < high:
        middle = (low + high + 1) // 2
        if _fits(steps, replace(shop, students=middle)):
            low = middle
        else:
            high = middle - 1
    return low


def most_pieces(steps: Sequence[StepTime], shop: ClassShop, most: int = 20) -> int:
    """Return how many pieces each the session holds, as typically planned: 0 where not even one."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        if _fits(steps, replace(shop, pieces=middle)):
            low = middle
        else:
            high = middle - 1
    return low


def _fits(steps: Sequence[StepTime], shop: ClassShop) -> bool:
    try:
        return plan(steps, shop, placed=0).fits
    except NoSchedule:
        return False
