"""How a step of a reproduction is known, and where it is done otherwise now.

"evidence": {"standing": "seen" | "inferred" | "guessed", "reason": text, "method": text, "sources": keys},
"deviation": text   of a step. What is said of the original itself is in originals.py.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from procedures.engine.parameters.fields import object_of, one_of, words_of

from .originals_stored import Path, read_sources

# How sure a step is, in the words of those who record old work; common practice, no source.
STANDINGS = {"seen": "Seen", "inferred": "Inferred", "guessed": "Guessed"}
REASON_LIMIT = 500
DEVIATION_LIMIT = 500


@dataclass(frozen=True)
class Evidence:
    """How sure it is that a step was done so, why, how it was done then, and the keys of what is cited."""

    standing: str
    reason: str = ""
    method: str = ""
    sources: tuple[str, ...] = ()


def read_evidence(stored: Any, path: Path) -> Evidence | None:
    """Return the evidence of a step from its stored form, None for none. Raises DocumentError."""
    if stored is None:
        return None
    given = object_of(stored, path, {"standing", "reason", "method", "sources"}, needed=("standing",))
    return Evidence(
        one_of(given["standing"], (*path, "standing"), STANDINGS),
        words_of(given.get("reason", ""), (*path, "reason"), REASON_LIMIT),
        words_of(given.get("method", ""), (*path, "method"), REASON_LIMIT),
        read_sources(given.get("sources", []), (*path, "sources")),
    )


def write_evidence(evidence: Evidence) -> dict[str, Any]:
    """Return the stored form of evidence; what is empty is left out."""
    stored: dict[str, Any] = {"standing": evidence.standing}
    stored |= {key: text for key in ("reason", "method") if (text := getattr(evidence, key))}
    return stored | ({"sources": list(evidence.sources)} if evidence.sources else {})
