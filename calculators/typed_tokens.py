"""Splitting what was typed into numbers, fractions, words and signs, without guessing.

Plain characters only: anything outside a short list is refused by name, so no look-alike digit or letter gets
through. One pass over at most LONGEST characters; nothing is evaluated.
"""

from __future__ import annotations

from dataclasses import dataclass

LONGEST = 60
MOST_DIGITS = 12

_VULGAR = {
    "½": (1, 2),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅕": (1, 5),
    "⅙": (1, 6),
    "⅚": (5, 6),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
}
# Signs that mean the same when typed, and the one we go on with.
_SAME = {
    **dict.fromkeys("\u00a0\u2009\u202f\t", " "),
    **dict.fromkeys("″“”„", '"'),
    **dict.fromkeys("′’‘", "'"),
    **dict.fromkeys("−–‐‑", "-"),
    **dict.fromkeys("×✕*", "x"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("Ø⌀∅", "ø"),
    **dict.fromkeys("▢☐◻■", "□"),
    "º": "°",
}
_SIGNS = frozenset("\"'-/ø□°")
_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyz")
_DIGITS = frozenset("0123456789")


class TypedError(ValueError):
    """What was typed cannot be understood; the message says what was given and what would be understood."""


@dataclass(frozen=True, slots=True)
class Token:
    """A whole number, a decimal, a vulgar fraction, a word or a sign; and whether a space stood before it."""

    kind: str  # "whole", "decimal", "fraction", "word", "sign"
    text: str
    value: float = 0.0
    spaced: bool = False


def shown(text: str) -> str:
    """Return what was typed, shortened and safe to repeat in a sentence."""
    plain = "".join(character if character.isprintable() else "?" for character in text[:41].strip())
    return f"“{plain[:40]}…”" if len(text) > 40 else f"“{plain}”"


def tokens(text: object) -> list[Token]:
    """Return the tokens of what was typed.

    Raises TypedError with the reason alone, as a clause that follows the text: "is too long".
    """
    if not isinstance(text, str):
        raise TypedError("is not text")
    if len(text) > LONGEST:
        raise TypedError(f"is too long: {LONGEST} characters are enough")
    plain = "".join(_SAME.get(character, character) for character in text).replace("''", '"').lower()
    found: list[Token] = []
    place = 0
    spaced = False
    while place < len(plain):
        if plain[place] == " ":
            spaced = True
            place += 1
            continue
        token, place = _next(plain, place, spaced)
        found.append(token)
        spaced = False
    if not found:
        raise TypedError("is empty")
    return found


def _next(plain: str, place: int, spaced: bool) -> tuple[Token, int]:
    character = plain[place]
    if character in _DIGITS or character in ".,":
        return _number(plain, place, spaced)
    if character in _VULGAR:
        over, under = _VULGAR[character]
        return Token("fraction", character, over / under, spaced), place + 1
    if character in _LETTERS:
        end = _run(plain, place, _LETTERS)
        return Token("word", plain[place:end], 0.0, spaced), end
    if character in _SIGNS:
        return Token("sign", character, 0.0, spaced), place + 1
    raise TypedError(f"has {shown(character)} in it")


def _number(plain: str, place: int, spaced: bool) -> tuple[Token, int]:
    end = _run(plain, place, _DIGITS | {".", ","})
    text = plain[place:end]
    digits = text.replace(",", ".")
    whole, point, part = digits.partition(".")
    if "." in part or (point and not part):
        raise TypedError(f"has {shown(text)} in it, which is not one number")
    if len(digits) > MOST_DIGITS:
        raise TypedError(f"has a number of more than {MOST_DIGITS} figures in it")
    if "," in text and len(part) == 3 and whole.strip("0"):
        raise TypedError(f"could mean {whole}{part} or {whole}.{part}: type {whole}{part} or {whole}.{part}")
    return Token("decimal" if point else "whole", text, float(digits), spaced), end


def _run(plain: str, place: int, allowed: frozenset[str] | set[str]) -> int:
    while place < len(plain) and plain[place] in allowed:
        place += 1
    return place
