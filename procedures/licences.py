"""What the licence of an original asks of its adaptations.

After the terms of the Creative Commons licences, version 4.0, and of CC0 (from memory): an adaptation of BY
may be under BY or BY-SA, that of BY-SA stays BY-SA, and CC0 asks nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from .engine.document import LICENCES

ALLOWED = {
    "CC-BY-4.0": ("CC-BY-4.0", "CC-BY-SA-4.0"),
    "CC-BY-SA-4.0": ("CC-BY-SA-4.0",),
    "CC0-1.0": tuple(LICENCES),
}
ASKS = {
    "CC-BY-4.0": "You may change and share it, for any purpose, as long as its author is credited. Your own "
    "version may be under the same licence or under ShareAlike.",
    "CC-BY-SA-4.0": "You may change and share it, for any purpose, as long as its author is credited and "
    "your own version stays under the same licence.",
    "CC0-1.0": "You may do with it what you like. Its author asks for nothing; the credit is kept all the "
    "same, and you may take it out.",
}


def owed_credits(licence: str, names: Iterable[str]) -> list[str]:
    """Return the credits that an adaptation has to keep."""
    return [] if licence == "CC0-1.0" else list(names)


def fault_of(document: Mapping[str, Any], licence: str, names: Iterable[str]) -> str:
    """Return why a document cannot be shared as an adaptation that owes these, in a sentence; or ""."""
    own = document.get("licence", "CC-BY-4.0")
    if own not in ALLOWED.get(licence, tuple(LICENCES)):
        allowed = " or ".join(f"{LICENCES[one]} ({one})" for one in ALLOWED[licence])
        return f"The original is under {licence}, so an adaptation must be under {allowed}."
    missing = [one for one in names if one not in document.get("credits", ())]
    if missing:
        return f"The original's credits must stay. Missing: {'; '.join(missing)}."
    return ""
