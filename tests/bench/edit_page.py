"""Authoring: one parameter changed in a procedure of 64 steps, as the page's script sends it."""

from collections.abc import Iterator
from statistics import median
from time import perf_counter

from django.test import Client

from procedures.models import Procedure
from tests.bench import Row
from tests.bench._sample import a_long_bar, a_long_procedure, signed_in, step_form
from tests.bench._timing import bare_page_seconds, empty_page_seconds, seconds

TITLE = "One edit in a procedure of 64 steps"
EDITS = 20


def run() -> Iterator[Row]:
    procedure, owner = a_long_procedure()
    client = signed_in(owner)
    bare = bare_page_seconds(Client())
    empty = empty_page_seconds(client)
    edited = median(one_edit(client, procedure, "hook1", "taper", 3 + n / 100) for n in range(1, EDITS))
    worst, _ = a_long_bar(60)
    longest = median(one_edit(client, worst, "bar", "s30", 18 - n / 100) for n in range(1, EDITS))
    opened = seconds(lambda: client.get(f"{procedure.get_absolute_url()}edit/"))
    yield Row("a bare answer behind the same middleware", bare * 1000, "ms")
    yield Row("an empty page of the site, signed in", empty * 1000, "ms")
    yield Row("edit / empty page", edited / empty, "x", aim=6)
    yield Row("edit / bare answer", edited / bare, "x")
    yield Row("edit of one bar of 60 steps / empty page", longest / empty, "x")
    yield Row("author page opened / empty page", opened / empty, "x")


def one_edit(client: Client, procedure: Procedure, part: str, step: str, side: float) -> float:
    """The time [s] of one edit of a step's section, from the form as it stands."""
    address, fields = step_form(client, procedure, part, step)
    section = next(name for name in fields if "target" in name or "end_section" in name)
    began = perf_counter()
    response = client.post(address, fields | {section: f"{side:g} sq"}, headers={"hx-request": "true"})
    took = perf_counter() - began
    assert response.status_code == 200, response.status_code
    procedure.refresh_from_db()
    parts = {one["key"]: one for one in procedure.document["parts"]}
    steps = {one["key"]: one for one in parts[part]["steps"]}
    assert {"shape": "square", "side": side} in steps[step]["params"].values(), steps[step]
    return took
