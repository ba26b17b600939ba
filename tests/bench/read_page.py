"""Reading: the page of a long procedure, and its screens at the anvil."""

import gzip
import re
from collections.abc import Iterator
from statistics import median
from time import process_time

from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from procedures.presenting.kept import shelf
from tests.bench import Row
from tests.bench._sample import a_long_bar, a_long_procedure, signed_in
from tests.bench._timing import ratio, seconds, with_bare_pages

TITLE = "Reading a procedure of 66 steps"


def run() -> Iterator[Row]:
    procedure, owner = a_long_procedure(public=True)
    client = signed_in(owner)
    page = procedure.get_absolute_url()
    worst = a_long_bar(60, public=True)[0].get_absolute_url()
    with with_bare_pages():
        yield Row("a bare answer behind the same middleware", seconds(lambda: client.get("/")) * 1000, "ms")
        yield Row("an empty page of the site, signed in", seconds(lambda: client.get("/empty/")) * 1000, "ms")
        read, empty = (lambda: client.get(page)), (lambda: client.get("/empty/"))
        yield Row("read page / empty page", ratio(read, empty), "x", aim=3)
        yield Row("read page / bare answer", ratio(read, lambda: client.get("/")), "x")
        with CaptureQueriesContext(connection) as queries:
            client.get(page)
        yield Row("queries", len(queries), "", aim=12)
        longest = ratio(lambda: client.get(worst), empty)
        yield Row("read page of one bar of 60 steps / empty page", longest, "x", aim=3)
        follow = ratio(lambda: client.get(f"{page}follow/bracket1/5/"), empty)
        yield Row("follow screen / empty page", follow, "x", aim=3)
        yield from making(client, page)
    yield from weights(client, page)


def making(client: Client, page: str) -> Iterator[Row]:
    """Yield what it takes to make the page, as processor time: all of it, and once its drawings are there."""

    def anew(*kept: str) -> float:
        """Return the time [s] of the page with only what is kept under such keys."""
        texts = {key: text for key, text in shelf.items() if key.split(":")[0] in kept}
        cache.clear()
        shelf.clear()
        for key, text in texts.items():
            shelf.put(key, text)
        began = process_time()
        client.get(page)
        return process_time() - began

    first = median(anew() for _ in range(3))
    again = median(anew("drawings") for _ in range(3))
    yield Row("read page made for the first time", first * 1000, "ms")
    yield Row("made again beside its drawings / for the first time", again / first, "x", aim=0.7)


def weights(client: Client, page: str) -> Iterator[Row]:
    """Yield what the page and its drawings weigh, as they are and compressed."""
    html = client.get(page).content
    drawings = re.findall(rb'<svg[^>]* class="dw.*?</svg>', html, re.DOTALL)
    yield Row("the page, compressed", len(gzip.compress(html)) / 1024, "KB")
    yield Row("the heaviest drawing", max(len(one) for one in drawings) / 1024, "KB", aim=12)
    packed = [len(gzip.compress(one)) / 1024 for one in drawings]
    yield Row("a drawing, compressed: the median", median(packed), "KB", aim=3)
    yield Row("a drawing, compressed: the heaviest", max(packed), "KB", aim=3)
