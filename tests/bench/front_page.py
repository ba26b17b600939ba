"""The front page, for someone who is not signed in."""

from collections.abc import Iterator

from django.test import Client
from django.urls import reverse

from tests.bench import Row
from tests.bench._timing import bare_page_seconds, seconds

TITLE = "Front page"


def run() -> Iterator[Row]:
    client = Client()
    bare = bare_page_seconds(client)
    home = seconds(lambda: client.get(reverse("procedures:home")))
    yield Row("a bare page behind the same middleware", bare * 1000, "ms")
    yield Row("front page / bare page", home / bare, "x")
