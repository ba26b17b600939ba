"""Taking in a package of 66 steps and 20 photos, beside encoding its photos anew, which cannot be saved."""

import io
import tempfile
from collections.abc import Iterator
from time import perf_counter

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import override_settings
from PIL import Image, ImageFilter

from procedures import actions
from procedures.exchange.packing import in_one_zip, packed
from procedures.exchange.reading import read_package
from procedures.models import Procedure
from procedures.photos import prepare
from tests.bench import Row
from tests.bench._sample import a_long_procedure
from tests.bench._timing import seconds

TITLE = "A package of 66 steps and 20 photos, out and in"
PHOTOS = 20
REPEAT = 3


def run() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as media, override_settings(MEDIA_ROOT=media):
        procedure = _with_photos()
        owner = procedure.owner
        content = in_one_zip([packed(procedure, None)], folders=False).read()
        yield Row("the package", len(content) / 1e6, "MB")
        yield Row(
            "written", seconds(lambda: in_one_zip([packed(procedure, None)], folders=False), repeat=5), "s"
        )

        def look() -> list[bytes]:
            with read_package(io.BytesIO(content)) as package:
                found = package.procedures[0]
                return [package.photo(found, digest) for digest in found.photos]

        files = look()
        assert len(files) == PHOTOS
        yield Row("read, checked and replayed", seconds(look, repeat=5), "s")
        taken, encoded = [], []
        for _ in range(REPEAT):  # in turn, so that other work on the machine does not come in
            began = perf_counter()
            for one in files:
                prepare(SimpleUploadedFile("photo.jpg", one))
            between = perf_counter()
            made = actions.take_in_package(file=io.BytesIO(content), by=owner)
            taken.append(perf_counter() - between)
            encoded.append(between - began)
            actions.delete_procedure(procedure=made[0].procedure, by=owner)
        yield Row("taken in", min(taken), "s", aim=5)
        yield Row(
            "taken in / encoding its photos anew",
            sorted(map(_ratio, taken, encoded))[REPEAT // 2],
            "x",
            aim=1.5,
        )


def _ratio(taken: float, encoded: float) -> float:
    return taken / encoded


def _with_photos() -> Procedure:
    """The long procedure with a photo at each of its first steps."""
    procedure, owner = a_long_procedure()
    places = [(part["key"], step["key"]) for part in procedure.document["parts"] for step in part["steps"]]
    noise = Image.effect_noise((1600, 1200), 60).filter(ImageFilter.GaussianBlur(1.5))
    for number, (part, step) in enumerate(places[:PHOTOS]):
        held = io.BytesIO()
        noise.rotate(number).convert("RGB").save(held, "JPEG")
        prepared = prepare(SimpleUploadedFile("photo.jpg", held.getvalue()))
        actions.attach_photo(
            procedure=procedure, part=part, step=step, prepared=prepared, alt="It.", caption="", by=owner
        )
    procedure.refresh_from_db()
    return procedure
