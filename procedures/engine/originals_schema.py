"""The JSON Schema of what a document says of an original and of how a step is known."""

from __future__ import annotations

from procedures.engine.parameters.fields import KEY

from . import originals
from .evidence import REASON_LIMIT, STANDINGS
from .schema_rules import Schema, list_rule, object_rule, words_rule

_KEY = {"type": "string", "pattern": f"^{KEY.pattern}$"}
_DAY = {"type": "string", "pattern": r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"}
_CITED = list_rule(_KEY, originals.MOST_REFERENCES)


def evidence_schema() -> Schema:
    """Return the rule for how a step is known."""
    described = {
        "standing": {"enum": list(STANDINGS)},
        "reason": words_rule(REASON_LIMIT),
        "method": words_rule(REASON_LIMIT),
        "sources": _CITED,
    }
    return object_rule(described, needed=("standing",))


def original_schema() -> Schema:
    """Return the rule for the original."""
    texts = {key: words_rule(most, lines=True) for key, (_, _, most) in originals.TEXTS.items()}
    permit = object_rule(
        {
            "answer": {"enum": list(originals.ANSWERS)},
            "by": words_rule(originals.WORDS),
            "on": _DAY,
            "terms": words_rule(originals.REFERENCE_LIMIT),
        },
        needed=("answer",),
    )
    reference = object_rule(
        {
            "key": _KEY,
            "kind": {"enum": list(originals.SOURCE_KINDS)},
            "text": words_rule(originals.REFERENCE_LIMIT, needed=True),
        },
        needed=("key", "kind", "text"),
    )
    return object_rule(
        {
            **texts,
            "seen_on": _DAY,
            "permits": object_rule(dict.fromkeys(originals.PERMITS, permit)),
            "references": list_rule(reference, originals.MOST_REFERENCES),
            "measurements": list_rule(_measurement(), originals.MOST_MEASUREMENTS),
        }
    )


def _measurement() -> Schema:
    face = object_rule(
        {
            "face": words_rule(60, needed=True),
            "depth": originals.DEPTH.schema(),
            "reason": words_rule(originals.WORDS, needed=True),
            "uncertainty": originals.DOUBT.schema(),
        },
        needed=("face", "depth", "reason"),
    )
    return object_rule(
        {
            "key": _KEY,
            "what": words_rule(originals.WORDS, needed=True),
            "value": {"description": "mm, as found", **originals.VALUE.schema()},
            "uncertainty": originals.DOUBT.schema(),
            "tool": {"enum": list(originals.TOOLS)},
            "opening": {"type": "boolean"},
            "faces": list_rule(face, originals.MOST_FACES),
            "sources": _CITED,
            "note": words_rule(originals.WORDS),
            "part": {"anyOf": [_KEY, {"const": ""}]},
            "size": {
                "type": "string",
                "maxLength": 60,
                "pattern": f"^(({'|'.join(originals.SIZES)})(:.*)?)?$",
            },
        },
        needed=("key", "what", "value", "uncertainty", "tool"),
    )
