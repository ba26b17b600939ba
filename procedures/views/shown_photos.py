"""Photos of a document as the photo component shows them."""

from __future__ import annotations

from dataclasses import dataclass

from procedures import queries
from procedures.engine.document import Photo as Named
from procedures.models import Photo, Procedure
from procedures.presenting import FindPhoto


@dataclass(frozen=True, slots=True)
class ShownPhoto:
    """A photo with its files in all widths; `path` is that of the one to print."""

    src: str
    srcset: str
    width: int
    height: int
    alt: str
    words: str
    path: str
    sizes: str = ""
    credit: str = ""


def photo_finder(procedure: Procedure) -> FindPhoto:
    """Return the function that finds a procedure's photos; one query, when the first is asked for."""
    kept: dict[str, Photo] = {}

    def find(named: Named) -> ShownPhoto | None:
        if not kept:
            kept.update(queries.photos(procedure))
        photo = kept.get(named.digest)
        return _shown(photo, named, procedure.slug) if photo else None

    return find


def _shown(photo: Photo, named: Named, slug: str) -> ShownPhoto:
    widths = photo.widths
    middle = widths[min(1, len(widths) - 1)]
    return ShownPhoto(
        src=photo.url(middle, slug),
        srcset=", ".join(f"{photo.url(width, slug)} {width}w" for width in widths),
        width=photo.width,
        height=photo.height,
        alt=named.alt,
        words=named.caption,
        path=photo.path(middle),
    )
