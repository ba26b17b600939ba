"""Changes of a stored document: each takes one and returns another, and touches no database.

They work on the stored form and not on `Document`, since a draft may hold steps that do not read yet and
must keep them as they are.
"""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from .engine.document import FORMAT, MOST_PARTS, MOST_STEPS, VERSION

Stored = dict[str, Any]
KEY_LENGTH = 40


class NoSuchPlace(LookupError):
    """A part or step that the document does not have (any more)."""


class TooMany(ValueError):
    """More steps, parts or photos than a document may hold; says so in a sentence."""


# -- finding -----------------------------------------------------------------------------------------


def part_of(document: Mapping[str, Any], key: str) -> Stored:
    """Return the stored part of this key. Raises NoSuchPlace."""
    for one in document["parts"]:
        if one["key"] == key:
            return dict(one)
    raise NoSuchPlace(f"There is no part {key!r} in this procedure.")


def step_of(document: Mapping[str, Any], part: str, key: str) -> Stored:
    """Return the stored step of this key. Raises NoSuchPlace."""
    for one in part_of(document, part).get("steps", []):
        if one["key"] == key:
            return dict(one)
    raise NoSuchPlace(f"There is no step {key!r} in this part.")


def digest(stored: Any) -> str:
    """Return the SHA-256 of a stored value, whatever the order of its fields."""
    text = json.dumps(stored, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def step_digest(step: Mapping[str, Any]) -> str:
    """Return the digest of what a step's form edits: all but what has forms of its own."""
    return digest({key: value for key, value in step.items() if key not in ("photos", "silenced")})


def part_digest(part: Mapping[str, Any]) -> str:
    """Return the digest of what the form of a part edits: all but its steps."""
    return digest({key: value for key, value in part.items() if key != "steps"})


def details_digest(document: Mapping[str, Any]) -> str:
    """Return the digest of what the form of the details edits: all but the parts."""
    return digest({key: value for key, value in document.items() if key != "parts"})


# -- the whole ---------------------------------------------------------------------------------------


def new_document(title: str, part: Mapping[str, Any]) -> Stored:
    """Return the document of a procedure with one part and no steps."""
    return {"format": FORMAT, "version": VERSION, "title": title, "summary": "", "parts": [dict(part)]}


def with_details(document: Mapping[str, Any], details: Mapping[str, Any]) -> Stored:
    """Return the document with these of its own fields exchanged; None takes one away."""
    given = {key: value for key, value in {**document, **details}.items() if value is not None}
    return {**given, "parts": document["parts"]}


# -- parts -------------------------------------------------------------------------------------------


def new_part(document: Mapping[str, Any], name: str, stock: Mapping[str, Any], material: Any) -> Stored:
    """Return a new part whose key, made from its name, is not taken in the document."""
    taken = [one["key"] for one in document.get("parts", [])]
    return {
        "key": free_key(key_from(name), taken),
        "name": name,
        "quantity": 1,
        "material": material,
        "stock": dict(stock),
        "steps": [],
    }


def with_part(document: Mapping[str, Any], key: str, change: Callable[[Stored], Stored]) -> Stored:
    """Return the document with one part changed. Raises NoSuchPlace."""
    part_of(document, key)
    return {
        **document,
        "parts": [change(dict(one)) if one["key"] == key else one for one in document["parts"]],
    }


def with_part_added(document: Mapping[str, Any], part: Mapping[str, Any]) -> Stored:
    """Return the document with a part at its end. Raises TooMany."""
    if len(document["parts"]) >= MOST_PARTS:
        raise TooMany(f"A procedure has at most {MOST_PARTS} parts.")
    return {**document, "parts": [*document["parts"], dict(part)]}


def without_part(document: Mapping[str, Any], key: str) -> Stored:
    """Return the document without a part. Raises NoSuchPlace, and TooMany for the last part."""
    part_of(document, key)
    if len(document["parts"]) == 1:
        raise TooMany("A procedure keeps at least one part.")
    return {**document, "parts": [one for one in document["parts"] if one["key"] != key]}


# -- steps -------------------------------------------------------------------------------------------


def new_step(document: Mapping[str, Any], part: str, operation: str, version: int, heats: int) -> Stored:
    """Return a step with a free key and no parameters yet."""
    key = free_key("s1", [one["key"] for one in part_of(document, part).get("steps", [])])
    return {"key": key, "operation": operation, "version": version, "params": {}, "heats": heats}


def with_step(document: Mapping[str, Any], part: str, key: str, change: Callable[[Stored], Stored]) -> Stored:
    """Return the document with one step changed. Raises NoSuchPlace."""
    step_of(document, part, key)
    return _steps(document, part, lambda steps: [change(dict(s)) if s["key"] == key else s for s in steps])


def with_step_after(
    document: Mapping[str, Any], part: str, step: Mapping[str, Any], after: str | None
) -> Stored:
    """Return the document with a step put in after another, or first. Raises NoSuchPlace and TooMany."""
    if sum(len(one.get("steps", [])) for one in document["parts"]) >= MOST_STEPS:
        raise TooMany(f"A procedure has at most {MOST_STEPS} steps.")
    index = step_index(document, part, after) + 1 if after else 0
    return _steps(document, part, lambda steps: [*steps[:index], dict(step), *steps[index:]])


def with_step_moved(document: Mapping[str, Any], part: str, key: str, index: int) -> Stored:
    """Return the document with a step put at another place, 0 the first. Raises NoSuchPlace."""
    step = step_of(document, part, key)

    def moved(steps: list[Stored]) -> list[Stored]:
        others = [one for one in steps if one["key"] != key]
        at = min(max(index, 0), len(others))
        return [*others[:at], step, *others[at:]]

    return _steps(document, part, moved)


def with_step_twice(document: Mapping[str, Any], part: str, key: str) -> tuple[Stored, str]:
    """Return the document with a copy of a step after it, and the copy's key. Raises NoSuchPlace, TooMany."""
    step = step_of(document, part, key)
    copy = free_key(key, [one["key"] for one in part_of(document, part)["steps"]])
    return with_step_after(document, part, {**step, "key": copy}, key), copy


def without_step(document: Mapping[str, Any], part: str, key: str) -> Stored:
    """Return the document without a step. Raises NoSuchPlace."""
    step_of(document, part, key)
    return _steps(document, part, lambda steps: [one for one in steps if one["key"] != key])


def mended(params: Mapping[str, Any], mend: Mapping[str, Any], one_of: Iterable[Iterable[str]]) -> Stored:
    """Return parameters with those of a mend; what excludes one of them gives way, None is left out."""
    changed = dict(params)
    for names in map(set, one_of):
        if names & {name for name, value in mend.items() if value is not None}:
            changed = {name: value for name, value in changed.items() if name not in names}
    changed.update(mend)
    return {name: value for name, value in changed.items() if value is not None}


def step_index(document: Mapping[str, Any], part: str, key: str) -> int:
    """Return the place of a step in its part, 0 the first. Raises NoSuchPlace."""
    step_of(document, part, key)
    return [one["key"] for one in part_of(document, part)["steps"]].index(key)


def neighbour(document: Mapping[str, Any], part: str, key: str) -> str:
    """Return the key of the step before, or after, or "" for a step alone. Raises NoSuchPlace."""
    at = step_index(document, part, key)
    keys = [one["key"] for one in part_of(document, part)["steps"]]
    return (keys[at - 1 : at] or keys[at + 1 : at + 2] or [""])[0]


def key_from(name: str, most: int = 30) -> str:
    """Return a name as a key of so many letters at most: "Left arm" gives left-arm."""
    spelled = unicodedata.normalize("NFKD", name).replace("\N{FRACTION SLASH}", "-")
    plain = spelled.encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:most].strip("-") or "part"


def free_key(wanted: str, taken: Iterable[str]) -> str:
    """Return a key like the one wanted that is not taken: s1 and s2 give s3, hook gives hook-2."""
    known = set(taken)
    if wanted not in known:
        return wanted
    stem = wanted.rstrip("0123456789") or wanted
    separator = "" if stem != wanted else "-"
    stem = stem[: KEY_LENGTH - 6]
    number = 2
    while f"{stem}{separator}{number}" in known:
        number += 1
    return f"{stem}{separator}{number}"


def _steps(document: Mapping[str, Any], part: str, change: Callable[[list[Stored]], list[Stored]]) -> Stored:
    return with_part(document, part, lambda one: {**one, "steps": change(list(one.get("steps", [])))})
