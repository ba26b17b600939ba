"""What is laid over a photo: arrows, circles, dimensions and labels, as data of the document.

Points are shares of the photo's width and height, from its top left corner: (0, 0) to (1, 1). So they hold
for every size a photo is shown at.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from procedures.engine.parameters.fields import DocumentError, list_of, number_of, object_of, one_of, words_of
from procedures.engine.parameters.params import Length, Number
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

MOST_ANNOTATIONS = 24
TEXT_LIMIT = 80
NEAREST = 0.01  # share of the photo: two points closer than this are one to a finger
KINDS = {"arrow": "Arrow", "circle": "Circle", "dimension": "Dimension", "label": "Label"}
# What each point is, in the order they are stored.
POINTS = {
    "arrow": ("the words", "the tip"),
    "circle": ("one corner", "the corner across"),
    "dimension": ("one end", "the other end"),
    "label": ("the words",),
}
SHARE = Number("A point", least=0, most=1)
LENGTH = Length("The length", above=0, most=LENGTH_LIMIT, unit="mm")

Point = tuple[float, float]


@dataclass(frozen=True)
class Annotation:
    """One mark on a photo; its points are those of POINTS. `length` [mm] is a dimension's alone."""

    kind: str
    points: tuple[Point, ...]
    text: str = ""
    length: float | None = None


def fault_of(annotation: Annotation) -> tuple[str, str] | None:
    """Return the field that does not go with the others and why, or None: what no single field can tell."""
    kind, points = annotation.kind, annotation.points
    title = KINDS[kind].lower()
    if len(points) != len(POINTS[kind]):
        wanted = "one point" if kind == "label" else "two points"
        return "points", f"{_a(title)} has {wanted}, not {len(points)}."
    if len(points) == 2:
        across, down = (abs(one - other) for one, other in zip(*points, strict=True))
        if kind == "circle" and min(across, down) < NEAREST:
            return "points", "A circle is at least 1 % of the photo wide and high."
        if math.hypot(across, down) < NEAREST:
            return "points", f"The two points of {_a(title).lower()} are at least 1 % of the photo apart."
    if annotation.length is not None and kind != "dimension":
        return "length", f"Only a dimension has a length; write it into the words of the {title}."
    if kind == "label" and not annotation.text.strip():
        return "text", "A label needs words."
    if kind == "dimension" and annotation.length is None and not annotation.text.strip():
        return "text", "A dimension needs a length or words."
    return None


def _a(title: str) -> str:
    return f"{'An' if title[0] in 'aeiou' else 'A'} {title}"


def read_annotations(stored: Any, path: tuple[str | int, ...]) -> tuple[Annotation, ...]:
    """Return the marks on a photo from their stored form. Raises DocumentError."""
    marks = list_of(stored, path, MOST_ANNOTATIONS)
    return tuple(_read(one, (*path, index)) for index, one in enumerate(marks))


def _read(stored: Any, path: tuple[str | int, ...]) -> Annotation:
    given = object_of(stored, path, {"kind", "points", "text", "length"}, needed=("kind", "points"))
    length = given.get("length")
    found = Annotation(
        kind=one_of(given["kind"], (*path, "kind"), KINDS),
        points=tuple(
            _point(one, (*path, "points", index))
            for index, one in enumerate(list_of(given["points"], (*path, "points"), 2))
        ),
        text=words_of(given.get("text", ""), (*path, "text"), TEXT_LIMIT),
        length=None if length is None else number_of(length, (*path, "length"), LENGTH),
    )
    fault = fault_of(found)
    if fault:
        field, message = fault
        raise DocumentError((*path, field), message)
    return found


def _point(stored: Any, path: tuple[str | int, ...]) -> Point:
    if not isinstance(stored, list) or len(stored) != 2:
        raise DocumentError(path, "A point is [across, down], each from 0 to 1.")
    return number_of(stored[0], (*path, 0), SHARE), number_of(stored[1], (*path, 1), SHARE)


def write_annotation(annotation: Annotation) -> dict[str, Any]:
    """Return the stored form of a mark; what is empty is left out."""
    stored: dict[str, Any] = {"kind": annotation.kind, "points": [list(one) for one in annotation.points]}
    if annotation.text:
        stored["text"] = annotation.text
    if annotation.length is not None:
        stored["length"] = annotation.length
    return stored


def annotation_schema(words: Mapping[str, Any], needed_words: Mapping[str, Any]) -> dict[str, Any]:
    """Return the JSON Schema of a mark; `words` and `needed_words` are the rules for its text."""
    share = {"type": "number", "minimum": 0, "maximum": 1}
    point = {"type": "array", "prefixItems": [share, share], "minItems": 2, "maxItems": 2}
    pair = {"points": {"minItems": 2}}
    return {
        "type": "object",
        "description": "Points are [across, down] in shares of the photo from its top left corner.",
        "properties": {
            "kind": {"enum": list(KINDS)},
            "points": {"type": "array", "items": point, "minItems": 1, "maxItems": 2},
            "text": dict(words),
            "length": {"anyOf": [LENGTH.schema(), {"type": "null"}]},
        },
        "additionalProperties": False,
        "required": ["kind", "points"],
        "allOf": [
            _if_kind(
                "label",
                {"properties": {"points": {"maxItems": 1}, "text": dict(needed_words)}, "required": ["text"]},
            ),
            *(_if_kind(kind, {"properties": pair}) for kind in ("arrow", "circle", "dimension")),
            *(
                _if_kind(kind, {"properties": {"length": {"type": "null"}}})
                for kind in ("arrow", "circle", "label")
            ),
            _if_kind(
                "dimension",
                {
                    "anyOf": [
                        {"required": ["length"], "properties": {"length": {"type": "number"}}},
                        {"required": ["text"], "properties": {"text": dict(needed_words)}},
                    ]
                },
            ),
        ],
    }


def _if_kind(kind: str, then: Mapping[str, Any]) -> dict[str, Any]:
    return {"if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]}, "then": dict(then)}
