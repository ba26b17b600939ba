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
_WORDS = re.compile(r"[^<>]+")
SIGN = "*"  # for one in a drawing, whose words have been given their room already


def legible(html: str) -> str:
    """Return HTML in which every pictograph is told by its name, "(anchor)", or in a drawing by a sign."""
    if not _RUN.search(html):
        return html
    parts = _DRAWING.split(html)
    return "".join(
        _RUN.sub(_signed, part) if index % 2 else _WORDS.sub(_named, part) for index, part in enumerate(parts)
    )


def _named(words: re.Match[str]) -> str:
    """Return words with each pictograph told where it first stands; again it would only be noise."""
    told: set[str] = set()

    def name(found: re.Match[str]) -> str:
        letters = [one for one in dict.fromkeys(_JOINING.sub("", found[0])) if one not in told]
        told.update(letters)
        return f"({', '.join(unicodedata.name(one, 'sign').lower() for one in letters)})" if letters else ""

    return _RUN.sub(name, words[0])


def _signed(found: re.Match[str]) -> str:
    return SIGN * len(_JOINING.sub("", found[0]))
