"""What is not known yet: the length of the bar, one of its sizes, or a length that a step is given."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.document import Document, Part, Step
from procedures.engine.parameters.fields import BAR_LENGTH
from procedures.engine.replan import with_part

Kind = Literal["length", "size", "width", "thickness", "step"]
Path = tuple[str | int, ...]
LEAST, MOST = 0.1, 100_000.0  # mm: of a length that a step is given
_LENGTHS = {"length"}  # kinds of parameter that are a length


class NoSuchSize(ValueError):
    """What is unknown cannot be so large or small, or is not there."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """What to solve for. "size" scales the whole section; "width" and "thickness" are of a flat.

    A "step" unknown is a length in the stored parameters of a step, at `path`.
    """

    kind: Kind = "length"
    step: str = ""
    path: Path = ()

    def value(self, part: Part) -> float:
        """Return how large it is now [mm]. Raises NoSuchSize."""
        if self.kind == "length":
            return part.length
        if self.kind == "width":
            return part.section.width
        if self.kind in ("size", "thickness"):
            return part.section.thickness
        found = _at(_step(part, self.step).params, self.path)
        if isinstance(found, bool) or not isinstance(found, (int, float)):
            raise NoSuchSize("This step is not given that length.")
        return float(found)

    def put(self, document: Document, key: str, value: float) -> Document:
        """Return the document with it as large as this [mm]. Raises NoSuchSize."""
        part = document.part(key)
        if part is None:
            raise NoSuchSize("There is no such part.")
        low, high = self.limits()
        if not low <= value <= high:
            raise NoSuchSize(f"{value:g} mm is not between {low:g} and {high:g}.")
        return with_part(document, self._changed(part, value))

    def _changed(self, part: Part, value: float) -> Part:
        if self.kind == "length":
            return replace(part, length=value)
        if self.kind == "step":
            steps = tuple(
                replace(one, params=_with(one.params, self.path, value)) if one.key == self.step else one
                for one in part.steps
            )
            return replace(part, steps=steps)
        try:
            return replace(part, section=self._section(part.section, value))
        except SectionError as error:
            raise NoSuchSize(str(error)) from error

    def _section(self, section: Section, value: float) -> Section:
        if self.kind == "size":
            return section.scaled(value / section.thickness)
        return section.resized(**{self.kind: value})

    def limits(self) -> tuple[float, float]:
        """Return the least and the most it may be [mm]."""
        if self.kind == "length":
            return BAR_LENGTH.above or LEAST, BAR_LENGTH.most or MOST
        return LEAST, MOST if self.kind == "step" else 1000.0

    def said(self, part: Part) -> Sentence:
        """Return what it is called: "the length of the bar"."""
        if self.kind == "length":
            return say("the length of the bar")
        if self.kind != "step":
            return say("the {kind} of the bar", kind=self.kind)
        number = [one.key for one in part.steps].index(self.step) + 1
        kind = _step(part, self.step).kind
        title = f", {kind.title.lower()}" if kind else ""
        return say(
            "{what}, in step {number:count}{title}", number=number, what=_label(part, self), title=title
        )


def step_unknowns(part: Part, step: str, *, sections: bool = False) -> Iterator[Unknown]:
    """Yield the lengths that a step is given and that could be given otherwise; sizes of `sections` too."""
    found = _step(part, step)
    for name, param in found.kind.params().items() if found.kind else ():
        value = found.params.get(name)
        if param.kind in _LENGTHS and _is_length(value):
            yield Unknown("step", step, (name,))
        if sections and param.kind == "section" and isinstance(value, Mapping):
            yield from (Unknown("step", step, (name, key)) for key in value if _is_length(value[key]))
        yield from (Unknown("step", step, (name, *path)) for path in _lengths_in(value))


def _lengths_in(value: Any) -> Iterator[Path]:
    """Yield the paths to the lengths of a stored place, or of each mark in a list."""
    if isinstance(value, Mapping) and "on" in value:
        yield from ((name,) for name in ("length", "offset") if _is_length(value.get(name)))
    if isinstance(value, list | tuple):
        for index, one in enumerate(value):
            yield from ((index, *path) for path in _lengths_in(one))


def _is_length(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and value > 0


def _label(part: Part, unknown: Unknown) -> str:
    step = _step(part, unknown.step)
    param = step.kind.params().get(str(unknown.path[0])) if step.kind else None
    label = param.label.lower() if param else str(unknown.path[0])
    if len(unknown.path) == 1:
        return f"“{label}”"
    if isinstance(unknown.path[1], int):
        item = step.params[str(unknown.path[0])][unknown.path[1]]
        return (
            f"the distance of mark {item['name']}"
            if "name" in item
            else f"the {_word(unknown)} of “{label}” {unknown.path[1] + 1}"
        )
    return f"the {_word(unknown)} of “{label}”"


def _word(unknown: Unknown) -> str:
    """Return what a smith calls the last of a path: what is stored as an offset is set out as a distance."""
    return "distance" if unknown.path[-1] == "offset" else str(unknown.path[-1])


def _step(part: Part, key: str) -> Step:
    found = next((one for one in part.steps if one.key == key), None)
    if found is None:
        raise NoSuchSize("There is no such step.")
    return found


def _at(value: Any, path: Path) -> Any:
    for key in path:
        try:
            value = value[key]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def _with(value: Any, path: Path, new: float) -> Any:
    """Return stored parameters with the number at a path exchanged."""
    if not path:
        return new
    first, *rest = path
    if isinstance(value, Mapping):
        return {**value, first: _with(value[first], tuple(rest), new)}
    return [_with(one, tuple(rest), new) if index == first else one for index, one in enumerate(value)]
