"""Emoji and the like, of which the print engine would draw empty boxes: told by their names instead."""

from __future__ import annotations

import re
import unicodedata

# What the embedded fonts hold none of: pictographs, flags, dingbats and what joins and colours them.
_LETTER = "\u2600-\u27bf\u2b00-\u2bff\U0001f000-\U0001faff"
_WITH = "\u200d\ufe0e\ufe0f\u20e3\U0001f3fb-\U0001f3ff\U000e0020-\U000e007f"
_RUN = re.compile(f"[{_LETTER}][{_LETTER}{_WITH}]*|[{_WITH}]+")
_JOINING = re.compile(f"[{_WITH}]")
_DRAWING = re.compile(r"(<svg\b.*?</svg>)", re.DOTALL)
SIGN = "*"  # for one in a drawing, whose words have been given their room already


def legible(html: str) -> str:
    """Return HTML in which every pictograph is told by its name, "(anchor)", or in a drawing by a sign."""
    if not _RUN.search(html):
        return html
    parts = _DRAWING.split(html)
    return "".join(_RUN.sub(_signed if index % 2 else _named, part) for index, part in enumerate(parts))


def _named(found: re.Match[str]) -> str:
    letters = _JOINING.sub("", found[0])
    names = (unicodedata.name(one, "sign").lower() for one in letters)
    return f"({', '.join(dict.fromkeys(names))})" if letters else ""


def _signed(found: re.Match[str]) -> str:
    return SIGN * len(_JOINING.sub("", found[0]))
