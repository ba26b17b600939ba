"""A zip of a stranger's, opened: what could hurt is refused by its directory, before anything is unpacked."""

from __future__ import annotations

import stat
import struct
import unicodedata
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from typing import IO
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from . import layout
from .layout import MEGA, PackageRefused

END = b"PK\x05\x06"
END_SIZE = 22
END_64 = b"PK\x06\x07"  # where the larger kind of directory is told of
END_64_SIZE = 20
LONGEST_COMMENT = 65_535
LARGEST_DIRECTORY = 4 * MEGA
LOCAL_HEADER = 30  # bytes before a file's own name
ENCRYPTED = 0x1 | 0x40
ARCHIVES = (".zip", ".gz", ".bz2", ".xz", ".7z", ".rar", ".tar", ".tgz", ".zst", ".jar")
BEGINNINGS = (b"PK\x03\x04", b"PK\x05\x06", b"\x1f\x8b", b"7z\xbc\xaf\x27\x1c", b"Rar!", b"BZh", b"\xfd7zXZ")
CHUNK = 64 * 1024
# What zipfile raises for a file that is damaged or only looks like a zip.
DAMAGED = (BadZipFile, EOFError, OSError, OverflowError, RuntimeError, ValueError, struct.error, zlib.error)


@contextmanager
def opened(file: IO[bytes]) -> Iterator[ZipFile]:
    """Open a package whose directory holds nothing that is not taken in. Raises PackageRefused."""
    _check_end(file)
    try:
        archive = ZipFile(file)
    except DAMAGED as error:
        raise PackageRefused("The zip is damaged and cannot be opened.") from error
    with archive:
        _check(archive.infolist())
        yield archive


def unpacked(archive: ZipFile, name: str, most: int) -> Iterator[bytes]:
    """Yield what is in a file, piece by piece, and never more than `most` bytes. Raises PackageRefused."""
    size = 0
    try:
        with archive.open(name) as file:
            while piece := file.read(CHUNK):
                size += len(piece)
                if size > most:
                    raise PackageRefused(f"{name} has more than {most // MEGA} MB.")
                if size == len(piece) and piece.startswith(BEGINNINGS):
                    raise PackageRefused(f"{name} is an archive itself: those are not unpacked.")
                yield piece
    except PackageRefused:
        raise
    except DAMAGED as error:
        raise PackageRefused(f"{name} is damaged in the zip.") from error


def _check_end(file: IO[bytes]) -> None:
    """Look at the end of the zip, where the size of its directory is told, before anything reads that."""
    file.seek(0, 2)
    size = file.tell()
    if size > layout.LARGEST_PACKAGE:
        raise PackageRefused(
            f"The file has {size // MEGA} MB; at most {layout.LARGEST_PACKAGE // MEGA} MB are taken."
        )
    file.seek(max(size - END_SIZE - LONGEST_COMMENT, 0))
    tail = file.read()
    at = tail.rfind(END)
    if at < 0 or len(tail) - at < END_SIZE:
        raise PackageRefused("The zip breaks off: its directory is missing.")
    if tail[max(at - END_64_SIZE, 0) :].startswith(END_64):
        raise PackageRefused("The zip is of the kind for very large files, which is not taken in.")
    count, directory = struct.unpack("<HL", tail[at + 10 : at + 16])
    if count > layout.MOST_FILES or directory > LARGEST_DIRECTORY:
        raise PackageRefused(f"There are {count} files in it; at most {layout.MOST_FILES} are taken.")


def _check(files: list[ZipInfo]) -> None:
    if len(files) > layout.MOST_FILES:
        raise PackageRefused(f"There are {len(files)} files in it; at most {layout.MOST_FILES} are taken.")
    seen: set[str] = set()
    for one in files:
        _check_name(one)
        plain = unicodedata.normalize("NFKC", one.filename).casefold().rstrip("/")
        if plain in seen:
            raise PackageRefused(f"{_shown(one)} is in it twice.")
        seen.add(plain)
        _check_kind(one)
        _check_size(one)
    total = sum(one.file_size for one in files)
    if total > layout.MOST_UNPACKED:
        raise PackageRefused(
            f"It unpacks to {total // MEGA} MB; at most {layout.MOST_UNPACKED // MEGA} MB are taken."
        )
    _check_apart(files)


def _check_name(file: ZipInfo) -> None:
    name = file.orig_filename
    if len(name) > layout.LONGEST_NAME:
        raise PackageRefused(f"The name of a file in it is longer than {layout.LONGEST_NAME} characters.")
    if any(unicodedata.category(letter).startswith("C") for letter in name):
        raise PackageRefused(f"The name {_shown(file)} holds characters that no name has.")
    steps = name.replace("\\", "/").split("/")
    if name.startswith(("/", "\\")) or ":" in name or "\\" in name or ".." in steps or "." in steps:
        raise PackageRefused(f"The name {_shown(file)} leads out of the package.")


def _check_kind(file: ZipInfo) -> None:
    if file.flag_bits & ENCRYPTED:
        raise PackageRefused(f"{_shown(file)} is encrypted. Pack it without a password.")
    mode = file.external_attr >> 16
    if stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR):
        raise PackageRefused(f"{_shown(file)} is a link or a device and no file.")
    if file.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        raise PackageRefused(f"{_shown(file)} is packed in a way that is not read here: use plain zip.")
    if file.filename.lower().endswith(ARCHIVES):
        raise PackageRefused(f"{_shown(file)} is an archive itself: those are not unpacked.")


def _check_size(file: ZipInfo) -> None:
    if file.file_size > layout.LARGEST_FILE:
        raise PackageRefused(
            f"{_shown(file)} unpacks to {file.file_size // MEGA} MB; "
            f"at most {layout.LARGEST_FILE // MEGA} MB are taken."
        )
    if file.file_size > layout.SMALL and file.file_size > layout.MOST_RATIO * max(file.compress_size, 1):
        raise PackageRefused(
            f"{_shown(file)} unpacks to more than {layout.MOST_RATIO} times its size: that is a bomb."
        )


def _check_apart(files: list[ZipInfo]) -> None:
    """Refuse files that lie over one another, by which a small zip unpacks to a large one."""
    laid = sorted(files, key=lambda one: one.header_offset)
    for one, after in pairwise(laid):
        if one.header_offset + LOCAL_HEADER + one.compress_size > after.header_offset:
            raise PackageRefused(f"{_shown(one)} and {_shown(after)} lie over one another in the zip.")


def _shown(file: ZipInfo) -> str:
    """Return the name of a file as it can be said."""
    plain = "".join(one if one.isprintable() else "?" for one in file.orig_filename)
    return f"“{plain[:60]}”"
