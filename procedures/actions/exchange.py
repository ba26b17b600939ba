"""Taking in a package: all of it or nothing, as drafts of whoever takes it in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO

from django.contrib.auth.models import AbstractBaseUser
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction

from procedures import photos
from procedures.exchange.layout import PackageRefused
from procedures.exchange.manifest import Entry
from procedures.exchange.reading import Arrived, Package, read_package, with_digests
from procedures.frozen import Difference
from procedures.models import Photo, Procedure
from procedures.photos import PhotoRefused

from .adapting import CREDIT_LENGTH, MOST_CREDITS
from .procedures import create_procedure
from .saving import Refused

MOST_NAME = 50  # letters of an author's name in a credit


@dataclass(frozen=True)
class TakenInProcedure:
    """A draft made of a package, and what there is to say of it, in sentences."""

    procedure: Procedure
    said: tuple[str, ...]


@dataclass(frozen=True)
class Waiting:
    """A photo encoded anew, whose files wait in a folder until the draft is there."""

    row: Photo
    files: Mapping[int, Path]


def take_in_package(*, file: IO[bytes], by: AbstractBaseUser) -> list[TakenInProcedure]:
    """Make a draft of every procedure in a package. Raises Refused, and leaves nothing half done then.

    Photos are encoded anew, as any that is uploaded, and written once the drafts are there; where that fails
    the drafts go again.
    """
    with TemporaryDirectory() as folder:
        try:
            with read_package(file) as package:
                waiting = [_photos(package, one, Path(folder)) for one in package.procedures]
                arrived, others = package.procedures, package.others
        except PackageRefused as refusal:
            raise Refused(f"{refusal} Nothing was taken in.") from refusal
        with transaction.atomic():
            made = [_made(one, held, others, by) for one, held in zip(arrived, waiting, strict=True)]
        _write([one for held in waiting for one in held.values()], [one.procedure for one in made])
    return made


def _photos(package: Package, arrived: Arrived, folder: Path) -> dict[str, Waiting]:
    """Encode the photos of a procedure anew; return them by the digests that they came under."""
    found: dict[str, Waiting] = {}
    for digest in arrived.photos:
        upload = SimpleUploadedFile(f"{digest}.jpg", package.photo(arrived, digest))
        try:
            prepared = photos.prepare(upload)
        except PhotoRefused as refusal:
            raise PackageRefused(f"The photo {digest[:12]}…: {refusal}") from refusal
        files = {width: folder / f"{prepared.digest}-{width}.jpg" for width in prepared.files}
        for width, content in prepared.files.items():
            files[width].write_bytes(content)
        row = Photo(digest=prepared.digest, width=prepared.width, height=prepared.height, size=prepared.size)
        found[digest] = Waiting(row, files)
    return found


def _made(
    arrived: Arrived, waiting: Mapping[str, Waiting], others: int, by: AbstractBaseUser
) -> TakenInProcedure:
    """Make the draft and the rows of its photos."""
    anew = {digest: one.row.digest for digest, one in waiting.items()}
    document = with_digests(arrived.document, anew)
    kept = list(document.get("credits", []))
    claimed = [one for one in claims(arrived.entry, by.get_username()) if one not in kept]
    room = MOST_CREDITS - len(kept)
    made = create_procedure(document={**document, "credits": kept + claimed[:room]}, by=by)
    for row in {one.row.digest: one.row for one in waiting.values()}.values():
        row.procedure, row.uploader_id = made, by.pk
        row.save()
    said = list(_said(arrived, claimed, room))
    if others:
        said.append(f"Other files in the zip were left, {others} of them: they are no procedures.")
    return TakenInProcedure(made, tuple(said))


def claims(entry: Entry, taker: str) -> Iterator[str]:
    """Yield what a file says of its author and originals, as words in the credits.

    They are a file's word: never a link, and never an account's credit, whatever names stand in it.
    """
    if entry.author and entry.author != taker:
        version = f", revision {entry.revision}" if entry.revision else ""
        yield _fitting(f"Says it is by {entry.author[:MOST_NAME]}: ", entry.title, version)
    told = set()
    for one in entry.lineage:
        by = f", by {one.author[:MOST_NAME]}" if one.author else ""
        line = _fitting("Says it was adapted from ", one.title, f", revision {one.revision}{by}")
        if line not in told:  # a circle of originals says the same again
            told.add(line)
            yield line


def _fitting(before: str, title: str, after: str) -> str:
    """Return the words of a credit, the title shortened to the room there is."""
    room = CREDIT_LENGTH - len(before) - len(after)
    return before + (title if len(title) <= room else title[: room - 1] + "…") + after


def _said(arrived: Arrived, claimed: list[str], room: int) -> Iterator[str]:
    entry = arrived.entry
    if arrived.unlike:
        yield _difference(arrived.differing)
    elif entry.frames:
        yield "Every figure comes out here as in the file."
    if claimed:
        said = "; ".join(claimed[:room])
        yield f"The file says where it comes from; its word stands in the credits: {said}."
    if len(claimed) > room:
        yield f"There are {MOST_CREDITS} credits already, so {len(claimed) - room} more had no room."
    if arrived.absent:
        yield f"Not in the file: {arrived.absent} of its photos."
    if arrived.revisions:
        yield "Older revisions in the file were left: here it begins as a draft."
    if arrived.fault:
        yield f"It is a draft that is not finished: {arrived.fault}"


def _difference(differing: tuple[Difference, ...]) -> str:
    if not differing:
        return "Something comes out otherwise here than where it was made; the file does not say what."
    first = differing[0]
    count = f"{len(differing)} figures come" if len(differing) > 1 else "One figure comes"
    return (
        f"{count} out otherwise here than where it was made; the first: {_place(first.path)} "
        f"was {_value(first.before)} and is {_value(first.after)}."
    )


def _place(path: str) -> str:
    """Return a place in the report in words: "part 1, step 3, mass" of "parts.0.steps.2.mass"."""
    words = path.split(".")
    for name, said in (("parts", "part"), ("steps", "step")):
        if name in words[:-1]:
            at = words.index(name)
            words[at : at + 2] = [f"{said} {int(words[at + 1]) + 1}"]
    return ", ".join(words)


def _value(value: object) -> str:
    return "nothing" if value is None else str(value)[:40]


def _write(waiting: list[Waiting], made: list[Procedure]) -> None:
    """Write the files of photos. Where one cannot be written, take all back and raise Refused."""
    written: list[str] = []
    is_done = False
    try:
        for one in waiting:
            for width, file in one.files.items():
                name = one.row.path(width)
                if not default_storage.exists(name):
                    written.append(default_storage.save(name, ContentFile(file.read_bytes())))
        is_done = True
    except OSError as error:
        raise Refused("The photos could not be kept, so nothing was taken in. Try again later.") from error
    finally:  # whatever it was: other stores have errors of their own
        if not is_done:
            with transaction.atomic():
                Procedure.objects.filter(pk__in=[one.pk for one in made]).delete()
            for name in written:
                default_storage.delete(name)
