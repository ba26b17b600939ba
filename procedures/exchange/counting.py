"""How many there are of something, in words."""

from __future__ import annotations

from collections.abc import Iterator


def counted(count: int, word: str, more: str = "") -> Iterator[str]:
    """Yield "3 runs with their photos", "1 run ...", and nothing for none.

    `more` is written for one: "with its photos" is said of several as "with their photos".
    """
    if count:
        plural = count != 1
        said = more.replace("with its ", "with their ").replace("all its ", "all their ") if plural else more
        yield f"{count} {word}{'s' * plural}{f' {said}' if said else ''}"
