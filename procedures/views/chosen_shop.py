"""The shop that a page predicts for: of the address, of the visit, the one a person chose, or a usual one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

from django.http import HttpRequest

from procedures.engine.document import Document
from procedures.learning import Lessons
from procedures.models import Shop
from procedures.planning.figures import FIGURES
from procedures.planning.profile import ProfileError, ShopProfile, default, read
from procedures.planning.ranges import Calibration
from procedures.presenting.heat_plan import shop_for
from procedures.queries import shops

SESSION = "shop"
NUMBER = "shop"  # in an address: a shop that is kept, by its number
FIELDS = tuple(one.name for one in fields(ShopProfile))
_WORDS = ("name", "fuel", "currency", "fire", "skill", "hammer")
_PLACES = ("forges", "irons", "anvils", "vices")


@dataclass(frozen=True)
class ChosenShop:
    """A shop to predict for. `row` is the kept one it is, if any; `user` whose readings narrow it then.

    `error` is what is wrong with an address that asked for another. `is_usual` where nobody put in anything.
    """

    profile: ShopProfile
    row: Shop | None = None
    user: Any = None
    error: str = ""
    is_usual: bool = False

    @property
    def asked(self) -> dict[str, str]:
        """What an address says to get this shop: its number, or each figure that is not the usual."""
        return {NUMBER: str(self.row.pk)} if self.row else self.figures

    @property
    def figures(self) -> dict[str, str]:
        """What an address says to get the same figures for whoever opens it."""
        return {name: text_of(value) for name, value in self.profile.write().items()}

    @cached_property
    def lessons(self) -> Lessons | None:
        """What the reader's own pieces teach of this very shop."""
        return shops.lessons(self.row, self.user) if self.row else None

    @property
    def by_steel(self) -> Mapping[str, Calibration]:
        """The reader's own pace, by steel."""
        return self.lessons.calibrations() if self.lessons else {}

    @property
    def places(self) -> dict[str, Any]:
        """What a class finds there, by the names of the timetable; nothing of a shop that is not kept."""
        if self.row is None:
            return {}
        there = {name: getattr(self.row, name) for name in _PLACES}
        return {**there, "power_hammer": self.profile.power_energy is not None}


def chosen_shop(request: HttpRequest, document: Document) -> ChosenShop:
    """Return the shop that a page of a procedure predicts for."""
    usual = ChosenShop(shop_for(document), is_usual=True)
    given = {name: request.GET[name] for name in FIELDS if name in request.GET}
    if "set" not in request.GET and given:
        try:
            return ChosenShop(read({name: _value(name, text) for name, text in given.items()}))
        except ProfileError as error:
            return ChosenShop(usual.profile, error=error.message, is_usual=True)
    if NUMBER in request.GET:
        row = shops.usable_shop(request.user, request.GET[NUMBER])
        if row is None:
            said = "This address names a shop that is not yours."
            return ChosenShop(usual.profile, error=said, is_usual=True)
        return ChosenShop(shops.profile_of(row), row, request.user)
    kept = request.session.get(SESSION)
    if kept:
        try:
            return ChosenShop(read(kept))
        except ProfileError:  # kept by an earlier release: a visit is no place to mend it
            del request.session[SESSION]
    row = shops.used_shop(request.user)
    return ChosenShop(shops.profile_of(row), row, request.user) if row else usual


def profile_asked(request: HttpRequest) -> ShopProfile:
    """Return the shop whose figures stand in an address, or a usual one where they do not read."""
    given = {name: request.GET[name] for name in FIELDS if name in request.GET}
    try:
        return read({name: _value(name, text) for name, text in given.items()})
    except ProfileError:
        return default()


def keep_for_visit(request: HttpRequest, profile: ShopProfile | None) -> None:
    """Plan in a shop for the rest of the visit; with None, in what the person chose."""
    if profile is None:
        request.session.pop(SESSION, None)
    else:
        request.session[SESSION] = profile.write()


def _value(name: str, text: str) -> Any:
    """Return a field of the address as it is stored. Raises ProfileError."""
    if name in _WORDS:
        return text
    if name == "striker":
        return {"1": True, "": False}.get(text, text)
    if text == "":
        return None
    try:
        return float(text)
    except ValueError as error:
        raise ProfileError(name, f"{FIGURES[name].label}: {text[:40]!r} is not a number.") from error


def text_of(value: object) -> str:
    """Return a field of a profile as an address says it."""
    if isinstance(value, bool):
        return "1" if value else ""
    if isinstance(value, float):
        return f"{value:.10g}"
    return "" if value is None else str(value)
