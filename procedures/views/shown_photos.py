"""Photos of a document as the photo component shows them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString

from calculators.wording import METRIC, UnitSystem
from procedures import queries
from procedures.engine.document import Photo as Named
from procedures.models import Photo, Procedure
from procedures.presenting import FindPhoto

if TYPE_CHECKING:
    from procedures.drawing.over_photo import Key

MARKED = "(max-width: 40rem) 100vw, 32rem"  # what is written on a photo needs more room than a thumbnail


@dataclass(frozen=True, slots=True)
class ShownPhoto:
    """A photo with its files in all widths; `path` is that of the one to print.

    `over` is what is drawn over it, `keys` the words that stand under it by number; `alt` says all of it.
    """

    src: str
    srcset: str
    width: int
    height: int
    alt: str
    words: str
    path: str
    sizes: str = ""
    credit: str = ""
    over: str = ""
    keys: tuple[Key, ...] = ()


def photo_finder(procedure: Procedure, units: UnitSystem = METRIC) -> FindPhoto:
    """Return the function that finds a procedure's photos; one query, when the first is asked for."""
    kept: dict[str, Photo] = {}

    def find(named: Named) -> ShownPhoto | None:
        if not kept:
            kept.update(queries.photos(procedure))
        photo = kept.get(named.digest)
        return shown_photo(photo, named, procedure.slug, units) if photo else None

    return find


def shown_photo(photo: Photo, named: Named, slug: str, units: UnitSystem) -> ShownPhoto:
    """Return a stored photo with what a document says of it and lays over it."""
    widths = photo.widths
    middle = widths[min(1, len(widths) - 1)]
    bare = ShownPhoto(
        src=photo.url(middle, slug),
        srcset=", ".join(f"{photo.url(width, slug)} {width}w" for width in widths),
        width=photo.width,
        height=photo.height,
        alt=named.alt,
        words=named.caption,
        path=photo.path(middle),
        credit=named.credit,
    )
    if not named.annotations:
        return bare
    from procedures.drawing.over_photo import over_photo  # slow to import, and most photos are bare

    over = over_photo(named.annotations, photo.width, photo.height, units)
    alt = " ".join(one for one in (_sentence(named.alt), over.said) if one)
    drawn = SafeString(over.svg)  # the drawing code escapes
    return replace(bare, alt=alt, sizes=MARKED, over=drawn, keys=over.keys)


def _sentence(words: str) -> str:
    words = words.strip()
    return words if not words or words[-1] in ".!?…" else f"{words}."
