"""Authoring: one parameter changed in a procedure of 66 steps, as the page's script sends it."""

from collections.abc import Iterator
from statistics import median
from time import perf_counter
from urllib.parse import urlencode

from django.test import Client

from procedures.models import Procedure
from tests.bench import Row
from tests.bench._sample import a_long_bar, a_long_procedure, signed_in, step_form
from tests.bench._timing import ratio, seconds, with_bare_pages

TITLE = "One edit in a procedure of 66 steps"
EDITS = 20


def run() -> Iterator[Row]:
    procedure, owner = a_long_procedure()
    worst, _ = a_long_bar(60)
    client = signed_in(owner)
    with with_bare_pages():
        yield Row("a bare answer behind the same middleware", seconds(lambda: client.get("/")) * 1000, "ms")
        yield Row("an empty page of the site, signed in", seconds(lambda: client.get("/empty/")) * 1000, "ms")
        edits = [one_edit(client, procedure, "hook1", "taper", 3 + n / 100) for n in range(1, EDITS)]
        yield Row("edit / empty page", median(took / empty for took, empty, _ in edits), "x", aim=6)
        yield Row("edit / bare answer", median(took / bare for took, _, bare in edits), "x")
        edits = [one_edit(client, worst, "bar", "s30", 18 - n / 100) for n in range(1, EDITS)]
        longest = median(took / empty for took, empty, _ in edits)
        yield Row("edit of one bar of 60 steps / empty page", longest, "x")
        page = f"{procedure.get_absolute_url()}edit/"
        opened = ratio(lambda: client.get(page), lambda: client.get("/empty/"))
        yield Row("author page opened / empty page", opened, "x")


def one_edit(
    client: Client, procedure: Procedure, part: str, step: str, side: float
) -> tuple[float, float, float]:
    """The times [s] of one edit of a step from its form, of an empty page, and of a bare answer."""
    address, fields = step_form(client, procedure, part, step)
    section = next(name for name in fields if "target" in name or "end_section" in name)
    typed = urlencode(fields | {section: f"{side:g} sq"})
    began = perf_counter()
    response = client.post(
        address, typed, content_type="application/x-www-form-urlencoded", headers={"hx-request": "true"}
    )
    edited = perf_counter()
    client.get("/empty/")
    emptied = perf_counter()
    client.get("/")
    bared = perf_counter()
    assert response.status_code == 200, response.status_code
    procedure.refresh_from_db()
    parts = {one["key"]: one for one in procedure.document["parts"]}
    steps = {one["key"]: one for one in parts[part]["steps"]}
    assert {"shape": "square", "side": side} in steps[step]["params"].values(), steps[step]
    return edited - began, emptied - edited, bared - emptied
