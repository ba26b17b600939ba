"""Notes in Markdown, as HTML that is safe whatever was typed."""

from __future__ import annotations

from functools import lru_cache

import nh3
from django.utils.safestring import SafeString, mark_safe
from markdown_it import MarkdownIt
from markdown_it.token import Token

# A note stands under the heading of its step, so its own headings begin below that.
HIGHEST_HEADING = 4
TAGS = {
    *("p", "br", "hr", "em", "strong", "s", "code", "pre", "blockquote"),
    *("ul", "ol", "li", "a", "h4", "h5", "h6", "table", "thead", "tbody", "tr", "th", "td"),
}
# Pictures are uploaded and checked, never called in from elsewhere; raw HTML is shown as typed.
_reader = MarkdownIt("commonmark", {"html": False}).enable(["table", "strikethrough"]).disable("image")


@lru_cache(maxsize=1024)
def render(text: str) -> SafeString:
    """Return the HTML of a note. Raw HTML in it is shown as text; links open nothing but web and mail."""
    tokens = _reader.parse(text)
    html = _reader.renderer.render([_lowered(one) for one in tokens], _reader.options, {})
    clean = nh3.clean(
        html,
        tags=TAGS,
        attributes={"a": {"href", "title"}, "ol": {"start"}},
        url_schemes={"http", "https", "mailto"},
        link_rel="nofollow noopener noreferrer",
    )
    return mark_safe(clean)  # noqa: S308  cleaned just above


def _lowered(token: Token) -> Token:
    """Return the token with a heading's level lowered to stand inside a step."""
    if token.type in ("heading_open", "heading_close"):
        token.tag = f"h{min(int(token.tag[1]) + HIGHEST_HEADING - 1, 6)}"
    return token
