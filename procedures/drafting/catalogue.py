"""Every feature there is. A file in `features/` is found by being there."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache

from . import features
from .feature import KINDS, Feature, registry


@cache
def all_features() -> dict[str, type[Feature]]:
    """Return all features by id, in the order of their kinds and titles, the stem first."""
    for module in pkgutil.iter_modules(features.__path__):
        importlib.import_module(f"{features.__name__}.{module.name}")
    order = list(KINDS)
    found = sorted(registry.values(), key=lambda one: (order.index(one.kind), one.id != "stem", one.title))
    return {one.id: one for one in found}


def by_kind() -> dict[str, tuple[type[Feature], ...]]:
    """Return all features by their kind."""
    kinds = all_features().values()
    return {key: tuple(one for one in kinds if one.kind == key) for key in KINDS}
