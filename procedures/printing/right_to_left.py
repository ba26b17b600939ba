"""Words written from right to left, put in the order in which the print engine draws the letters of an SVG.

It draws them one at a time from left to right: Hebrew would stand backwards, and Arabic in letters that do
not join. On pages the browser does this, and in HTML the print engine itself.
"""

from __future__ import annotations

import re
import unicodedata
from html import escape, unescape

_TEXT = re.compile(r"(<text\b[^>]*>)([^<]*)(?=</text>)")
_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_LETTER = re.compile(f"[{_RIGHT}]")
_RUN = re.compile(
    f"[{_RIGHT}](?:.*?[{_RIGHT}])?(?=[^{_RIGHT}]*[A-Za-z]|[^{_RIGHT}]*$)"
)  # up to the next Latin word
_NUMBER = re.compile(r"\d[.,:/×\d]*(?<=\d)|\d")
_MIRRORED = str.maketrans("()[]<>«»", ")(][><»«")


def drawable(html: str) -> str:
    """Return HTML in which the words of every SVG stand as they are to be drawn, from left to right."""
    return _TEXT.sub(lambda found: found[1] + escape(in_line(unescape(found[2]))), html)


def in_line(words: str) -> str:
    """Return words with every run from right to left turned round, its letters in their joined shapes."""
    if not _LETTER.search(words):
        return words
    return _RUN.sub(lambda found: _turned(_joined(found[0])), words)


def _turned(run: str) -> str:
    """Return a run from its last letter to its first; accents stay over theirs, and numbers as they are."""
    clusters: list[str] = []
    for letter in run:
        if clusters and unicodedata.combining(letter):
            clusters[-1] += letter
        else:
            clusters.append(letter.translate(_MIRRORED))
    turned = "".join(reversed(clusters))
    return _NUMBER.sub(lambda found: found[0][::-1], turned)


def _joined(run: str) -> str:
    """Return a run with each Arabic letter in the shape that its neighbours give it."""
    shaped: list[str] = []
    for index, letter in enumerate(run):
        after = _joins_before(_neighbour(run[index + 1 :]))
        before = _joins_after(_neighbour(run[index - 1 :: -1] if index else ""))
        form = {(True, True): "MEDIAL", (True, False): "FINAL", (False, True): "INITIAL"}.get((before, after))
        plain = _form(letter, "FINAL") if before else letter
        shaped.append((_form(letter, form) if form else letter) or plain or letter)
    return "".join(shaped)


def _neighbour(letters: str) -> str:
    return next((one for one in letters if not unicodedata.combining(one)), "")


def _joins_after(letter: str) -> bool:
    return bool(letter) and bool(_form(letter, "INITIAL"))


def _joins_before(letter: str) -> bool:
    return bool(letter) and bool(_form(letter, "FINAL"))


def _form(letter: str, form: str) -> str:
    try:
        return unicodedata.lookup(f"{unicodedata.name(letter, '')} {form} FORM")
    except KeyError:
        return ""
