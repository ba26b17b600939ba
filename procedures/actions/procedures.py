"""Making and deleting whole procedures."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.crypto import get_random_string

from procedures import editing, photos
from procedures.models import Edit, Photo, Picture, Procedure, ResultPhoto

from .runs import forget_pictures
from .saving import check, locked

SLUG_LENGTH = 60


@transaction.atomic
def create_procedure(*, document: Mapping[str, Any], by: AbstractBaseUser) -> Procedure:
    """Make a procedure of a stored document, as a draft of its own. Raises Refused."""
    check(document)
    made = Procedure.objects.create(
        owner_id=by.pk,
        slug=_free_slug(document["title"]),
        title=document["title"],
        document=dict(document),
    )
    Edit.objects.create(
        procedure=made,
        number=0,
        document=made.document,
        label="The beginning",
        by_id=by.pk,
        at=timezone.now(),
    )
    return made


@transaction.atomic
def delete_procedure(*, procedure: Procedure, by: AbstractBaseUser) -> None:
    """Delete a procedure with its revisions, its history and the photos that are nobody else's."""
    found = locked(procedure)
    pictures = list(found.photos.all())
    of_results = list(ResultPhoto.objects.filter(result__procedure=found))
    forget_pictures(found.runs.all())
    found.delete()
    forget_unshared(pictures)
    transaction.on_commit(lambda: _forget(of_results))


def forget_unshared(pictures: Collection[Photo]) -> None:
    """Delete the files of photos whose rows are gone, once they are, where no other procedure shows them."""
    digests = [one.digest for one in pictures]
    shared = set(Photo.objects.filter(digest__in=digests).values_list("digest", flat=True))
    alone = [one for one in pictures if one.digest not in shared]
    transaction.on_commit(lambda: _forget(alone))


def _forget(pictures: Iterable[Picture]) -> None:
    for one in pictures:
        photos.forget(one)


def _free_slug(title: str) -> str:
    """Return an address made from the title, with an ending where that is taken."""
    slug = wanted = editing.key_from(title, SLUG_LENGTH)
    while Procedure.objects.filter(slug=slug).exists():
        slug = f"{wanted}-{get_random_string(4, 'abcdefghjkmnpqrstuvwxyz23456789')}"
    return slug
