"""The drawings on the page of a procedure, made and kept a stretch of steps at a time.

The first reader of a long part does not wait for all of them: the page comes with those that are there, and
asks for the rest.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from time import monotonic

from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from procedures.access import procedure_reader
from procedures.models import Procedure
from procedures.presenting import ShownPart, ShownStep
from procedures.presenting.edition import content_key
from procedures.presenting.kept import FOR, kept, recalled

from .rows import drawing_digests
from .wanted import Wanted, readable, wanted_by

STEPS = 12  # of a stretch
LONG = 60  # steps of a part whose page does not wait even for its scale, which takes all of them
PATIENCE = (
    2.5  # seconds that a page or an answer goes on drawing; one stretch at the least comes in an answer
)


@dataclass(frozen=True)
class Stretch:
    """Some steps of a part in a row, and their drawings, "" for none; None where those are not made yet."""

    steps: tuple[ShownStep, ...]
    drawings: list[SafeString] | None

    @property
    def rows(self) -> list[tuple[ShownStep, SafeString]]:
        """Each step with its drawing, "" where there is none yet."""
        return list(zip(self.steps, self.drawings or [SafeString("")] * len(self.steps), strict=True))


class Drawings:
    """The drawings of one part, for a screen or, `narrow`, for a telephone.

    They outlive the page they were made for: the same part in another revision, or beside an edited one, has
    them already.
    """

    def __init__(self, wanted: Wanted, part: ShownPart, *, narrow: bool) -> None:
        self.part = part
        self.narrow = narrow
        self._is_arranged = False
        follows_from = list(drawing_digests(wanted.stored, part.key, wanted.units).values())[-1:]
        self.made_from = (follows_from, part.name, wanted.nominal, narrow)

    def stretches(self, until: float, least: int = 0) -> Iterator[Stretch]:
        """Yield the stretches; of those not kept, drawn are `least` and then more `until` that time [s]."""
        if len(self.part.steps) > LONG and not least:
            until = 0.0
        for first in range(0, len(self.part.steps), STEPS):
            steps = self.part.steps[first : first + STEPS]
            key = content_key("drawings", *self.made_from, first)
            text = recalled(key)
            if text is None and (least > 0 or monotonic() < until):
                least -= 1
                text = kept(key, lambda steps=steps: json.dumps([self._drawn(one) for one in steps]))  # type: ignore[misc]
            # The drawing code escapes what it draws.
            yield Stretch(steps, None if text is None else [SafeString(one) for one in json.loads(text)])

    def _drawn(self, step: ShownStep) -> str:
        self._arrange()
        return step.narrow_drawing if self.narrow else step.drawing

    def _arrange(self) -> None:
        """Let the drawings be laid out as those of other stretches were: to find that out takes all steps."""
        if self._is_arranged:
            return
        pen = self.part.narrow_pen if self.narrow else self.part.pen
        key = content_key("arrangement", *self.made_from)
        known = cache.get(key)
        if known is not None:
            pen.arrangement = known
        elif len(self.part.steps) > STEPS:
            cache.set(key, pen.arrangement, FOR)
        self._is_arranged = True


def is_phone(request: HttpRequest) -> bool:
    """Whether a telephone asks, by the one word that all of them have in their name."""
    return "Mobi" in request.headers.get("User-Agent", "")


@procedure_reader
@readable
@require_safe
@vary_on_headers("HX-Request", "User-Agent")
def drawings(request: HttpRequest, procedure: Procedure, part: str, number: int = 0) -> HttpResponse:
    """Who may read it: the drawings of a part after this step that are there or can be made in time.

    Without script, on to the page again, which has them now. `?narrow` are those for a telephone.
    """
    wanted = wanted_by(request, procedure)
    shown = wanted.shown().part(part)
    if shown is None:
        raise Http404("There is no such part in this procedure.")
    also_narrow = "narrow" in request.GET  # beside the wide ones that the page has
    found = Drawings(wanted, shown, narrow=also_narrow or is_phone(request))
    stretches = list(found.stretches(monotonic() + PATIENCE, least=1))
    if not request.htmx:  # type: ignore[attr-defined]  # set by middleware
        step = shown.steps[min(number, len(shown.steps) - 1)] if shown.steps else None
        return redirect(f"{wanted.address}#{f'step-{step.anchor}' if step else f'part-{part}'}")
    context = {
        "narrow": found.narrow,
        "also_narrow": also_narrow,
        "rows": [row for one in stretches if one.drawings is not None for row in one.rows][number:],
        "waiting": waiting_of(wanted, part, stretches, narrow=also_narrow),
        "part": shown,
    }
    return HttpResponse(render_to_string("procedures/read/_drawings.html", context))


def waiting_of(
    wanted: Wanted, part: str, stretches: list[Stretch], *, narrow: bool = False
) -> dict[str, str]:
    """Return the first step without its drawing and where they are asked for; {} where all are there."""
    done = 0
    for one in stretches:
        if one.drawings is None:
            step = one.steps[0]
            address = reverse("procedures:drawings", args=[wanted.procedure.slug, part, done])
            asked = "&".join(filter(None, [wanted.asked, "narrow" if narrow else ""]))
            return {
                "step": step.anchor,
                "address": f"{address}{asked and '?'}{asked}",
                "number": str(step.number),
            }
        done += len(one.steps)
    return {}
