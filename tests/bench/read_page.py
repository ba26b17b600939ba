"""Reading: the page of a long procedure, and its screens at the anvil."""

from collections.abc import Iterator

from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from procedures.presenting.kept import shelf
from tests.bench import Row
from tests.bench._sample import a_long_bar, a_long_procedure, signed_in
from tests.bench._timing import bare_page_seconds, empty_page_seconds, seconds

TITLE = "Reading a procedure of 64 steps"


def run() -> Iterator[Row]:
    procedure, owner = a_long_procedure(public=True)
    client = signed_in(owner)
    page = procedure.get_absolute_url()
    worst = a_long_bar(60, public=True)[0].get_absolute_url()
    bare = bare_page_seconds(Client())
    empty = empty_page_seconds(client)
    first = seconds(lambda: (cache.clear(), shelf.clear(), client.get(page)), repeat=2)
    read = seconds(lambda: client.get(page))
    follow = seconds(lambda: client.get(f"{page}follow/bracket1/5/"))
    longest = seconds(lambda: client.get(worst))
    with CaptureQueriesContext(connection) as queries:
        client.get(page)
    yield Row("a bare answer behind the same middleware", bare * 1000, "ms")
    yield Row("an empty page of the site, signed in", empty * 1000, "ms")
    yield Row("read page / empty page", read / empty, "x", aim=3)
    yield Row("read page / bare answer", read / bare, "x")
    yield Row("queries", len(queries), "", aim=12)
    yield Row("read page of one bar of 60 steps / empty page", longest / empty, "x", aim=3)
    yield Row("follow screen / empty page", follow / empty, "x", aim=3)
    yield Row("read page made for the first time", first * 1000, "ms")
