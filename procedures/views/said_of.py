"""What others say of a procedure, as its own page tells it: counted at the steps, and at its foot."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from django.http import HttpRequest

from procedures.access import may_thank
from procedures.queries import talk

from .wanted import Wanted

# In the body that is kept for all; what people type is escaped and holds none.
MARK = re.compile(r"<!--asked ([^>]{1,90})-->")


def said_of(request: HttpRequest, wanted: Wanted) -> dict[str, Any]:
    """Return the counts and the thanks of a procedure for its page, in two queries; none for a draft."""
    if wanted.revision is None:
        return {"counts": None}
    return {
        "counts": talk.counts_of(wanted.procedure),
        "thanked": talk.thanked_for(wanted.procedure, request.user),
        "may_thank": may_thank(request.user, wanted.procedure),
    }


def counted(body: str, counts: talk.Counts | None) -> Iterator[str]:
    """Yield the body of a page with the number of questions at each step that has some."""
    if counts is None or not counts.asked:
        yield body
        return
    numbers = {f"{part}/{step}": number for (part, step), number in counts.asked.items()}
    begun = 0  # the body may be a megabyte: it is cut only where a number goes in
    for mark in MARK.finditer(body):
        if number := numbers.get(mark[1]):
            yield body[begun : mark.start()]
            yield f' <span class="talk__count">{number}</span>'
            begun = mark.end()
    yield body[begun:]
