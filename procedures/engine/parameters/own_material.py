"""The material of a part in a document: one known here by its id, or an author's own with its figures.

    {"title", "density", "carbon", "forging": [from, to], "welding": [from, to] or null, "burns_at",
     "magnetic_to", "note"}

Density in kg/m³, carbon in per cent by mass, heats in °C. Without "welding" it is taken as not weldable in
the fire, without "magnetic_to" a magnet lets go of it where it does of iron.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators.formula import Cite
from calculators.materials import MAGNETIC_TO, MATERIALS, OWN, Band, Material

from .fields import DocumentError, list_of, number_of, object_of, one_of, words_of
from .params import Number

Path = tuple[str | int, ...]

DENSITY = Number("The density", least=1000, most=25_000, unit="kg/m³")
CARBON = Number("The carbon", least=0, most=2, unit="%")  # more is cast iron, which is not forged
HEAT = Number("The heat", least=100, most=1600, unit="°C")
TITLE_LIMIT = 60
NOTE_LIMIT = 200

_NEEDED = ("title", "density", "carbon", "forging", "burns_at")
_KNOWN = {*_NEEDED, "welding", "magnetic_to", "note"}
_AUTHOR = Cite("AUTHOR")


def read_material(stored: Any, path: Path) -> Material:
    """Return the material of its stored form, an id or an object. Raises DocumentError."""
    if not isinstance(stored, Mapping):
        return MATERIALS[one_of(stored, path, MATERIALS)]
    given = object_of(stored, path, _KNOWN, needed=_NEEDED)
    welding = given.get("welding")
    own = Material(
        id=OWN,
        title=words_of(given["title"], (*path, "title"), TITLE_LIMIT, needed=True).strip(),
        density=number_of(given["density"], (*path, "density"), DENSITY),
        carbon=number_of(given["carbon"], (*path, "carbon"), CARBON),
        forging=_band(given["forging"], (*path, "forging")),
        welding=None if welding is None else _band(welding, (*path, "welding")),
        burns_at=number_of(given["burns_at"], (*path, "burns_at"), HEAT),
        magnetic_to=number_of(given.get("magnetic_to", MAGNETIC_TO), (*path, "magnetic_to"), HEAT),
        note=words_of(given.get("note", ""), (*path, "note"), NOTE_LIMIT),
        density_source=_AUTHOR,
        heats_source=_AUTHOR,
        magnetic_source=_AUTHOR if "magnetic_to" in given else Cite("CURIE-POINT"),
    )
    for name, band in (("forging", own.forging), ("welding", own.welding)):
        if band is not None and band[1] >= own.burns_at:
            raise DocumentError(
                (*path, "burns_at"),
                f"It burns at {own.burns_at:g} °C: that must be above its {name} heat, up to {band[1]:g} °C.",
            )
    return own


def _band(stored: Any, path: Path) -> Band:
    items = list_of(stored, path, 2)
    if len(items) != 2:
        raise DocumentError(path, "Two heats are needed here: from and to.")
    low, high = (number_of(one, (*path, index), HEAT) for index, one in enumerate(items))
    if low >= high:
        raise DocumentError((*path, 1), f"This must be above {low:g} °C, where the band begins.")
    return low, high


def write_material(material: Material) -> str | dict[str, Any]:
    """Return the stored form of a material."""
    if not material.is_own:
        return material.id
    stored: dict[str, Any] = {
        "title": material.title,
        "density": material.density,
        "carbon": material.carbon,
        "forging": list(material.forging),
        "welding": None if material.welding is None else list(material.welding),
        "burns_at": material.burns_at,
    }
    if material.magnetic_source == _AUTHOR:
        stored["magnetic_to"] = material.magnetic_to
    return stored | ({"note": material.note} if material.note else {})
