"""Text is sent compressed; what is compressed already is left alone."""

import gzip

import pytest

from .showing import published

pytestmark = pytest.mark.django_db
ZIPPED = {"HTTP_ACCEPT_ENCODING": "gzip"}


def test_page_is_sent_compressed_to_who_takes_it(client):
    address = f"/p/{published().slug}/follow/bar/0/"
    plain, packed = client.get(address), client.get(address, **ZIPPED)
    assert "Content-Encoding" not in plain
    assert packed["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in packed["Vary"]
    assert len(packed.content) < len(plain.content) / 2
    assert b"Mark out the bar" in gzip.decompress(packed.content)


def test_card_is_left_as_it_is(client):
    response = client.get(f"/p/{published().slug}/card.pdf", **ZIPPED)
    assert response["Content-Type"] == "application/pdf"
    assert "Content-Encoding" not in response
