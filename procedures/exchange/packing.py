"""Procedures taken out of the database to be packed: a revision, or the draft for who may edit it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from tempfile import SpooledTemporaryFile
from typing import IO, Any

from django.core.files.storage import default_storage
from django.db.models import QuerySet

from procedures import editing, frozen, queries
from procedures.engine import document as engine_document
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay
from procedures.models import Photo, Procedure, Revision
from procedures.report import report

from .layout import MEGA
from .manifest import Entry, Origin
from .writing import Packed, write_package

IN_MEMORY = 4 * MEGA  # bytes of a package that are not written to the disk
NO_LICENCE_SAID = "CC-BY-4.0"  # what a document without one is under


def packed(
    procedure: Procedure,
    revision: Revision | None,
    *,
    older: Iterable[Revision] = (),
    address: str = "",
) -> Packed:
    """Return one procedure to be packed: a revision of it, or the draft where that is None.

    `older` are revisions to lie beside it, `address` is where it is read. Who may see which is for the caller
    to look at.
    """
    stored = revision.document if revision else procedure.document
    document = {**stored, "licence": stored.get("licence", NO_LICENCE_SAID)}
    figures = _figures(document, revision)
    beside = {one.number: one.document for one in older}
    shown = set().union(*(queries.digests_shown(one) for one in (document, *beside.values())))
    return Packed(
        slug=procedure.slug,
        entry=Entry(
            folder="",
            title=document["title"],
            author=procedure.author,
            licence=document["licence"],
            credits=tuple(document.get("credits", ())),
            revision=revision.number if revision else None,
            published=revision.published_at.date().isoformat() if revision else "",
            code=revision.code if revision else "",
            address=address,
            document=editing.digest(document),
            frames=editing.digest(figures) if figures is not None else "",
            lineage=_lineage(procedure),
        ),
        document=document,
        figures=figures,
        photos=_photos(procedure, shown),
        revisions=beside,
    )


def in_one_zip(
    procedures: Iterable[Packed],
    *,
    folders: bool,
    more: Iterable[tuple[str, Callable[[], bytes]]] = (),
    about: str = "",
) -> IO[bytes]:
    """Return a file, which is gone when it is closed, with all of them packed, ready to be read."""
    file = SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115  whoever sends it closes it
    write_package(file, procedures, folders=folders, more=more, about=about)
    file.seek(0)
    return file


def as_published(procedures: QuerySet[Procedure] | Iterable[Procedure]) -> Iterable[Packed]:
    """Yield procedures as their readers have them, one at a time: what a collection takes away.

    One without a revision that stands is left out. Who may read them is for the caller to look at.
    """
    for one in procedures:
        if one.latest is not None:
            yield packed(one, one.latest)


def as_they_stand(procedures: QuerySet[Procedure] | Iterable[Procedure]) -> Iterable[Packed]:
    """Yield the drafts with every revision beside them, one at a time: for those whose they are."""
    for one in procedures:
        yield packed(one, None, older=one.revisions.all())


def _figures(document: Any, revision: Revision | None) -> Any:
    """Return the figures as they were published, or as they are reckoned now; None where neither can be."""
    held = getattr(revision, "frozen", None) if revision else None
    if held is not None:
        return frozen.unpack(held.packed)
    try:
        return report(replay(engine_document.read(document, draft=True)))
    except DocumentError:  # written for another release
        return None


def _lineage(procedure: Procedure) -> tuple[Origin, ...]:
    return tuple(
        Origin(one.title, one.number, one.author, one.licence) for one in queries.lineage_of(procedure)
    )


def _photos(procedure: Procedure, digests: set[str]) -> dict[str, Callable[[], bytes | None]]:
    kept = queries.photos(procedure)
    return {digest: partial(_file_of, kept.get(digest)) for digest in sorted(digests)}


def _file_of(photo: Photo | None) -> bytes | None:
    if photo is None:
        return None
    try:
        with default_storage.open(photo.path(photo.widths[-1])) as file:
            content: bytes = file.read()
    except FileNotFoundError:
        return None
    return content
