"""Marks over a photo on paper: where they fall on the picture, read out of the PDF."""

import io

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from procedures import actions, photos
from procedures.engine.annotation import Annotation
from tests.integration.showing import a_draft, person

pytestmark = pytest.mark.django_db

POINT = 25.4 / 72  # mm
TOLERANCE = 0.2  # mm
LONG = "the scarf, which the second heat must leave as sharp as the first one left it"
MARKS = [
    Annotation("circle", ((0.05, 0.55), (0.3, 0.95)), LONG),
    Annotation("dimension", ((0.35, 0.9), (0.7, 0.9)), "", 250.0),
]


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def a_card(client, width: int, height: int, query: str) -> pypdfium2.PdfDocument:
    held = io.BytesIO()
    Image.new("RGB", (width, height), "#888").save(held, "JPEG")
    prepared = photos.prepare(SimpleUploadedFile("bar.jpg", held.getvalue()))
    hook, alice = a_draft(), person("alice")
    where = {"procedure": hook, "part": "bar", "step": "s2"}
    actions.attach_photo(**where, prepared=prepared, alt="The bar.", caption="", by=alice)
    base = actions.marks_digest({})
    # Down to the right at 45°: so the box of its head has the tip for a corner.
    long = 0.3 * min(width, height)
    arrow = Annotation("arrow", ((0.75 - long / width, 0.6 - long / height), (0.75, 0.6)), "hold here")
    actions.annotate_photo(**where, digest=prepared.digest, annotations=[arrow, *MARKS], base=base, by=alice)
    actions.publish(procedure=hook, by=alice)
    response = client.get(f"/p/{hook.slug}/card.pdf?photos=yes&{query}")
    assert response.status_code == 200
    return pypdfium2.PdfDocument(response.content)


def the_photo(document: pypdfium2.PdfDocument):
    """The page with the photo, and the photo's box in points: left, bottom, right, top."""
    for page in document:
        for found in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE]):
            box = found.get_bounds()
            if box[2] - box[0] > 50:  # not a QR code
                return page, box
    pytest.fail("there is no photo on the card")


@pytest.mark.parametrize(("width", "height"), [(1200, 800), (800, 1200), (1600, 500)])
@pytest.mark.parametrize(
    "query", ["size=A5&orientation=portrait", "size=A4&orientation=landscape", "size=Letter"]
)
def test_marks_fall_where_they_were_put(client, width, height, query):
    page, (left, bottom, right, top) = the_photo(a_card(client, width, height, query))
    assert (right - left) / (top - bottom) == pytest.approx(width / height, rel=0.01)

    def at(x: float, y: float) -> tuple[float, float]:
        return left + x * (right - left), top - y * (top - bottom)

    boxes = [one.get_bounds() for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=4)]
    boxes = [
        one
        for one in boxes
        if left - 5 < one[0] and one[2] < right + 5 and bottom - 5 < one[1] and one[3] < top + 5
    ]
    assert boxes
    # The arrow's white head ends at its tip; the line of the circle runs round its box.
    tip, ellipse = at(0.75, 0.6), (*at(0.05, 0.95), *at(0.3, 0.55))
    assert min(max(abs(one[2] - tip[0]), abs(one[1] - tip[1])) for one in boxes) * POINT < TOLERANCE
    unit = max(right - left, top - bottom) / 1000
    across = 6 * unit  # the PDF reader gives a line the whole of its width on either side
    grown = [ellipse[0] - across, ellipse[1] - across, ellipse[2] + across, ellipse[3] + across]
    off = min(max(abs(a - b) for a, b in zip(one, grown, strict=True)) for one in boxes)
    assert off * POINT < TOLERANCE


def test_words_are_on_the_card_on_the_photo_or_under_it(client):
    document = a_card(client, 1200, 800, "size=A4")
    text = " ".join(page.get_textpage().get_text_range() for page in document).replace("\r\n", " ")
    for said in ("hold here", "250", LONG):
        assert said in text
