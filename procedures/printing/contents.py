"""What a card holds besides what every card holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from .sheets import SheetError


@dataclass(frozen=True, slots=True)
class Contents:
    """The part to print, "" for all of them; whether with photos, and with notes.

    The notes are the author's, with the period and modern way of each step: for a reproduction, where its
    evidence and deviations are told.
    """

    part: str = ""
    photos: bool = False
    notes: bool = False

    @property
    def query(self) -> str:
        """The query that asks for it: "&part=hook&photos=yes", or ""."""
        chosen = {"part": self.part, "photos": self.photos, "notes": self.notes}
        return "".join(f"&{name}={'yes' if one is True else one}" for name, one in chosen.items() if one)


ALL = Contents()


def contents_of(part: str, photos: str, notes: str, parts: Iterable[str]) -> Contents:
    """Return what is asked for; `parts` are the keys of the parts there are. Raises SheetError."""
    keys = tuple(parts)
    if part and part not in keys:
        raise SheetError(f"There is no part {part[:40]!r} here; choose {', '.join(keys)}, or leave it out.")
    return Contents(part, _yes("photos", photos), _yes("notes", notes))


def _yes(what: str, typed: str) -> bool:
    if typed not in {"", "yes", "no", "on"}:
        raise SheetError(f"The {what} are printed or not: say yes or no, not {typed[:40]!r}.")
    return typed in {"yes", "on"}
