"""The original of a document read from its stored form, and written back."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from typing import Any

from procedures.engine.parameters.fields import (
    DocumentError,
    key_of,
    list_of,
    number_of,
    object_of,
    one_of,
    words_of,
)

from .originals import (
    ANSWERS,
    DEPTH,
    DOUBT,
    MOST_FACES,
    MOST_MEASUREMENTS,
    MOST_REFERENCES,
    PERMITS,
    REFERENCE_LIMIT,
    SIZES,
    SOURCE_KINDS,
    TEXTS,
    TOOLS,
    VALUE,
    WORDS,
    Allowance,
    Measurement,
    Original,
    Permit,
    Reference,
)

Path = tuple[str | int, ...]


# -- reading -----------------------------------------------------------------------------------------


def read_original(stored: Any, path: Path) -> Original | None:
    """Return what is said of the original, None where there is none. Raises DocumentError."""
    if stored is None:
        return None
    given = object_of(stored, path, {one.name for one in fields(Original)})
    texts = {
        key: words_of(given.get(key, ""), (*path, key), most, lines=True)
        for key, (_, _, most) in TEXTS.items()
    }
    permits = object_of(given.get("permits", {}), (*path, "permits"), set(PERMITS))
    references = list_of(given.get("references", []), (*path, "references"), MOST_REFERENCES)
    measurements = list_of(given.get("measurements", []), (*path, "measurements"), MOST_MEASUREMENTS)
    found = Original(
        **texts,
        seen_on=_day(given.get("seen_on", ""), (*path, "seen_on")),
        permits={key: _permit(one, (*path, "permits", key)) for key, one in permits.items()},
        references=tuple(_reference(one, (*path, "references", i)) for i, one in enumerate(references)),
        measurements=tuple(
            read_measurement(one, (*path, "measurements", i)) for i, one in enumerate(measurements)
        ),
    )
    _once([one.key for one in found.references], (*path, "references"))
    _once([one.key for one in found.measurements], (*path, "measurements"))
    return found


def read_measurement(stored: Any, path: Path) -> Measurement:
    """Return a measurement from its stored form. Raises DocumentError."""
    known = {one.name for one in fields(Measurement)}
    given = object_of(stored, path, known, needed=("key", "what", "value", "uncertainty", "tool"))
    faces = list_of(given.get("faces", []), (*path, "faces"), MOST_FACES)
    opening = given.get("opening", False)
    if not isinstance(opening, bool):
        raise DocumentError((*path, "opening"), "This is true or false.")
    found = Measurement(
        key=key_of(given["key"], (*path, "key")),
        what=words_of(given["what"], (*path, "what"), WORDS, needed=True),
        value=number_of(given["value"], (*path, "value"), VALUE),
        uncertainty=number_of(given["uncertainty"], (*path, "uncertainty"), DOUBT),
        tool=one_of(given["tool"], (*path, "tool"), TOOLS),
        opening=opening,
        faces=tuple(_face(one, (*path, "faces", index)) for index, one in enumerate(faces)),
        sources=read_sources(given.get("sources", []), (*path, "sources")),
        note=words_of(given.get("note", ""), (*path, "note"), WORDS),
        part=key_of(given["part"], (*path, "part")) if given.get("part") else "",
        size=_size(given.get("size", ""), (*path, "size")),
    )
    if found.uncertainty >= found.value:
        raise DocumentError(
            (*path, "uncertainty"), "The uncertainty is as large as the size: nothing is measured."
        )
    if found.allowance >= found.value:
        raise DocumentError((*path, "faces"), "The allowances together are as large as the piece itself.")
    return found


def read_sources(stored: Any, path: Path) -> tuple[str, ...]:
    """Return the keys of sources that are cited. Raises DocumentError."""
    cited = list_of(stored, path, MOST_REFERENCES)
    return tuple(dict.fromkeys(key_of(one, (*path, index)) for index, one in enumerate(cited)))


def _face(stored: Any, path: Path) -> Allowance:
    given = object_of(
        stored, path, {"face", "depth", "reason", "uncertainty"}, needed=("face", "depth", "reason")
    )
    return Allowance(
        words_of(given["face"], (*path, "face"), 60, needed=True),
        number_of(given["depth"], (*path, "depth"), DEPTH),
        words_of(given["reason"], (*path, "reason"), WORDS, needed=True),
        number_of(given.get("uncertainty", 0), (*path, "uncertainty"), DOUBT),
    )


def _permit(stored: Any, path: Path) -> Permit:
    given = object_of(stored, path, {"answer", "by", "on", "terms"}, needed=("answer",))
    return Permit(
        one_of(given["answer"], (*path, "answer"), ANSWERS),
        words_of(given.get("by", ""), (*path, "by"), WORDS),
        _day(given.get("on", ""), (*path, "on")),
        words_of(given.get("terms", ""), (*path, "terms"), REFERENCE_LIMIT),
    )


def _reference(stored: Any, path: Path) -> Reference:
    given = object_of(stored, path, {"key", "kind", "text"}, needed=("key", "kind", "text"))
    return Reference(
        key_of(given["key"], (*path, "key")),
        one_of(given["kind"], (*path, "kind"), SOURCE_KINDS),
        words_of(given["text"], (*path, "text"), REFERENCE_LIMIT, needed=True),
    )


def _day(stored: Any, path: Path) -> str:
    text = words_of(stored, path, 10)
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError as error:
        raise DocumentError(path, "A day is written as 2026-03-09.") from error


def _size(stored: Any, path: Path) -> str:
    text = words_of(stored, path, 60)
    if text and text.partition(":")[0] not in SIZES:
        raise DocumentError(path, f"A size of the piece is one of {', '.join(SIZES)}, with what it is of.")
    return text


def _once(keys: list[str], path: Path) -> None:
    for index, key in enumerate(keys):
        if key in keys[:index]:
            raise DocumentError((*path, index, "key"), f"The key {key!r} is there twice.")


# -- writing -----------------------------------------------------------------------------------------


def write_original(original: Original) -> dict[str, Any]:
    """Return the stored form of what is said of an original; what is empty is left out."""
    stored: dict[str, Any] = {key: text for key in (*TEXTS, "seen_on") if (text := getattr(original, key))}
    if original.permits:
        stored["permits"] = {key: _bare(one) for key, one in original.permits.items()}
    if original.references:
        stored["references"] = [_bare(one) for one in original.references]
    if original.measurements:
        stored["measurements"] = [write_measurement(one) for one in original.measurements]
    return stored


def write_measurement(one: Measurement) -> dict[str, Any]:
    """Return the stored form of a measurement."""
    stored = _bare(one) | {"uncertainty": one.uncertainty}
    if one.faces:
        stored["faces"] = [_bare(face) | {"depth": face.depth} for face in one.faces]
    if one.sources:
        stored["sources"] = list(one.sources)
    return stored


def _bare(one: Any) -> dict[str, Any]:
    return {each.name: value for each in fields(one) if (value := getattr(one, each.name))}
