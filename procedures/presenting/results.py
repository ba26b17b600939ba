"""A result in words: the bars that were used, where it went wrong, and its photos."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators.number_texts import SPACE
from calculators.sections import Section, SectionError
from calculators.wording import UnitSystem
from procedures.engine.catalogue import find
from procedures.models import Result, ResultPhoto


@dataclass(frozen=True, slots=True)
class ShownResultPhoto:
    """A photo of a result as a page shows it."""

    photo: ResultPhoto
    src: str
    srcset: str


def bars_told(result: Result, units: UnitSystem) -> list[str]:
    """Return the bars that were used: "Bar: 20 × 50 mm, 300 mm long, as in the procedure"."""
    parts = {one["key"]: one for one in result.revision.document["parts"]}
    found = []
    for one in result.bars:
        part = parts.get(one.get("part"))
        if part is None:
            continue
        sizes = [text for text in (_section(one, units), _length(one, units)) if text]
        said = f"{SPACE}×{SPACE}".join(sizes)
        found.append(f"{part['name']}: {said}{_as_planned(one, part)}")
    return found


def _section(one: Mapping[str, Any], units: UnitSystem) -> str:
    try:
        return units.section(Section.from_json(one["section"])) if one.get("section") else ""
    except SectionError:
        return ""


def _length(one: Mapping[str, Any], units: UnitSystem) -> str:
    return units.length(one["length"]) if one.get("length") else ""


def _as_planned(one: Mapping[str, Any], part: Mapping[str, Any]) -> str:
    stock = part.get("stock", part)
    same = (one.get("section"), one.get("length")) == (stock.get("section"), stock.get("length"))
    return ", as in the procedure" if same else ""


def step_named(document: Mapping[str, Any], part: str, step: str) -> str:
    """Return "step 3, Draw out"; "" for no step, and words for one that is not there."""
    if not step:
        return ""
    for one in document["parts"]:
        for number, each in enumerate(one.get("steps", ()), start=1):
            if (one["key"], each["key"]) == (part, step):
                kind = find(each["operation"])
                return f"step {number}, {kind.title if kind else each['operation']}"
    return "a step that is not in this revision"


def photos_told(result: Result) -> list[ShownResultPhoto]:
    """Return the photos of a result; it knows its procedure by now."""
    found = []
    for one in result.photos.all():
        one.result = result
        widths = one.widths
        middle = widths[min(1, len(widths) - 1)]
        srcset = ", ".join(f"{one.url(width)} {width}w" for width in widths)
        found.append(ShownResultPhoto(one, one.url(middle), srcset))
    return found
