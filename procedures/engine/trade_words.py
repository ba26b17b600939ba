"""Trade words as people type them: a beginning, another ending, the other side's spelling."""

from __future__ import annotations

import re
from dataclasses import dataclass

# As British books have them; whoever types the American word means the same.
_SPELLINGS = {
    "caliper": "calliper",
    "center": "centre",
    "color": "colour",
    "fiber": "fibre",
    "gage": "gauge",
    "mold": "mould",
    "plow": "plough",
    "vise": "vice",
}
_WORD = re.compile(r"[^\W_]+")
_AMERICAN = re.compile(rf"\b({'|'.join(_SPELLINGS)})")
_ENDINGS = ("ing", "ed", "es", "s")
_VOWEL = re.compile("[aeiouy]")
# Words that count only where there are no others.
SMALL = {"a", "an", "and", "for", "how", "in", "make", "of", "on", "or", "the", "to", "with"}
_LEAST = 3  # letters of a word that an ending may be taken from


def plain(text: str) -> str:
    """Return a text in small letters and in one spelling."""
    return _AMERICAN.sub(lambda found: _SPELLINGS[found[0]], text.casefold())


def words_in(text: str) -> list[str]:
    """Return the words of a text, in small letters and in one spelling."""
    return _WORD.findall(plain(text))


@dataclass(frozen=True)
class Typed:
    """What was typed to look something up: the words that count, and the whole in one spelling."""

    words: tuple[str, ...]
    whole: str

    @classmethod
    def of(cls, text: str) -> Typed:
        """Return what was typed. Small words such as "a" and "to" count only where there are no others."""
        words = tuple(dict.fromkeys(words_in(text)))
        return cls(tuple(one for one in words if one not in SMALL) or words, " ".join(words))

    def closeness(self, name: str) -> int:
        """Return how near a name comes to what was typed: 0 is the same, 1 begins so, 2 is neither."""
        said = " ".join(words_in(name))
        return 0 if said == self.whole else 1 if said.startswith(self.whole) else 2


def begins_a_word(word: str, text: str) -> bool:
    """Whether a word, or what is left of it without its ending, begins a word of a plain text."""
    return any(re.search(rf"(?<!\w){one}", text) for one in {word, _stem(word)})


def _stem(word: str) -> str:
    """Return "upset" of "upsetting", "punch" of "punches": the beginning that all forms share."""
    for ending in _ENDINGS:
        rest = word.removesuffix(ending)
        if rest != word and len(rest) >= _LEAST and _VOWEL.search(rest) and not word.endswith("ss"):
            return rest[:-1] if rest[-1] == rest[-2] else rest
    return word
