"""Every operation there is. A file in `operations/` is found by being there."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache

from . import operations
from .operation import FAMILIES, Operation, registry


@cache
def catalogue() -> dict[str, type[Operation]]:
    """Return all operations by id, in the order of their families and titles."""
    for module in pkgutil.iter_modules(operations.__path__):
        importlib.import_module(f"{operations.__name__}.{module.name}")
    order = list(FAMILIES)
    found = sorted(registry.values(), key=lambda one: (order.index(one.family), one.title))
    return {one.id: one for one in found}


def find(operation_id: str) -> type[Operation] | None:
    """Return the operation of this id, or None when there is none such."""
    return catalogue().get(operation_id)
