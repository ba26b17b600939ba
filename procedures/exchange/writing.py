"""A package written: the same procedures give the same bytes."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from . import layout
from .manifest import Entry, Manifest
from .readme import readme

LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the first date a zip knows: a package of the same is the same


@dataclass(frozen=True)
class Packed:
    """One procedure to be packed: what is said of it, its document and figures.

    `photos` by digest are read one at a time; None from it means that the file is missing.
    """

    slug: str
    entry: Entry
    document: Any
    figures: Any = None
    photos: Mapping[str, Callable[[], bytes | None]] = field(default_factory=dict)
    revisions: Mapping[int, Any] = field(default_factory=dict)


def write_package(
    file: IO[bytes],
    procedures: Iterable[Packed],
    *,
    folders: bool,
    more: Iterable[tuple[str, Callable[[], bytes]]] = (),
    about: str = "",
) -> Manifest:
    """Write procedures into a zip, in a folder each where `folders`; return its manifest.

    `more` are other files by their names, told of in `about`.
    """
    with ZipFile(file, "w", ZIP_DEFLATED) as archive:
        writer = _Writer(archive)
        entries = tuple([writer.procedure(one, one.slug + "/" if folders else "") for one in procedures])
        for name, read in more:
            writer.put(name, read())
        writer.put(layout.README, readme(entries, about).encode())
        manifest = Manifest(entries, writer.digests)
        writer.put(layout.MANIFEST, _json(manifest.write()))
    return manifest


class _Writer:
    def __init__(self, archive: ZipFile) -> None:
        self.archive = archive
        self.digests: dict[str, str] = {}

    def put(self, name: str, content: bytes) -> None:
        info = ZipInfo(name, LONG_AGO)
        info.external_attr = 0o644 << 16
        info.compress_type = ZIP_STORED if name.endswith(".jpg") else ZIP_DEFLATED
        self.archive.writestr(info, content)
        if name != layout.MANIFEST:
            self.digests[name] = hashlib.sha256(content).hexdigest()

    def procedure(self, packed: Packed, folder: str) -> Entry:
        self.put(folder + layout.DOCUMENT, _json(packed.document))
        if packed.figures is not None:
            self.put(folder + layout.FIGURES, _json(packed.figures, indent=None))
        missing = []
        for digest, read in packed.photos.items():
            content = read()
            if content is None:
                missing.append(digest)
            else:
                self.put(folder + layout.photo_name(digest), content)
        for number, document in packed.revisions.items():
            self.put(folder + layout.revision_name(number), _json(document))
        return replace(packed.entry, folder=folder, missing=tuple(missing))


def _json(value: Any, indent: int | None = 2) -> bytes:
    separators = None if indent else (",", ":")
    return (json.dumps(value, ensure_ascii=False, indent=indent, separators=separators) + "\n").encode()
