"""Photos as they come in: decoded to be checked, turned upright, stripped of what they tell, encoded anew."""

from __future__ import annotations

import hashlib
import io
import warnings
from dataclasses import dataclass

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import UploadedFile
from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from .models import Photo, Picture

LARGEST_FILE = 20 * 1024 * 1024  # bytes
MOST_PIXELS = 50_000_000  # no phone's picture is larger; decoded it takes 150 MB
SMALLEST_SIDE = 64  # pixels
FORMATS = ("JPEG", "PNG", "WEBP")
QUALITY = 82


class PhotoRefused(ValueError):
    """A file that is not taken as a photo; says why and what would be."""


@dataclass(frozen=True)
class Prepared:
    """A photo ready to be kept: its JPEG files by width, the widest last."""

    digest: str
    width: int
    height: int
    files: dict[int, bytes]

    @property
    def size(self) -> int:
        """Bytes of all files together."""
        return sum(len(one) for one in self.files.values())


def prepare(upload: UploadedFile) -> Prepared:
    """Return the photo of an uploaded file. Raises PhotoRefused."""
    if not upload.size:
        raise PhotoRefused("The file is empty. Choose a JPEG, PNG or WebP photo.")
    if upload.size > LARGEST_FILE:
        raise PhotoRefused(
            f"The file has {upload.size / 1e6:.0f} MB; at most {LARGEST_FILE // 1024**2} MB are taken. "
            "Save it smaller, 1600 pixels wide is enough."
        )
    picture = _decoded(upload)
    widths = [one for one in Photo.WIDTHS if one < picture.width]
    widths.append(min(picture.width, Photo.WIDTHS[-1]))
    files = {width: _encoded(picture, width) for width in widths}
    height = round(picture.height * widths[-1] / picture.width)
    return Prepared(hashlib.sha256(files[widths[-1]]).hexdigest(), widths[-1], max(height, 1), files)


def keep(prepared: Prepared, photo: Picture) -> None:
    """Write the files of a photo; those of the same digest that are there already are the same."""
    for width, content in prepared.files.items():
        name = photo.path(width)
        if not default_storage.exists(name):
            default_storage.save(name, ContentFile(content))


def forget(photo: Picture) -> None:
    """Delete the files of a photo."""
    for width in photo.widths:
        default_storage.delete(photo.path(width))


def _decoded(upload: UploadedFile) -> Image.Image:
    """Return the picture in a file, upright and in plain RGB. Raises PhotoRefused."""
    kinds = "JPEG, PNG or WebP"
    try:
        with warnings.catch_warnings():
            # Pillow's own guard is a warning below twice its limit; the size is checked here instead.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            ImageFile.LOAD_TRUNCATED_IMAGES = False  # WeasyPrint switches it on for the whole process
            picture = Image.open(upload.file, formats=FORMATS)  # type: ignore[arg-type]
            _check_size(picture)
            picture.load()
            return _plain(ImageOps.exif_transpose(picture))
    except PhotoRefused:
        raise
    except UnidentifiedImageError as error:
        raise PhotoRefused(f"This is not a picture that can be read here. Choose a {kinds} file.") from error
    except Image.DecompressionBombError as error:  # raised before the size can be looked at here
        more = 2 * (Image.MAX_IMAGE_PIXELS or 0) // 1_000_000
        raise PhotoRefused(
            f"The picture has more than {more} million pixels; at most {MOST_PIXELS // 1_000_000} million "
            "are taken. Save it smaller, 1600 pixels wide is enough."
        ) from error
    # Pillow raises these for data that breaks off or contradicts itself; it has no error class of its own.
    except (OSError, SyntaxError, ValueError, EOFError, MemoryError) as error:
        raise PhotoRefused(
            f"The picture is damaged and cannot be opened. Save it again as a {kinds} file."
        ) from error


def _check_size(picture: Image.Image) -> None:
    """Refuse a picture by its declared size, before any of it is decoded."""
    width, height = picture.size
    if width * height > MOST_PIXELS:
        raise PhotoRefused(
            f"The picture has {width} × {height} pixels; at most {MOST_PIXELS // 1_000_000} million "
            "are taken. Save it smaller, 1600 pixels wide is enough."
        )
    if min(width, height) < SMALLEST_SIDE:
        raise PhotoRefused(
            f"The picture has only {width} × {height} pixels; at least {SMALLEST_SIDE} each way are needed."
        )


def _plain(picture: Image.Image) -> Image.Image:
    """Return the pixels alone, on white where the picture lets through; nothing else of the file is left."""
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        layer = picture.convert("RGBA")
        white = Image.new("RGBA", layer.size, "white")
        picture = Image.alpha_composite(white, layer)
    plain = picture.convert("RGB")
    plain.info.clear()
    return plain


def _encoded(picture: Image.Image, width: int) -> bytes:
    height = max(round(picture.height * width / picture.width), 1)
    shown = picture if width == picture.width else picture.resize((width, height), Image.Resampling.LANCZOS)
    held = io.BytesIO()
    shown.save(held, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return held.getvalue()
