"""Reading: the page of a long procedure, and its screens at the anvil."""

from collections.abc import Iterator

from django.core.cache import cache
from django.db import connection
from django.test.utils import CaptureQueriesContext

from procedures.presenting.kept import shelf
from tests.bench import Row
from tests.bench._sample import a_long_bar, a_long_procedure, signed_in
from tests.bench._timing import ratio, seconds, with_bare_pages

TITLE = "Reading a procedure of 64 steps"


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
        first = seconds(lambda: (cache.clear(), shelf.clear(), client.get(page)), repeat=2)
        yield Row("read page made for the first time", first * 1000, "ms")
