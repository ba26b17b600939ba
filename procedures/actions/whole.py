"""A draft exchanged whole, as programs do it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.models import Procedure

from .adapting import check_lineage
from .saving import Change, EditConflict, last_edit, locked, save


@transaction.atomic
def exchange_document(
    *, procedure: Procedure, document: Mapping[str, Any], base: str, by: AbstractBaseUser
) -> Procedure:
    """Put another document in the draft's place, as one edit that can be undone.

    Raises EditConflict where the draft is not the one of digest `base` any more, and Refused for a document
    that does not read or does not keep what an adaptation owes.
    """
    found = locked(procedure)
    if editing.digest(found.document) != base:
        raise EditConflict(dict(document), found.document, last_edit(found))
    check_lineage(found, document)
    save(found, document, Change("Another document"), by)
    return found
