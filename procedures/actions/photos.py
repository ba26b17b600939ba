"""Photos of steps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing, photos
from procedures.editing import Stored
from procedures.engine.annotation import Annotation, write_annotation
from procedures.engine.document import MOST_PHOTOS
from procedures.models import Photo, Procedure
from procedures.photos import Prepared

from .saving import Change, EditConflict, Refused, altered, last_edit, locked, save


def attach_photo(
    *,
    procedure: Procedure,
    part: str,
    step: str,
    prepared: Prepared,
    alt: str,
    caption: str,
    credit: str = "",
    of_original: bool = False,
    by: AbstractBaseUser,
) -> Procedure:
    """Keep a photo and show it at a step. Raises Refused."""

    def added(shown: list[Stored]) -> list[Stored]:
        if any(one["digest"] == prepared.digest for one in shown):
            raise Refused("This photo is at the step already.")
        if len(shown) >= MOST_PHOTOS:
            raise Refused(f"A step has at most {MOST_PHOTOS} photos.")
        return [*shown, _shown(prepared.digest, alt, caption, credit, of_original)]

    with transaction.atomic():
        found = locked(procedure)
        photo, _ = Photo.objects.get_or_create(
            procedure=found,
            digest=prepared.digest,
            defaults={
                "width": prepared.width,
                "height": prepared.height,
                "size": prepared.size,
                "uploader_id": by.pk,
            },
        )
        _change(found, part, step, added, "Add a photo", by)
        # Inside the transaction: a row must never name a file that could not be written.
        photos.keep(prepared, photo)
    return found


@transaction.atomic
def describe_photo(
    *,
    procedure: Procedure,
    part: str,
    step: str,
    digest: str,
    alt: str,
    caption: str,
    credit: str = "",
    of_original: bool = False,
    by: AbstractBaseUser,
) -> Procedure:
    """Change what is said of a photo. Raises Refused."""
    found = locked(procedure)

    def described(shown: list[Stored]) -> list[Stored]:
        _require(shown, digest)
        return [
            _kept_marks(one) | _shown(digest, alt, caption, credit, of_original)
            if one["digest"] == digest
            else one
            for one in shown
        ]

    return _change(found, part, step, described, "Photo: its words", by)


@transaction.atomic
def annotate_photo(
    *,
    procedure: Procedure,
    part: str,
    step: str,
    digest: str,
    annotations: Sequence[Annotation],
    base: str,
    by: AbstractBaseUser,
) -> Procedure:
    """Lay these marks over a photo in place of those there.

    Raises EditConflict when others are there than those of the digest `base`, and Refused.
    """
    found = locked(procedure)
    mine = [write_annotation(one) for one in annotations]

    def marked(shown: list[Stored]) -> list[Stored]:
        _require(shown, digest)
        return [_marked(one, mine, base, found) if one["digest"] == digest else one for one in shown]

    return _change(found, part, step, marked, "Photo: its marks", by)


def marks_digest(photo: Stored) -> str:
    """Return the digest of what is laid over a stored photo."""
    return editing.digest(photo.get("annotations", []))


def _marked(photo: Stored, marks: list[Stored], base: str, procedure: Procedure) -> Stored:
    if marks_digest(photo) != base:
        raise EditConflict({**photo, "annotations": marks}, photo, last_edit(procedure))
    bare = {key: value for key, value in photo.items() if key != "annotations"}
    return {**bare, "annotations": marks} if marks else bare


def _kept_marks(photo: Stored) -> Stored:
    return {key: value for key, value in photo.items() if key == "annotations"}


@transaction.atomic
def detach_photo(
    *, procedure: Procedure, part: str, step: str, digest: str, by: AbstractBaseUser
) -> Procedure:
    """Show a photo at a step no longer; undo brings it back. Raises Refused."""
    found = locked(procedure)

    def removed(shown: list[Stored]) -> list[Stored]:
        _require(shown, digest)
        return [one for one in shown if one["digest"] != digest]

    return _change(found, part, step, removed, "Remove a photo", by)


def _change(
    found: Procedure,
    part: str,
    step: str,
    change: Callable[[list[Stored]], list[Stored]],
    label: str,
    by: AbstractBaseUser,
) -> Procedure:
    def alter(one: Stored) -> Stored:
        shown = change(list(one.get("photos", [])))
        rest: dict[str, Any] = {key: value for key, value in one.items() if key != "photos"}
        return {**rest, "photos": shown} if shown else rest

    document = altered(found.document, lambda one: editing.with_step(one, part, step, alter))
    save(found, document, Change(label, part=part, step=step), by)
    return found


def _shown(digest: str, alt: str, caption: str, credit: str, of_original: bool) -> Stored:
    said = {"caption": caption, "credit": credit, "of_original": of_original}
    return {"digest": digest, "alt": alt, **{key: value for key, value in said.items() if value}}


def _require(shown: list[Stored], digest: str) -> None:
    if all(one["digest"] != digest for one in shown):
        raise Refused("This photo is no longer at the step.")
