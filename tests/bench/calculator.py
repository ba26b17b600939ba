"""A calculator: its whole page, and the answer that comes as one types."""

from collections.abc import Iterator

from django.test import Client

from tests.bench import Row
from tests.bench._timing import ratio, seconds, with_bare_pages

TITLE = "A calculator's answer"
ADDRESS = "/calculators/rivet_head/?diameter=8+mm&hole=8.5+mm&grip=20+mm&head=snap"


def run() -> Iterator[Row]:
    client = Client()
    typing = {"hx-request": "true"}
    with with_bare_pages():
        yield Row("an empty page of the site", seconds(lambda: client.get("/empty/")) * 1000, "ms")

        def empty() -> object:
            return client.get("/empty/")

        yield Row(
            "answer as one types / empty page",
            ratio(lambda: client.get(ADDRESS, headers=typing), empty),
            "x",
            aim=1.5,
        )
        yield Row("whole page / empty page", ratio(lambda: client.get(ADDRESS), empty), "x")
