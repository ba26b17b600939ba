"""What a procedure says of itself to other programs: schema.org HowTo as JSON-LD, Open Graph, oEmbed.

https://schema.org/HowTo, https://ogp.me, https://oembed.com (from memory).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.html import format_html
from django.utils.safestring import SafeString

from .citing import Citation
from .parts import ShownPart
from .procedures import ShownProcedure
from .steps import ShownStep

# The deeds of the licences, as their stewards publish them (from memory).
DEEDS = {
    "CC-BY-4.0": "https://creativecommons.org/licenses/by/4.0/",
    "CC-BY-SA-4.0": "https://creativecommons.org/licenses/by-sa/4.0/",
    "CC0-1.0": "https://creativecommons.org/publicdomain/zero/1.0/",
}
SITE = "forgesite"
KEPT_FOR = 3600  # seconds that another site may keep an answer


@dataclass(frozen=True, slots=True)
class Page:
    """A revision's page: its whole address, what it is about, and what it was adapted from, if anything.

    `absolute` makes a whole address of a path of the site.
    """

    address: str
    summary: str
    citation: Citation
    based_on: dict[str, str] | None
    absolute: Callable[[str], str]


def how_to(shown: ShownProcedure, page: Page) -> dict[str, Any]:
    """Return a procedure as a schema.org HowTo: its steps as the page says them, in the reader's units."""
    citation = page.citation
    said: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "@id": citation.address,
        "url": page.address,
        "name": citation.title,
        "description": page.summary,
        "author": {"@type": "Person", "name": citation.author},
        "creditText": "; ".join((citation.author, *citation.credits)),
        "license": DEEDS[citation.licence],
        "datePublished": citation.published.isoformat(),
        "version": str(citation.number),
        "educationalLevel": shown.level,
        "isBasedOn": page.based_on and {"@type": "HowTo", **page.based_on},
        "image": [page.absolute(one.src) for step in shown.steps for one in step.photos],
        "supply": [{"@type": "HowToSupply", "name": _bar(part)} for part in shown.parts],
        "tool": [{"@type": "HowToTool", "name": one} for one in (*shown.tools, *shown.tongs)],
        "step": [_section(number, part, page) for number, part in enumerate(shown.parts, start=1)],
    }
    return {name: value for name, value in said.items() if value}


def _bar(part: ShownPart) -> str:
    pieces = f"{part.quantity} × " if part.quantity > 1 else ""
    return f"{pieces}{part.stock}, {part.material}"


def _section(number: int, part: ShownPart, page: Page) -> dict[str, Any]:
    steps = [_step(one, page) for one in part.steps]
    return {"@type": "HowToSection", "position": number, "name": part.name, "itemListElement": steps}


def _step(step: ShownStep, page: Page) -> dict[str, Any]:
    said = [{"@type": "HowToDirection", "text": step.instruction}]
    said += [{"@type": "HowToTip", "text": text} for text in _tips(step)]
    made = {
        "@type": "HowToStep",
        "position": step.number,
        "name": step.title,
        "url": f"{page.address}#{step.anchor}",
        "image": [page.absolute(one.src) for one in step.photos],
        "itemListElement": said,
    }
    return {name: value for name, value in made.items() if value}


def _tips(step: ShownStep) -> Iterator[str]:
    """Yield what is checked at a step, what to mind, and what keeps the smith whole."""
    if step.check:
        yield step.check
    yield from (one.text for one in step.warnings)
    yield from step.safety


def head(shown: ShownProcedure, page: Page, oembed: str) -> SafeString:
    """Return what a page's head says of the procedure; `oembed` is where it is told how to embed it."""
    photos = [page.absolute(one.src) for step in shown.steps for one in step.photos]
    graph = {
        "og:type": "article",
        "og:site_name": SITE,
        "og:title": page.citation.title,
        "og:description": page.summary,
        "og:url": page.address,
        "article:author": page.citation.author,
        "article:published_time": page.citation.published.isoformat(),
        "og:image": photos[0] if photos else "",
    }
    lines = [
        format_html('<meta property="{}" content="{}">', name, text) for name, text in graph.items() if text
    ]
    lines.append(format_html('<link rel="canonical" href="{}">', page.address))
    lines.append(format_html('<link rel="license" href="{}">', DEEDS[page.citation.licence]))
    link = '<link rel="alternate" type="application/json+oembed" href="{}" title="{}">'
    lines.append(format_html(link, oembed, page.citation.title))
    lines.append(_block(how_to(shown, page)))
    return SafeString("\n".join(lines))


# What would end the block, or begin another inside it.
_ESCAPED = {ord("<"): "\\u003C", ord(">"): "\\u003E", ord("&"): "\\u0026"}


def _block(said: dict[str, Any]) -> SafeString:
    """Return a block of JSON-LD: no browser runs it, so the content security policy lets it stand."""
    text = json.dumps(said, ensure_ascii=False).translate(_ESCAPED)
    return SafeString(f'<script type="application/ld+json">{text}</script>')


def oembed(page: Page, most_width: int, most_height: int) -> dict[str, Any]:
    """Return how a page elsewhere may show a procedure: a quotation that links to it, and nothing that runs.

    `most_width` and `most_height` are the room that page has [px].
    """
    citation = page.citation
    quoted = format_html(
        '<blockquote cite="{}"><p><a href="{}">{}</a></p><p>{}</p>'
        '<footer>{}, <a href="{}">{}</a></footer></blockquote>',
        page.address,
        page.address,
        citation.title,
        page.summary,
        citation.author,
        DEEDS[citation.licence],
        citation.licence,
    )
    return {
        "type": "rich",
        "version": "1.0",
        "title": citation.title,
        "author_name": citation.author,
        "provider_name": SITE,
        "provider_url": page.absolute("/"),
        "cache_age": KEPT_FOR,
        "html": str(quoted),
        "width": min(most_width, 480),
        "height": min(most_height, 200),
    }
