"""What a reproduction says of its original: how each step is known, and where it is done otherwise now.

"evidence": {"standing": "seen" | "inferred" | "guessed", "reason": text}, "deviation": text   of a step
"original": {"identity": text, "permission": text, "condition": text, "sources": text}     of a document
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from procedures.engine.parameters.fields import object_of, one_of, words_of

# How sure a step is, in the words of those who record old work; common practice, no source.
STANDINGS = {"seen": "Seen", "inferred": "Inferred", "guessed": "Guessed"}
REASON_LIMIT = 500
DEVIATION_LIMIT = 500
# What is said of an original: the label, the help and the most letters.
ORIGINAL = {
    "identity": ("What and where it is", "Owner, place, inventory number, date and who says so.", 500),
    "permission": ("Permission", "Who allowed it to be measured and copied, and on what terms.", 500),
    "condition": ("Condition", "Complete or broken, corrosion, repairs, what is missing.", 1000),
    "sources": ("Sources", "Drawings, photos, books, other pieces; one a line.", 2000),
}

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Evidence:
    """How sure it is that a step was done so, and why."""

    standing: str
    reason: str = ""


@dataclass(frozen=True)
class Original:
    """The piece that is reproduced, in its author's words."""

    identity: str = ""
    permission: str = ""
    condition: str = ""
    sources: str = ""


def read_evidence(stored: Any, path: Path) -> Evidence | None:
    """Return the evidence of a step from its stored form, None for none. Raises DocumentError."""
    if stored is None:
        return None
    given = object_of(stored, path, {"standing", "reason"}, needed=("standing",))
    return Evidence(
        one_of(given["standing"], (*path, "standing"), STANDINGS),
        words_of(given.get("reason", ""), (*path, "reason"), REASON_LIMIT),
    )


def write_evidence(evidence: Evidence) -> dict[str, str]:
    """Return the stored form of evidence."""
    return {"standing": evidence.standing} | ({"reason": evidence.reason} if evidence.reason else {})


def read_original(stored: Any, path: Path) -> Original | None:
    """Return what is said of the original, None where there is none. Raises DocumentError."""
    if stored is None:
        return None
    given = object_of(stored, path, set(ORIGINAL))
    return Original(
        **{
            key: words_of(given.get(key, ""), (*path, key), most, lines=True)
            for key, (_, _, most) in ORIGINAL.items()
        }
    )


def write_original(original: Original) -> dict[str, str]:
    """Return the stored form of what is said of an original; what is empty is left out."""
    return {key: text for key, text in asdict(original).items() if text}
