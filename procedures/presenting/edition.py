"""What makes two renderings of the same document the same: the code and the templates that made them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

_PROJECT = Path(__file__).resolve().parents[2]
_SHOWN_BY = ("calculators", "procedures", "templates", "static/css", "static/fonts", "requirements.txt")
_KINDS = {".py", ".html", ".css", ".woff2", ".txt"}


@cache
def edition() -> str:
    """Return the digest of all that a rendering depends on besides its document.

    It is part of every key that a rendering is kept under, so that no release serves what an older one made.
    """
    digest = hashlib.sha256()
    for file in sorted(_files()):
        digest.update(f"{file.relative_to(_PROJECT)}\0".encode())
        digest.update(hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()[:16]


def _files() -> Iterator[Path]:
    for name in _SHOWN_BY:
        place = _PROJECT / name
        found = place.rglob("*") if place.is_dir() else (place,)
        yield from (one for one in found if one.suffix in _KINDS and one.is_file())


def content_key(kind: str, *parts: object) -> str:
    """Return the key to keep a rendering under: its kind, and a digest of all that it was made from."""
    made_from = "\0".join(str(one) for one in (edition(), *parts))
    return f"{kind}:{hashlib.sha256(made_from.encode()).hexdigest()}"
