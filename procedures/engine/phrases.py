"""Sentences put together from others."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.wording import Sentence, say


def listed(items: Sequence[Sentence | str]) -> Sentence:
    """Return the items as one list in words: "A, B and C"; each once."""
    distinct = list({str(one): one for one in items}.values())
    names = [f"{{item{index}}}" for index in range(len(distinct))]
    values = {f"item{index}": one for index, one in enumerate(distinct)}
    if len(names) < 2:
        return say("".join(names), **values)
    return say(f"{', '.join(names[:-1])} and {names[-1]}", **values)
