"""The shop card: one procedure on paper, for the wall beside the anvil."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import segno
from django.core.cache import cache
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from procedures.presenting import Figure, ShownPart, ShownProcedure, ShownStep
from procedures.presenting.edition import content_key

from .contents import ALL, Contents
from .gates import gates
from .layout import printed
from .sheets import Sheet

KEPT = 30 * 24 * 3600  # seconds
QR_SIDE = 21.0  # mm: a phone reads it from a hand's breadth off and from half a metre
_WHOLE = re.compile(r"(?<=\d) (?=\d+/\d)")
_LABEL = re.compile(r'^<svg[^>]* aria-label="([^"]*)"[^>]*>')


@dataclass(frozen=True, slots=True)
class Imprint:
    """What stands on a card besides the procedure: which version of it, from whom, and where it lives."""

    revision: str  # "Revision 2" or "Draft"
    date: str
    author: str
    follow_url: str
    full_size_url: str = ""
    rights: str = ""  # who made it and under which licence, in a line
    licence: str = ""  # as SPDX calls it


@dataclass(frozen=True, slots=True)
class CardStep:
    """A step as the card shows it: with the figures that it changes, its gate, and its drawing."""

    shown: ShownStep
    sizes: tuple[Figure, ...]
    gate: str
    drawing: SafeString


@dataclass(frozen=True, slots=True)
class CardPart:
    """A part as the card shows it."""

    shown: ShownPart
    steps: tuple[CardStep, ...]
    mark_out: SafeString


@dataclass(frozen=True, slots=True)
class Headings:
    """The levels of a card's headings: 1 on a card of its own, deeper in a handout."""

    title: int = 1

    @property
    def part(self) -> int:
        """That of a part, and of the safety box."""
        return self.title + 1

    @property
    def step(self) -> int:
        """That of a step."""
        return self.title + 2


ALONE = Headings()


def card_pdf(
    key: str,
    shown: Callable[[], ShownProcedure],
    sheet: Sheet,
    imprint: Imprint,
    contents: Contents = ALL,
) -> bytes:
    """Return the card as PDF; made once for the same content, then served from where it is kept.

    `key` names the version, the units and the view; `shown` is called only when there is no such card yet.
    A card that lacks a font or a photo is not kept: it may be there the next time.
    """
    key = content_key("card", key, sheet, imprint, contents)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = printed(card_html(shown(), sheet, imprint, contents), sheet)
    if not made.missing:
        cache.set(key, made.pdf, KEPT)
    return made.pdf


def card_html(shown: ShownProcedure, sheet: Sheet, imprint: Imprint, contents: Contents = ALL) -> str:
    """Return the card as the HTML that the print engine lays out."""
    context = card_context(shown, sheet, imprint, contents)
    return render_to_string("procedures/print/card.html", context)


def card_context(
    shown: ShownProcedure,
    sheet: Sheet,
    imprint: Imprint,
    contents: Contents = ALL,
    headings: Headings = ALONE,
) -> dict[str, Any]:
    """Return what the template of a card reads."""
    parts = [one for one in shown.parts if contents.part in {"", one.key}]
    return {
        "shown": shown,
        "parts": [_part(one) for one in parts],
        "whole": len(parts) == len(shown.parts),
        "sheet": sheet,
        "imprint": imprint,
        "contents": contents,
        "headings": headings,
        "qr": qr_svg(imprint.follow_url),
    }


def _part(part: ShownPart) -> CardPart:
    return CardPart(part, tuple(_steps(part)), titled(part.mark_out))


def _steps(part: ShownPart) -> Iterator[CardStep]:
    stops = gates(part.replayed)
    for step in part.steps:
        changed = [one for one in step.sizes if one.changed] or step.sizes
        sizes = tuple(replace(one, before=_bound(one.before), after=_bound(one.after)) for one in changed)
        yield CardStep(step, sizes, stops.get(step.number, ""), titled(step.drawing))


def _bound(text: str) -> str:
    """Return a size whose inches keep their fraction on their line: half of "1 1/2" is another size."""
    return _WHOLE.sub("\N{NO-BREAK SPACE}", text)


def titled(svg: SafeString) -> SafeString:
    """Return a drawing with its text alternative as a title too: the print engine reads no other."""
    return SafeString(_LABEL.sub(r"\g<0><title>\1</title>", svg))


def qr_svg(url: str) -> SafeString:
    """Return an address as a QR code in SVG, QR_SIDE mm a side with its quiet zone."""
    code = segno.make(url, error="m", micro=False)
    modules = code.symbol_size(scale=1, border=2)[0]
    made: str = code.svg_inline(
        scale=QR_SIDE / modules, border=2, unit="mm", dark="#000", light=None, title=f"QR code to {url}"
    )
    return SafeString(made)
