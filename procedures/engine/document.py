"""The document of a procedure: its one stored and exchanged form, and how it is read.

`read` is strict, for imports and the replay command: the first fault refuses the whole, with its path.
`read(..., draft=True)` lets steps through whose parameters do not read yet: they become findings there.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, TypeVar

from procedures.engine.parameters.fields import (
    BAR_LENGTH,
    COUNT,
    FIRE_LENGTHS,
    HEATS,
    VERSION_NUMBER,
    DocumentError,
    key_of,
    list_of,
    number_of,
    object_of,
    one_of,
    section_of,
    words_of,
)
from procedures.engine.parameters.own_material import read_material, write_material
from procedures.engine.parameters.params import ParamError
from procedures.engine.parameters.place_params import PlaceParam
from procedures.engine.pieces.place import Place

from .annotation import read_annotations, write_annotation
from .evidence import DEVIATION_LIMIT, read_evidence, write_evidence
from .originals_stored import read_original, write_original
from .procedure import LEVELS, LICENCES, Document, Part, Photo, Step
from .scale import FIRES, ScaleHabit

FORMAT = "forgesite.procedure"
VERSION = 1
MOST_STEPS = 1000
MOST_PARTS = 40
MOST_PHOTOS = 12
MOST_SILENCED = 40
REASON_LIMIT = 200
CREDIT_LIMIT = 120
HEATED = PlaceParam("The heated range")
DIGEST = re.compile(r"[0-9a-f]{64}", re.ASCII)
CODE = re.compile(r"[a-z][a-z_]{0,39}\.[a-z][a-z_]{0,39}", re.ASCII)


# -- reading -----------------------------------------------------------------------------------------


def read(stored: Any, *, draft: bool = False) -> Document:
    """Return the document from its stored form (what `json.load` gives). Raises DocumentError."""
    given = object_of(stored, (), _TOP, needed=("format", "version", "title", "parts"))
    if given["format"] != FORMAT:
        raise DocumentError(("format",), f"This is not a {FORMAT} document.")
    if given["version"] != VERSION:
        raise DocumentError(
            ("version",), f"Version {given['version']!r} is not known here; version {VERSION} is."
        )
    parts = list_of(given["parts"], ("parts",), MOST_PARTS)
    if not parts:
        raise DocumentError(("parts",), "A procedure has at least one part.")
    _count_steps(parts)
    return Document(
        title=words_of(given["title"], ("title",), 120, needed=True),
        summary=words_of(given.get("summary", ""), ("summary",), 2000, lines=True),
        level=one_of(given.get("level", "beginner"), ("level",), LEVELS),
        licence=one_of(given.get("licence", "CC-BY-4.0"), ("licence",), LICENCES),
        credits=tuple(
            words_of(one, ("credits", index), 120, needed=True)
            for index, one in enumerate(list_of(given.get("credits", []), ("credits",), 40))
        ),
        scale=_scale(given.get("scale", {}), ("scale",)),
        original=read_original(given.get("original"), ("original",)),
        parts=_distinct(
            tuple(_part(one, ("parts", index), draft) for index, one in enumerate(parts)), ("parts",)
        ),
    )


_TOP = {"format", "version", "title", "summary", "level", "licence", "credits", "scale", "parts", "original"}
_PHOTO = {"digest", "alt", "caption", "annotations", "credit", "of_original"}
_PART = {"key", "name", "quantity", "material", "stock", "steps"}
_STEP = {
    "key",
    "operation",
    "version",
    "params",
    "heats",
    "welding_heats",
    "heated",
    "tongs",
    "note",
    "photos",
    "silenced",
    "evidence",
    "deviation",
}


def _count_steps(parts: list[Any]) -> None:
    """Refuse a document of too many steps before any is read."""
    lists = [one.get("steps", []) for one in parts if isinstance(one, Mapping)]
    count = sum(len(one) for one in lists if isinstance(one, list))
    if count > MOST_STEPS:
        raise DocumentError(("parts",), f"There are {count} steps; at most {MOST_STEPS} are replayed.")


def _part(stored: Any, path: tuple[str | int, ...], draft: bool) -> Part:
    given = object_of(stored, path, _PART, needed=("key", "name", "stock"))
    stock = object_of(given["stock"], (*path, "stock"), {"section", "length"}, needed=("section", "length"))
    material = read_material(given.get("material", "mild_steel"), (*path, "material"))
    steps = list_of(given.get("steps", []), (*path, "steps"), MOST_STEPS)
    return Part(
        key=key_of(given["key"], (*path, "key")),
        name=words_of(given["name"], (*path, "name"), 60, needed=True),
        quantity=int(number_of(given.get("quantity", 1), (*path, "quantity"), COUNT)),
        material=material,
        section=section_of(stock["section"], (*path, "stock", "section")),
        length=number_of(stock["length"], (*path, "stock", "length"), BAR_LENGTH),
        steps=_distinct(
            tuple(_step(one, (*path, "steps", index), draft) for index, one in enumerate(steps)),
            (*path, "steps"),
        ),
    )


def _step(stored: Any, path: tuple[str | int, ...], draft: bool) -> Step:
    given = object_of(stored, path, _STEP, needed=("key", "operation"))
    params = given.get("params", {})
    if not isinstance(params, Mapping):
        raise DocumentError((*path, "params"), "The parameters must be an object.")
    photos = list_of(given.get("photos", []), (*path, "photos"), MOST_PHOTOS)
    step = Step(
        key=key_of(given["key"], (*path, "key")),
        operation=words_of(given["operation"], (*path, "operation"), 60, needed=True),
        version=int(number_of(given.get("version", 1), (*path, "version"), VERSION_NUMBER)),
        params=dict(params),
        heats=int(number_of(given.get("heats", 0), (*path, "heats"), HEATS)),
        welding_heats=int(number_of(given.get("welding_heats", 0), (*path, "welding_heats"), HEATS)),
        heated=_heated(given.get("heated"), (*path, "heated")),
        tongs=words_of(given.get("tongs", ""), (*path, "tongs"), 80),
        note=words_of(given.get("note", ""), (*path, "note"), 10_000, lines=True),
        photos=tuple(_photo(one, (*path, "photos", index)) for index, one in enumerate(photos)),
        silenced=_silenced(given.get("silenced", {}), (*path, "silenced")),
        evidence=read_evidence(given.get("evidence"), (*path, "evidence")),
        deviation=words_of(given.get("deviation", ""), (*path, "deviation"), DEVIATION_LIMIT),
    )
    if not draft:
        _check_operation(step, path)
    return step


def _check_operation(step: Step, path: tuple[str | int, ...]) -> None:
    kind = step.kind
    if kind is None:
        raise DocumentError((*path, "operation"), f"There is no operation called {step.operation!r}.")
    if step.version > kind.version:
        raise DocumentError(
            (*path, "version"), f"Version {step.version} of {kind.id} is newer than the one known here."
        )
    try:
        step.build()
    except ParamError as error:
        raise DocumentError((*path, "params", *error.path), error.message) from error


def _photo(stored: Any, path: tuple[str | int, ...]) -> Photo:
    given = object_of(stored, path, _PHOTO, needed=("digest", "alt"))
    digest = given["digest"]
    if not isinstance(digest, str) or not DIGEST.fullmatch(digest):
        raise DocumentError((*path, "digest"), "A photo is named by the SHA-256 digest of its file.")
    return Photo(
        digest,
        words_of(given["alt"], (*path, "alt"), 300),
        words_of(given.get("caption", ""), (*path, "caption"), 300),
        read_annotations(given.get("annotations", []), (*path, "annotations")),
        words_of(given.get("credit", ""), (*path, "credit"), CREDIT_LIMIT),
        _truth(given.get("of_original", False), (*path, "of_original")),
    )


def _truth(stored: Any, path: tuple[str | int, ...]) -> bool:
    if not isinstance(stored, bool):
        raise DocumentError(path, "This is true or false.")
    return stored


def _silenced(stored: Any, path: tuple[str | int, ...]) -> dict[str, str]:
    if not isinstance(stored, Mapping):
        raise DocumentError(path, "The findings silenced must be an object of reasons by code.")
    if len(stored) > MOST_SILENCED:
        raise DocumentError(path, f"At most {MOST_SILENCED} findings of a step are silenced.")
    for code in stored:
        if not isinstance(code, str) or not CODE.fullmatch(code):
            raise DocumentError(path, f"{code!r} is not the code of a finding.")
    return {
        code: words_of(reason, (*path, code), REASON_LIMIT, needed=True) for code, reason in stored.items()
    }


def _heated(stored: Any, path: tuple[str | int, ...]) -> Place | None:
    if stored is None:
        return None
    try:
        return HEATED.read(stored)
    except ParamError as error:
        raise DocumentError((*path, *error.path), error.message) from error


def _scale(stored: Any, path: tuple[str | int, ...]) -> ScaleHabit:
    given = object_of(stored, path, {"fire", *FIRE_LENGTHS})
    fire = one_of(given.get("fire", "average"), (*path, "fire"), FIRES)
    lengths = {
        key: number_of(given[key], (*path, key), kind) for key, kind in FIRE_LENGTHS.items() if key in given
    }
    return ScaleHabit(fire=fire, **lengths)


_Keyed = TypeVar("_Keyed", Part, Step)


def _distinct(found: tuple[_Keyed, ...], path: tuple[str | int, ...]) -> tuple[_Keyed, ...]:
    seen: set[str] = set()
    for index, one in enumerate(found):
        if one.key in seen:
            raise DocumentError((*path, index, "key"), f"The key {one.key!r} is there twice.")
        seen.add(one.key)
    return found


# -- writing -----------------------------------------------------------------------------------------


def write(document: Document) -> dict[str, Any]:
    """Return the stored form of a document; reading it back gives the same document."""
    original = {"original": write_original(document.original)} if document.original else {}
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": document.title,
        "summary": document.summary,
        "level": document.level,
        "licence": document.licence,
        "credits": list(document.credits),
        "scale": document.scale.write(),
        **original,
        "parts": [write_part(one) for one in document.parts],
    }


def write_part(part: Part) -> dict[str, Any]:
    """Return the stored form of a part."""
    return {
        "key": part.key,
        "name": part.name,
        "quantity": part.quantity,
        "material": write_material(part.material),
        "stock": {"section": part.section.to_json(), "length": part.length},
        "steps": [write_step(one) for one in part.steps],
    }


def write_step(step: Step) -> dict[str, Any]:
    """Return the stored form of a step; what is empty is left out."""
    stored: dict[str, Any] = {
        "key": step.key,
        "operation": step.operation,
        "version": step.version,
        "params": dict(step.params),
        "heats": step.heats,
    }
    if step.welding_heats:
        stored["welding_heats"] = step.welding_heats
    if step.heated is not None:
        stored["heated"] = HEATED.write(step.heated)
    for key in ("tongs", "note"):
        if getattr(step, key):
            stored[key] = getattr(step, key)
    if step.photos:
        stored["photos"] = [_write_photo(one) for one in step.photos]
    if step.silenced:
        stored["silenced"] = dict(step.silenced)
    if step.evidence:
        stored["evidence"] = write_evidence(step.evidence)
    if step.deviation:
        stored["deviation"] = step.deviation
    return stored


def _write_photo(photo: Photo) -> dict[str, Any]:
    stored: dict[str, Any] = {"digest": photo.digest, "alt": photo.alt}
    if photo.caption:
        stored["caption"] = photo.caption
    if photo.annotations:
        stored["annotations"] = [write_annotation(one) for one in photo.annotations]
    if photo.credit:
        stored["credit"] = photo.credit
    if photo.of_original:
        stored["of_original"] = True
    return stored


__all__ = ["FORMAT", "LEVELS", "LICENCES", "VERSION", "Document", "Part", "Photo", "Step", "read", "write"]
