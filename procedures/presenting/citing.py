"""A revision as it is cited: in a sentence, as BibTeX and as CSL-JSON."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.formats import date_format

from procedures.engine.document import LICENCES

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
# What means something in BibTeX and TeX. https://www.bibtex.org/SpecialSymbols/ (from memory)
ESCAPED = {
    **{sign: f"\\{sign}" for sign in "{}$&#_%"},
    "\\": r"\textbackslash{}",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
}


@dataclass(frozen=True, slots=True)
class Citation:
    """What is said of a revision where it is cited; `address` is its short permanent one."""

    title: str
    author: str
    credits: Sequence[str]
    licence: str  # its SPDX name
    number: int
    code: str
    published: date
    address: str

    @property
    def sentence(self) -> str:
        """The citation in a sentence, without its address."""
        when = date_format(self.published, "j F Y")
        return f"{self.author}: {self.title}. Forging procedure, revision {self.number}, {when}."

    @property
    def key(self) -> str:
        """The name to cite it by in a text: "smith2026-k3v9m2pq"."""
        author = re.sub(r"[^a-z0-9]", "", self.author.lower()) or "anon"
        return f"{author}{self.published.year}-{self.code}"

    @property
    def note(self) -> str:
        """Its credits and its licence."""
        told = f"Credits: {'; '.join(self.credits)}. " if self.credits else ""
        return f"{told}Licence: {LICENCES[self.licence]} ({self.licence})."

    def bibtex(self) -> str:
        """Return it as a BibTeX entry, in UTF-8."""
        fields = {
            "author": f"{{{_tex(self.author)}}}",
            "title": f"{{{_tex(self.title)}}}",
            "howpublished": f"Forging procedure, revision {self.number}",
            "year": str(self.published.year),
            "url": self.address,
            "note": _tex(self.note),
        }
        lines = [f"  {name} = {{{value}}}," for name, value in fields.items()]
        lines.insert(4, f"  month = {MONTHS[self.published.month - 1]},")
        return "\n".join([f"@misc{{{self.key},", *lines, "}", ""])

    def csl(self) -> list[dict[str, Any]]:
        """Return it as CSL-JSON: a list of one item."""
        parts = [self.published.year, self.published.month, self.published.day]
        return [
            {
                "id": self.key,
                "type": "webpage",
                "title": self.title,
                "author": [{"literal": self.author}],
                "issued": {"date-parts": [parts]},
                "genre": "Forging procedure",
                "version": str(self.number),
                "URL": self.address,
                "note": self.note,
            }
        ]


def _tex(text: str) -> str:
    """Return a text as TeX reads it."""
    return "".join(ESCAPED.get(one, one) for one in " ".join(text.split()))
