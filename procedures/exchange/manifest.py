"""The manifest of a package: what it says of itself. What it says of authors is a claim and no more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from procedures.engine.document import DIGEST, LICENCES
from procedures.engine.parameters.fields import DocumentError, list_of, object_of, words_of

from . import layout
from .layout import PackageRefused

MOST_ORIGINS = 12  # originals of originals
MOST_CREDITS = 40
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Origin:
    """One original that a procedure says it was adapted from."""

    title: str
    revision: int
    author: str
    licence: str

    def write(self) -> dict[str, Any]:
        """Return its stored form."""
        return dict(vars(self))


@dataclass(frozen=True)
class Entry:
    """What a manifest says of one procedure. `revision` is None for a draft; `frames` is the digest of its
    figures, "" where they could not be reckoned; `missing` are photos whose files are not there.
    """

    folder: str
    title: str
    author: str = ""
    licence: str = "CC-BY-4.0"
    credits: tuple[str, ...] = ()
    revision: int | None = None
    published: str = ""
    code: str = ""
    address: str = ""
    document: str = ""
    frames: str = ""
    lineage: tuple[Origin, ...] = ()
    missing: tuple[str, ...] = ()

    def write(self) -> dict[str, Any]:
        """Return its stored form."""
        lineage = [one.write() for one in self.lineage]
        lists = {"credits": list(self.credits), "lineage": lineage, "missing": list(self.missing)}
        return {**vars(self), **lists, "licence_title": LICENCES[self.licence]}


@dataclass(frozen=True)
class Manifest:
    """What is in a package: its procedures, and the SHA-256 of every other file by its name."""

    procedures: tuple[Entry, ...]
    files: Mapping[str, str] = field(default_factory=dict)

    def write(self) -> dict[str, Any]:
        """Return its stored form."""
        return {
            "format": layout.FORMAT,
            "version": layout.VERSION,
            "procedures": [one.write() for one in self.procedures],
            "files": {name: {"sha256": digest} for name, digest in sorted(self.files.items())},
        }


def read_manifest(stored: Any) -> Manifest:
    """Return the manifest of its stored form; names it does not know are of a later one and are left.

    Raises PackageRefused.
    """
    try:
        return _manifest(stored)
    except DocumentError as error:
        raise PackageRefused(f"{error.message} The fault is at {error.path} in {layout.MANIFEST}.") from error


def _manifest(stored: Any) -> Manifest:
    given = _object(stored, (), "format", "version", "procedures", "files")
    if given["format"] != layout.FORMAT:
        raise DocumentError(("format",), f"This is not a {layout.FORMAT}.")
    if given["version"] != layout.VERSION:
        raise DocumentError(
            ("version",), f"Version {given['version']!r} is not known here; version {layout.VERSION} is."
        )
    entries = list_of(given["procedures"], ("procedures",), layout.MOST_PROCEDURES)
    found = tuple(_entry(one, ("procedures", index)) for index, one in enumerate(entries))
    folders = [one.folder for one in found]
    if len(set(folders)) < len(folders) or ("" in folders and len(folders) > 1):
        raise DocumentError(("procedures",), "Each of several procedures needs a folder of its own.")
    files = _object(given["files"], ("files",))
    return Manifest(found, {str(name): _digest(name, one) for name, one in files.items()})


def _digest(name: str, stored: Any) -> str:
    path: Path = ("files", name)
    digest = _object(stored, path, "sha256")["sha256"]
    if not isinstance(digest, str) or not DIGEST.fullmatch(digest):
        raise DocumentError((*path, "sha256"), "A SHA-256 of 64 digits and letters a to f is needed here.")
    return digest


def _entry(stored: Any, path: Path) -> Entry:
    given = _object(stored, path, "folder", "title")
    folder = given["folder"]
    if not isinstance(folder, str) or not layout.FOLDER.fullmatch(folder):
        raise DocumentError(
            (*path, "folder"), "A folder has small letters, digits, - and _, and ends with a /."
        )
    lineage = list_of(given.get("lineage", []), (*path, "lineage"), MOST_ORIGINS)
    names = list_of(given.get("credits", []), (*path, "credits"), MOST_CREDITS)
    missing = list_of(given.get("missing", []), (*path, "missing"), layout.MOST_FILES)
    revision = given.get("revision")
    return Entry(
        folder=folder,
        title=words_of(given["title"], (*path, "title"), 120),
        author=words_of(given.get("author", ""), (*path, "author"), 150),
        licence=_licence(given.get("licence", "CC-BY-4.0"), (*path, "licence")),
        credits=tuple(words_of(one, (*path, "credits", n), 120) for n, one in enumerate(names)),
        revision=None if revision is None else _number(revision, (*path, "revision")),
        frames=words_of(given.get("frames", ""), (*path, "frames"), 64),
        lineage=tuple(_origin(one, (*path, "lineage", n)) for n, one in enumerate(lineage)),
        missing=tuple(words_of(one, (*path, "missing", n), 64) for n, one in enumerate(missing)),
    )


def _origin(stored: Any, path: Path) -> Origin:
    given = _object(stored, path, "title", "revision")
    return Origin(
        words_of(given["title"], (*path, "title"), 120, needed=True),
        _number(given["revision"], (*path, "revision")),
        words_of(given.get("author", ""), (*path, "author"), 150),
        words_of(given.get("licence", ""), (*path, "licence"), 20),
    )


def _object(stored: Any, path: Path, *needed: str) -> Mapping[str, Any]:
    known = {str(name) for name in stored} if isinstance(stored, Mapping) else set()
    return object_of(stored, path, known, needed=needed)


def _licence(stored: Any, path: Path) -> str:
    if stored not in LICENCES:
        raise DocumentError(path, f"{str(stored)[:40]!r} is not one of {', '.join(LICENCES)}.")
    return str(stored)


def _number(stored: Any, path: Path) -> int:
    if isinstance(stored, bool) or not isinstance(stored, int) or not 0 < stored < 10**9:
        raise DocumentError(path, "The number of a revision is a whole number from 1.")
    return stored
