"""The rules that a JSON Schema of ours is put together from."""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]


def object_rule(properties: Schema, *, needed: tuple[str, ...] = ()) -> Schema:
    """Return the rule for an object with these fields and no others."""
    rule: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    return rule | ({"required": list(needed)} if needed else {})


def list_rule(items: Schema, most: int, *, least: int = 0) -> Schema:
    """Return the rule for a list of so many."""
    return {"type": "array", "items": items, "maxItems": most} | ({"minItems": least} if least else {})


def words_rule(most: int, *, needed: bool = False, lines: bool = False) -> Schema:
    """Return the rule for words: no control characters, and not only space where they are needed."""
    allowed = r"^[^\u0000-\u0008\u000b\u000c\u000e-\u001f]*$" if lines else r"^[^\u0000-\u001f]*$"
    rule: Schema = {"type": "string", "maxLength": most, "pattern": allowed}
    return rule | ({"allOf": [{"pattern": r"\S"}]} if needed else {})
