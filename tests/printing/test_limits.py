"""Prints at their limits: long procedures, odd names, what is missing, what is read from afar and in grey."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdfium2.raw as pdfium
import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from procedures import actions, photos
from procedures.printing import fetcher
from procedures.printing.sheets import SHEETS
from tests.integration.showing import a_draft, a_hook, person, published
from tests.printing.reading import POINT, overflowing, pdf_of, printed, text_of
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

pytestmark = pytest.mark.django_db

CAP = 0.7  # of the size of the type: the height of its capitals (the font's own table)
ODD = {
    "emoji": "Hook 🔨🔥 for Éva",
    "right to left": "וו לשער הגן hook خطاف الباب",
    "one long word": "X" * 60,
    "long": "A hook for the wall of the long shed " * 3,
}


def named(words: str):
    step = drawn_out(side=12, heats=2) | {"tongs": words[:80], "note": words}
    part = a_part(
        a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}]), step
    ) | {"name": words[:60]}
    return a_document(part, title=words[:120].strip(), credits=[words[:100]])


LEFT = [replace(one, hand="left") for one in SHEETS if one.is_small]


@pytest.mark.parametrize("sheet", [*SHEETS, *LEFT], ids=lambda one: one.title)
def test_nothing_overflows_any_paper(client, sheet):
    document = printed(client, published(), f"?{sheet.query}&notes=yes")
    assert overflowing(document) == []


@pytest.mark.parametrize("words", ODD.values(), ids=ODD)
@pytest.mark.parametrize("size", ["A5", "A4"])
def test_odd_names_do_not_overflow(client, words, size):
    procedure = published(named(words))
    document = printed(client, procedure, f"?size={size}&notes=yes")
    assert overflowing(document) == []
    assert "page 1 of" in text_of(document, 0)


@pytest.mark.parametrize(
    "words", ["Класс 🔨 " * 20, "ר" * 200, "Y" * 200], ids=["words", "hebrew", "one word"]
)
def test_long_words_on_the_cover_do_not_overflow(client, words):
    slug = published(named(words[:100])).slug
    said = {"p": slug, "course": words, "teacher": words, "date": words, "place": words, "students": 8}
    document = pdf_of(client.get("/handout.pdf", {**said, "size": "A5", "orientation": "portrait"}))
    assert overflowing(document) == []


def test_two_hundred_steps_are_printed_whole(client):
    steps = [drawn_out(side=19.98 - number / 50, heats=1) for number in range(200)]
    procedure = published(a_document(a_part(*steps, length=3000)))
    document = printed(client, procedure, "?size=A4&orientation=portrait")
    text = text_of(document)
    assert text.count("Measured") == 200
    assert overflowing(document) == []
    for number in range(len(document)):
        assert f"page {number + 1} of {len(document)}" in text_of(document, number)
    assert min(len(text_of(document, number)) for number in range(len(document) - 1)) > 400  # none near empty


def sizes_of(page) -> list[tuple[str, float]]:
    """The letters of a page, each with the size it is set in [pt]."""
    words = page.get_textpage()
    count = words.count_chars()
    text = words.get_text_range(0, count)
    return [(text[n], pdfium.FPDFText_GetFontSize(words, n)) for n in range(min(count, len(text)))]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda one: one.title)
def test_main_figures_are_read_from_a_step_and_a_half_away(client, sheet):
    """Capitals of ten minutes of arc at 1.5 m: 1500 tan(10/60 deg) = 4.36 mm. From memory."""
    document = printed(client, published(), f"?{sheet.query}")
    page = next(page for page in document if "→" in page.get_textpage().get_text_range())
    arrows = [size for letter, size in sizes_of(page) if letter == "→"]
    assert min(arrows) * CAP * POINT >= 4.36
    words = [size for _, size in sizes_of(page) if size > 5.1]  # of drawings it is told before scaling
    assert min(words) >= 7.2  # nothing on it is smaller than a footnote


def test_half_a_sheet_takes_two_steps(client):
    steps = [drawn_out(side=19 - number / 2, heats=2) for number in range(8)]
    for orientation in ("landscape", "portrait"):
        document = printed(
            client, published(a_document(a_part(*steps))), f"?size=A5&orientation={orientation}"
        )
        counts = [text_of(document, number).count("Measured") for number in range(len(document))]
        assert max(counts) >= 2
        assert sum(one >= 2 for one in counts) >= 3


def test_the_card_is_black_on_white(client):
    document = printed(client, published(), "?size=A5")
    for page in document:
        picture = page.render(scale=1).to_pil().convert("RGB")
        colours = picture.getcolors(maxcolors=100_000)
        assert colours
        assert all(max(colour) - min(colour) <= 8 for _, colour in colours)


def test_grey_words_are_dark_enough_to_copy(client):
    """Contrast of the palest words is at least 7:1 on white: a worn laser printer prints them."""
    document = printed(client, published(), "?size=A5")
    for page in document:
        words = page.get_textpage()
        red, green, blue, alpha = (pdfium.c_uint() for _ in range(4))
        for n in range(words.count_chars()):
            if pdfium.FPDFText_GetFillColor(words, n, red, green, blue, alpha):
                assert max(red.value, green.value, blue.value) <= 0x59


def with_photo():
    held = io.BytesIO()
    Image.new("RGB", (400, 300), "#777").save(held, "JPEG")
    upload = SimpleUploadedFile("a.jpg", held.getvalue(), "image/jpeg")
    procedure = a_draft(a_hook())
    part, step = "bar", "s2"
    actions.attach_photo(
        procedure=procedure,
        part=part,
        step=step,
        prepared=photos.prepare(upload),
        alt="The end at orange heat",
        caption="Orange",
        by=person(),
    )
    procedure.refresh_from_db()
    return procedure


def test_a_photo_is_printed_when_asked_for(client, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    procedure = with_photo()
    client.force_login(person())
    assert "Orange" not in text_of(printed(client, procedure)).replace("Orange to", "")
    text = text_of(printed(client, procedure, "?photos=yes"))
    assert "Orange" in text.replace("Orange to", "")
    assert "Not on this print" not in text


def test_a_missing_photo_costs_itself_alone_and_is_named(client, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    procedure = with_photo()
    for photo in procedure.photos.all():
        for width in photo.widths:
            default_storage.delete(photo.path(width))
    client.force_login(person())
    text = text_of(printed(client, procedure, "?photos=yes"))
    assert "Not on this print: a photo could not be found" in text
    assert "Draw the last 60 mm" in text


def test_a_missing_font_costs_itself_alone_and_is_named(client, monkeypatch):
    found = fetcher._static

    def without_barlow(path: str) -> bytes:
        if "barlow-condensed" in path:
            raise fetcher.Refused("gone")
        return found(path)

    monkeypatch.setattr(fetcher, "_static", without_barlow)
    procedure = published()
    text = text_of(printed(client, procedure))
    assert "Not on this print: the font Barlow Condensed could not be found" in text
    assert "300 mm" in text
    monkeypatch.setattr(fetcher, "_static", found)
    assert "Not on this print" not in text_of(printed(client, procedure))  # the poorer print is not kept
