"""Lettering: how wide words come out, words made safe to draw, and sizes as drawings say them."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from xml.sax.saxutils import escape

from calculators.number_texts import SPACE
from calculators.wording import UnitSystem

_LONGEST = 40  # characters of a name
_OTHER = 0.75  # width of a letter of another script, of its size
_SQUARE_WIDTH = 0.62  # of the □ sign, which is drawn, with the gap after it

# Advance widths of Barlow Condensed in thousandths of its size, of the wider of its two weights, rounded up.
_WIDTHS = {
    160: "'",
    180: "|’",
    200: " ,lı",
    220: ".;`ij·",
    240: "I",
    260: ":",
    280: "!()1",
    300: "ft",
    320: '"r{}“”',
    340: "-[]",
    360: "°″",
    380: "*z–′",
    400: "/7\\s×",
    420: "?FLZ^_vxy",
    440: "$235689ESabcdeghknou",
    460: "+04<=>ACJPQTXYpq±−ß",
    480: "BDGHKORUV~ø",
    520: "N",
    540: "M",
    600: "&wØ—",
    620: "#",
    680: "Wm…æœ",
    700: "½¼",
    780: "@¾",
    800: "%",
}
_ADVANCE = {letter: width / 1000 for width, letters in _WIDTHS.items() for letter in letters}


@lru_cache(maxsize=4096)
def width_of(words: str, size: float) -> float:
    """Return how wide words come out at this letter size; other scripts are allowed for generously."""
    return size * sum(_advance(letter) for letter in words)


def _advance(letter: str) -> float:
    known = _ADVANCE.get(letter)
    if known is not None:
        return known
    if letter == "□":
        return _SQUARE_WIDTH
    if letter == "\N{NO-BREAK SPACE}":
        return _ADVANCE[" "]
    category = unicodedata.category(letter)
    if category in ("Mn", "Me", "Cf", "Cc"):
        return 0.0
    if unicodedata.east_asian_width(letter) in "WF" or category == "So":
        return 1.4
    plain = unicodedata.normalize("NFD", letter)[0]  # an accent adds no width
    return _ADVANCE.get(plain, _OTHER)


def name(words: str, longest: int = _LONGEST) -> str:
    """Return somebody's words on one line, cut to so many characters; words read right to left kept apart."""
    line = " ".join("".join(one if _is_drawn(one) else " " for one in words).split())
    if len(line) > longest:
        line = line[: longest - 1].rstrip() + "…"
    if any(unicodedata.bidirectional(one) in ("R", "AL") for one in line):
        return f"\N{FIRST STRONG ISOLATE}{line}\N{POP DIRECTIONAL ISOLATE}"
    return line


def _is_drawn(letter: str) -> bool:
    """Whether a letter may stand in a drawing: no controls, no direction overrides, nothing XML refuses."""
    joins = letter in "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"
    return joins or unicodedata.category(letter) not in ("Cc", "Cf", "Cs", "Cn", "Co", "Zl", "Zp")


def fitted(words: str, size: float, room: float) -> str:
    """Return words cut with an ellipsis to the room there is; empty where not even one letter fits."""
    if width_of(words, size) <= room:
        return words
    for end in range(len(words) - 1, 0, -1):
        short = words[:end].rstrip() + "…"
        if width_of(short, size) <= room:
            return short
    return ""


def spaced(words: str) -> str:
    """Return words with the narrow space, which the drawing font has not, as a plain unbroken one."""
    return words.replace(SPACE, "\N{NO-BREAK SPACE}")


def safe(words: str) -> str:
    """Return words as they may stand in SVG."""
    return escape(words, {'"': "&quot;"})


def bare(mm: float, units: UnitSystem) -> str:
    """Return a length as drawings say it: a bare number in millimetres; feet and inches by their signs."""
    words = units.length(mm)
    if units.length_unit == "mm":
        return words.removesuffix(f"{SPACE}mm")
    return words.replace(f"{SPACE}in", "″").replace(f"{SPACE}ft", "′")


def section_words(section: object, units: UnitSystem) -> str:
    """Return a section as drawings say it: "□12", "30×8"."""
    words = units.section_short(section)  # type: ignore[arg-type]
    words = words.replace(f"{SPACE}×{SPACE}", "×").removeprefix("blend ")
    if words == "point" or units.length_unit == "mm":
        return spaced(words)
    return spaced(words) + "″"
