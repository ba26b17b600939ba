"""A package read: every file held against its digest, every document read, its figures reckoned anew."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import IO, Any
from zipfile import ZipFile

from procedures import editing, frozen
from procedures.engine import document as engine_document
from procedures.engine.document_text import parse
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay
from procedures.report import report

from . import layout
from .layout import PackageRefused
from .manifest import Entry, read_manifest
from .opening import opened, unpacked

ZIP_BEGINS = (b"PK\x03\x04", b"PK\x05\x06")


@dataclass(frozen=True)
class Arrived:
    """One procedure of a package. What its `entry` says of author and lineage is the file's word alone.

    `photos` are those the document shows and the package has, `absent` how many it has not. `unlike` is set
    where a figure comes out otherwise here, and `differing` are those that do. `fault` is why the document
    reads as a draft only; `revisions` are how many older ones lie beside it.
    """

    entry: Entry
    document: dict[str, Any]
    photos: tuple[str, ...]
    absent: int
    differing: tuple[frozen.Difference, ...] = ()
    unlike: bool = False
    fault: str = ""
    revisions: int = 0


class Package:
    """An open package: its procedures are read already, its photos one at a time."""

    def __init__(self, archive: ZipFile) -> None:
        self._archive = archive
        stored = _parsed(archive, layout.MANIFEST, layout.LARGEST_DOCUMENT)
        self.manifest = read_manifest(stored)
        self.others = 0  # files that belong to no procedure
        owners = self._owners()
        self._check_digests()
        if not self.manifest.procedures:
            raise PackageRefused("There is no procedure in it.")
        self._steps = 0
        self.procedures = tuple([self._arrived(one, owners[one.folder]) for one in self.manifest.procedures])

    def photo(self, arrived: Arrived, digest: str) -> bytes:
        """Return the file of a photo. Raises PackageRefused."""
        name = arrived.entry.folder + layout.photo_name(digest)
        return b"".join(unpacked(self._archive, name, layout.LARGEST_PHOTO))

    def _names(self) -> list[str]:
        return [one.filename for one in self._archive.infolist() if not one.is_dir()]

    def _owners(self) -> dict[str, list[str]]:
        """Return the names in each procedure's folder, without it; refuse what has no place there."""
        owners: dict[str, list[str]] = {one.folder: [] for one in self.manifest.procedures}
        photos = 0
        for name in self._names():
            if name in (layout.MANIFEST, layout.README):
                continue
            folder = "" if "" in owners else name.partition("/")[0] + "/"
            if folder not in owners:
                self.others += 1
                continue
            own = name.removeprefix(folder)
            is_photo = layout.PHOTO.fullmatch(own)
            photos += bool(is_photo)
            if not (is_photo or layout.REVISION.fullmatch(own) or own in (layout.DOCUMENT, layout.FIGURES)):
                raise PackageRefused(f"“{name[:80]}” has no place in a package.")
            owners[folder].append(own)
        if photos > layout.MOST_PHOTOS:
            raise PackageRefused(f"There are {photos} photos in it; at most {layout.MOST_PHOTOS} are taken.")
        return owners

    def _check_digests(self) -> None:
        told = self.manifest.files
        names = {name for name in self._names() if name != layout.MANIFEST}
        if strange := sorted(names - told.keys()):
            raise PackageRefused(f"“{strange[0][:80]}” is in the zip, but not in {layout.MANIFEST}.")
        if missing := sorted(told.keys() - names):
            raise PackageRefused(f"“{missing[0][:80]}” is in {layout.MANIFEST}, but not in the zip.")
        for name in names:
            digest = hashlib.sha256()
            for piece in unpacked(self._archive, name, _most(name)):
                digest.update(piece)
            if digest.hexdigest() != told[name]:
                raise PackageRefused(
                    f"“{name[:80]}” is not what {layout.MANIFEST} says: its SHA-256 is another. "
                    "It was changed or damaged on the way."
                )

    def _arrived(self, entry: Entry, names: list[str]) -> Arrived:
        where = entry.folder + layout.DOCUMENT
        if layout.DOCUMENT not in names:
            raise PackageRefused(f"There is no {where} in it.")
        stored = _parsed(self._archive, where, layout.LARGEST_DOCUMENT)
        document, fault = _document(stored, where, is_draft=entry.revision is None)
        self._count(document)
        there = {found[1] for name in names if (found := layout.PHOTO.fullmatch(name))}
        shown = _digests_named(document)
        differing, unlike = self._differing(entry, document, layout.FIGURES in names)
        return Arrived(
            entry=entry,
            document=document,
            photos=tuple(sorted(shown & there)),
            absent=len(shown - there),
            differing=differing,
            unlike=unlike,
            fault=fault,
            revisions=sum(1 for name in names if layout.REVISION.fullmatch(name)),
        )

    def _count(self, document: dict[str, Any]) -> None:
        self._steps += sum(len(part["steps"]) for part in document["parts"])
        if self._steps > layout.MOST_STEPS:
            raise PackageRefused(
                f"There are more than {layout.MOST_STEPS} steps in it: take in fewer at once."
            )

    def _differing(
        self, entry: Entry, document: dict[str, Any], has_figures: bool
    ) -> tuple[tuple[frozen.Difference, ...], bool]:
        """Return the figures that come out otherwise here, and whether any does: that its digest says."""
        today = report(replay(engine_document.read(document, draft=True)))
        if not entry.frames or editing.digest(today) == entry.frames:
            return (), False
        if not has_figures:
            return (), True
        told = _parsed(self._archive, entry.folder + layout.FIGURES, layout.LARGEST_FILE)
        found = frozen.differences(told, today) if editing.digest(told) == entry.frames else ()
        return tuple(one for one in found if one.is_figure), True


@contextmanager
def read_package(file: IO[bytes]) -> Iterator[Package]:
    """Open a package and read all of it but its photos. Raises PackageRefused."""
    with opened(file) as archive:
        if layout.MANIFEST not in archive.namelist():
            raise PackageRefused(
                f"There is no {layout.MANIFEST} in it, so it is not a package of procedures."
            )
        yield Package(archive)


def is_zip(beginning: bytes) -> bool:
    """Whether a file that begins so is a zip, and not the text of a document."""
    return beginning.startswith(ZIP_BEGINS)


def with_digests(value: Any, anew: Mapping[str, str]) -> Any:
    """Return a stored document with the digests of its photos exchanged, wherever they stand."""
    if isinstance(value, dict):
        return {name: with_digests(one, anew) for name, one in value.items()}
    if isinstance(value, list):
        return [with_digests(one, anew) for one in value]
    return anew.get(value, value) if isinstance(value, str) else value


def _digests_named(value: Any) -> set[str]:
    """Return every digest that a document names: in photos of steps, and wherever else one stands."""
    if isinstance(value, dict):
        return {found for one in value.values() for found in _digests_named(one)}
    if isinstance(value, list):
        return {found for one in value for found in _digests_named(one)}
    is_digest = isinstance(value, str) and engine_document.DIGEST.fullmatch(value)
    return {value} if is_digest else set()


def _document(stored: Any, where: str, *, is_draft: bool) -> tuple[dict[str, Any], str]:
    """Return a document in its stored form, and why it reads as a draft only; "" where it reads in full."""
    fault = ""
    try:
        try:
            read = engine_document.read(stored)
        except DocumentError as error:
            if not is_draft:
                raise
            read = engine_document.read(stored, draft=True)
            fault = f"{error.message} ({error.path})"
    except DocumentError as error:
        raise PackageRefused(f"{error.message} The fault is at {error.path} in {where}.") from error
    return engine_document.write(read), fault


def _parsed(archive: ZipFile, name: str, most: int) -> Any:
    try:
        return parse(b"".join(unpacked(archive, name, most)), largest=most)
    except DocumentError as error:
        raise PackageRefused(f"{error.message} The fault is in {name}, at {error.path}.") from error


def _most(name: str) -> int:
    return layout.LARGEST_PHOTO if name.endswith(".jpg") else layout.LARGEST_FILE
