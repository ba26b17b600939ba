"""The piece that is reproduced: what it is, who permits what, what was measured on it, what is known.

"original" of a document: its texts (ORIGINAL, IDENTITY), "seen_on" (a date), "permits" by name (PERMITS),
"references" (the sources cited, by their keys) and "measurements". All of it may be left out. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
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
from procedures.engine.parameters.params import Length
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

Path = tuple[str | int, ...]

# What is said of an original: the label, the help and the most letters.
IDENTITY = {
    "what": ("What it is", "Strap hinge, one of a pair.", 200),
    "maker": ("Maker", "Known, said to be, or unknown.", 200),
    "place": ("Where it was made", "", 200),
    "date": ("When it was made", "About 1790; 1780 to 1810; and who says so.", 200),
    "owner": ("Owner or museum", "", 200),
    "inventory": ("Inventory number", "", 100),
    "seen_at": ("Where it was seen", "On the door, in the store, on the bench.", 200),
    "seen_by": ("By whom", "", 200),
    "material": ("Iron or steel", "As far as known, and how.", 300),
    "repairs": ("Repairs", "What is not of its first making.", 1000),
}
ORIGINAL = {
    "identity": ("More about it", "Context, position on the building, what else it belongs to.", 500),
    "permission": ("Permission in general", "What does not fit below.", 500),
    "condition": ("Condition", "Complete or broken, corrosion, what is missing.", 1000),
    "sources": ("Sources in general", "What is not in the list of sources.", 2000),
}
TEXTS = {**IDENTITY, **ORIGINAL}
PERMITS = {
    "measure": "To measure it",
    "photograph": "To photograph it",
    "publish": "To publish photos of it",
}
ANSWERS = {"yes": "Permitted", "asked": "Asked, no answer yet", "no": "Not permitted"}
SOURCE_KINDS = {
    "book": "Book or article",
    "letter": "Letter or account",
    "drawing": "Drawing",
    "photo": "Photo",
    "x_ray": "X-ray",
    "piece": "Comparison piece",
    "person": "Told by a person",
    "other": "Other",
}
# What an instrument is usually good to is told on the page: common practice, no source.
TOOLS = {
    "calipers": "Calipers",
    "tape": "Tape",
    "rule": "Rule",
    "pi_tape": "Pi tape",
    "string": "String along a curve",
    "gauge": "Gauge or template",
    "photo": "Photo with a scale",
    "x_ray": "X-ray",
    "other": "Other",
}
MOST_MEASUREMENTS = 100
MOST_REFERENCES = 60
MOST_FACES = 6
WORDS = 200
REFERENCE_LIMIT = 500
SIZES = ("length", "total", "ring", "width", "thickness")  # of the piece, as the stock page asks for them
VALUE = Length("The measured value", above=0, most=LENGTH_LIMIT, unit="mm")
DOUBT = Length("The uncertainty", least=0, most=LENGTH_LIMIT, unit="mm")
DEPTH = Length("The allowance", least=0, most=LENGTH_LIMIT, unit="mm")


@dataclass(frozen=True)
class Permit:
    """Whether something is permitted, by whom, on which day and on what terms."""

    answer: str
    by: str = ""
    on: str = ""
    terms: str = ""


@dataclass(frozen=True)
class Reference:
    """A source that steps and measurements cite by its key."""

    key: str
    kind: str
    text: str


@dataclass(frozen=True)
class Allowance:
    """What corrosion took from one face [mm], how well that is known [mm], and why it is thought so."""

    face: str
    depth: float
    reason: str
    uncertainty: float = 0.0


@dataclass(frozen=True)
class Measurement:
    """A size as found [mm], and what it was before it corroded.

    Metal was larger by what its faces lost, an `opening` smaller. The doubts of value and faces are taken to
    be independent, so they add as squares. `part` and `size` say which size of the piece it is:
    "thickness:taper" is that after the step of this key, "length:bar" that of a branch,
    as the stock page has it.
    """

    key: str
    what: str
    value: float
    uncertainty: float
    tool: str
    opening: bool = False
    faces: tuple[Allowance, ...] = ()
    sources: tuple[str, ...] = ()
    note: str = ""
    part: str = ""
    size: str = ""

    @property
    def allowance(self) -> float:
        """What all faces lost together [mm]."""
        return math.fsum(one.depth for one in self.faces)

    @property
    def corrected(self) -> float:
        """How large it was when it was made [mm]."""
        return self.value - self.allowance if self.opening else self.value + self.allowance

    @property
    def doubt(self) -> float:
        """How well that is known [mm]: the root of the sum of squares."""
        return math.hypot(self.uncertainty, *(one.uncertainty for one in self.faces))

    @property
    def bounds(self) -> tuple[float, float, float]:
        """The corrected size [mm] at the least, typically and at the most."""
        return max(self.corrected - self.doubt, 0.0), self.corrected, self.corrected + self.doubt


@dataclass(frozen=True)
class Original:
    """The piece that is reproduced, in its author's words and measurements."""

    what: str = ""
    maker: str = ""
    place: str = ""
    date: str = ""
    owner: str = ""
    inventory: str = ""
    seen_at: str = ""
    seen_by: str = ""
    material: str = ""
    repairs: str = ""
    identity: str = ""
    permission: str = ""
    condition: str = ""
    sources: str = ""
    seen_on: str = ""
    permits: Mapping[str, Permit] = field(default_factory=dict)
    references: tuple[Reference, ...] = ()
    measurements: tuple[Measurement, ...] = ()

    @property
    def photos_may_be_published(self) -> bool:
        """Whether its owner permits photos of it to be published."""
        permit = self.permits.get("publish")
        return permit is not None and permit.answer == "yes"

    def words(self) -> Iterator[str]:
        """Yield all that is said of it in words."""
        yield from (text for key in TEXTS if (text := getattr(self, key)))
        yield from (one.text for one in self.references)
        yield from (one.what for one in self.measurements)


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
