"""Where the print engine may fetch from: the site's own static files and stored photos, and nothing else.

A note may hold the address of anything. Printing must neither call another machine nor open another file.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from mimetypes import guess_type
from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.contrib.staticfiles import finders
from django.core.exceptions import SuspiciousOperation
from django.core.files.storage import default_storage
from PIL import Image
from weasyprint.urls import URLFetcher, URLFetcherResponse

HOST = "card.invalid"  # no such host can exist (RFC 6761), so that nothing is reached by accident
BASE = f"http://{HOST}/"
STATIC = "/static/"
PHOTOS = "/photos/"


class Refused(ValueError):
    """An address that printing does not fetch; the print engine leaves the thing out and goes on."""


class SiteFetcher(URLFetcher):
    """Serves `/static/…` and `/photos/…` of BASE from where they are kept; `missing` are those not found."""

    def __init__(self) -> None:
        super().__init__()
        self.missing: list[str] = []

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """Return what is at an address. Raises Refused."""
        address = urlsplit(url)
        if address.scheme != "http" or address.netloc != HOST:
            raise Refused(f"Printing fetches nothing from elsewhere: {url[:200]}")
        path = unquote(address.path)
        try:
            body = _static(path) if path.startswith(STATIC) else _photo(path)
        except Refused:
            self.missing.append(path)
            raise
        except (SuspiciousOperation, OSError) as error:
            self.missing.append(path)
            raise Refused(f"There is no {path[:200]} to print.") from error
        return URLFetcherResponse(
            url, body, {"Content-Type": guess_type(path)[0] or "application/octet-stream"}
        )


def _static(path: str) -> bytes:
    found = finders.find(path.removeprefix(STATIC))
    if not isinstance(found, str):
        raise Refused(f"There is no static file {path[:200]}.")
    return Path(found).read_bytes()


def _photo(path: str) -> bytes:
    if not path.startswith(PHOTOS):
        raise Refused(f"Printing fetches static files and photos only, not {path[:200]}.")
    with default_storage.open(path.lstrip("/")) as opened:
        body = bytes(opened.read())
    _check_picture(body, path)
    return body


def _check_picture(body: bytes, path: str) -> None:
    """Refuse a file that is no whole picture: the print engine would leave a hole and say nothing."""
    try:
        with Image.open(io.BytesIO(body), formats=("JPEG", "PNG", "WEBP")) as picture:
            picture.verify()
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise Refused(f"{path[:200]} is no picture.") from error
