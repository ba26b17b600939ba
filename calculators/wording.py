"""How numbers and sections are said, in millimetres or in inches, and sentences that can be said in either.

A METRIC or INCH unit system turns house units into text. `say` makes a Sentence, which keeps its values in
house units and becomes text only when the reader's units are known.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from math import floor
from string import Formatter
from typing import TYPE_CHECKING

from calculators import units
from calculators.number_texts import SPACE, decimal, inch_length, inch_size, metric_length

if TYPE_CHECKING:
    from calculators.sections import Section

_BY = f"{SPACE}×{SPACE}"


@dataclass(frozen=True)
class UnitSystem(ABC):
    """A reader's units. Each method takes house units (mm, kg, °C, s, deg) and returns text with its unit."""

    id: str
    title: str

    @abstractmethod
    def length(self, mm: float) -> str:
        """Say a length or a position."""

    @abstractmethod
    def size(self, mm: float) -> str:
        """Say a dimension of a section."""

    @abstractmethod
    def size_short(self, mm: float) -> str:
        """Say a dimension of a section without its unit, for drawings."""

    @abstractmethod
    def area(self, mm2: float) -> str:
        """Say an area given in mm²."""

    @abstractmethod
    def volume(self, mm3: float) -> str:
        """Say a volume given in mm³."""

    @abstractmethod
    def mass(self, kg: float) -> str:
        """Say a mass."""

    @abstractmethod
    def temperature(self, celsius: float) -> str:
        """Say a temperature given in °C."""

    @property
    @abstractmethod
    def length_unit(self) -> str:
        """The unit a bare length is read in: "mm" or "in"."""

    def section(self, section: Section) -> str:
        """Say a section with its unit: "30 × 8 mm"."""
        short = self.section_short(section)
        return short if section.shape == "point" else f"{short}{SPACE}{self.length_unit}"

    def section_short(self, section: Section) -> str:
        """Say a section as drawings do, without the unit: "□12", "ø12", "30 × 8"."""
        shape, sizes = section.shape, section.dimensions
        if shape == "blend" and not section.width:
            shape, sizes = "edge", {"width": section.thickness}  # one that stands upright, as a leaf's tip
        elif shape == "blend":
            sizes = {"width": section.width, "thickness": section.thickness}
        if "width" in sizes and sizes.get("thickness", 0) > sizes["width"]:
            # A smith says the larger first, whichever way up the bar lies.
            sizes = {**sizes, "width": sizes["thickness"], "thickness": sizes["width"]}
        said = {name: self.size_short(mm) for name, mm in sizes.items()}
        if shape in _SQUARE_TEXTS and said["width"] == said["thickness"]:
            return _SQUARE_TEXTS[shape].format(**said)
        return _SECTION_TEXTS[shape].format(**said)

    def angle(self, deg: float) -> str:
        """Say an angle: "45°"."""
        return f"{decimal(deg, 1)}°"

    def seconds(self, s: float) -> str:
        """Say a time: "4.5 s", "45 s", "2 min 30 s", "1 h 5 min"."""
        if abs(s) < 10:
            return f"{decimal(s, 1)}{SPACE}s"
        minutes, rest = divmod(floor(s + 0.5), 60)
        if minutes == 0:
            return f"{rest}{SPACE}s"
        if minutes < 60:
            return f"{minutes}{SPACE}min" + (f" {rest}{SPACE}s" if rest else "")
        hours, minutes = divmod(floor(s / 60 + 0.5), 60)
        return f"{hours}{SPACE}h" + (f" {minutes}{SPACE}min" if minutes else "")

    def percent(self, share: float) -> str:
        """Say a share of the whole, 0.021, as "2.1 %"."""
        return f"{decimal(100 * share, 1)}{SPACE}%"

    def number(self, value: float) -> str:
        """Say a plain number with up to three figures after the point, fewer when it is large."""
        size = abs(value)
        return decimal(value, 3 if size < 1 else 2 if size < 100 else 1 if size < 1000 else 0)

    def count(self, value: float) -> str:
        """Say how many, as a whole number."""
        return decimal(value, 0)

    def text(self, template: str, values: Mapping[str, object]) -> str:
        """Return a template's text with its values; see `say`."""
        parts = []
        for literal, name, kind in _fields(template):
            parts.append(literal)
            if name is not None:
                parts.append(_KINDS[kind].show(self, values[name]))
        return "".join(parts)


class _Metric(UnitSystem):
    """Millimetres, grams and kilograms, °C."""

    length_unit = "mm"

    def length(self, mm: float) -> str:
        return f"{metric_length(mm)}{SPACE}mm"

    def size(self, mm: float) -> str:
        return f"{metric_length(mm)}{SPACE}mm"

    def size_short(self, mm: float) -> str:
        return metric_length(mm)

    def area(self, mm2: float) -> str:
        return f"{decimal(mm2, 1 if abs(mm2) < 100 else 0)}{SPACE}mm²"

    def volume(self, mm3: float) -> str:
        cm3 = units.from_house(mm3, "cm³")
        return f"{decimal(cm3, 2 if abs(cm3) < 10 else 1)}{SPACE}cm³"

    def mass(self, kg: float) -> str:
        grams = abs(kg) * 1000
        if grams < 999.5:
            return f"{decimal(kg * 1000, 2 if grams < 1 else 1 if grams < 100 else 0)}{SPACE}g"
        return f"{decimal(kg, 2 if grams < 100_000 else 1)}{SPACE}kg"

    def temperature(self, celsius: float) -> str:
        return f"{decimal(celsius, 0)}{SPACE}°C"


class _Inch(UnitSystem):
    """Feet, inches and binary fractions, pounds and ounces, °F."""

    length_unit = "in"

    def length(self, mm: float) -> str:
        return inch_length(units.from_house(mm, "in"))

    def size(self, mm: float) -> str:
        return f"{self.size_short(mm)}{SPACE}in"

    def size_short(self, mm: float) -> str:
        return inch_size(units.from_house(mm, "in"))

    def area(self, mm2: float) -> str:
        return f"{decimal(units.from_house(mm2, 'in²'), 3)}{SPACE}in²"

    def volume(self, mm3: float) -> str:
        in3 = units.from_house(mm3, "in³")
        return f"{decimal(in3, 3 if abs(in3) < 1 else 2)}{SPACE}in³"

    def mass(self, kg: float) -> str:
        ounces = units.from_house(kg, "oz")
        if abs(ounces) < 15.5:
            return f"{decimal(ounces, 2 if abs(ounces) < 1 else 1)}{SPACE}oz"
        sign = "\N{MINUS SIGN}" if kg < 0 else ""
        pounds, rest = divmod(floor(abs(ounces) + 0.5), 16)
        return f"{sign}{pounds}{SPACE}lb" + (f" {rest}{SPACE}oz" if rest else "")

    def temperature(self, celsius: float) -> str:
        return f"{decimal(units.fahrenheit(celsius), 0)}{SPACE}°F"


METRIC: UnitSystem = _Metric("metric", "Millimetres and kilograms")
INCH: UnitSystem = _Inch("inch", "Feet, inches and pounds")
UNIT_SYSTEMS = {system.id: system for system in (METRIC, INCH)}

_SECTION_TEXTS = {
    "round": "ø{diameter}",
    "square": "□{side}",
    "flat": f"{{width}}{_BY}{{thickness}}",
    "hexagon": f"hexagon{SPACE}{{across_flats}}",
    "octagon": f"octagon{SPACE}{{across_flats}}",
    "half_round": f"half-round{SPACE}{{width}}",
    "triangle": f"triangle{SPACE}{{side}}",
    "rounded_flat": f"{{width}}{_BY}{{thickness}} r{{radius}}",
    "chamfered_flat": f"{{width}}{_BY}{{thickness}} c{{chamfer}}",
    "tube": f"tube{SPACE}{{diameter}}{_BY}{{wall}}",
    "edge": f"edge{SPACE}{{width}}",
    "point": "point",
    "blend": f"blend {{width}}{_BY}{{thickness}}",
}
_SQUARE_TEXTS = {"rounded_flat": "□{width} r{radius}", "chamfered_flat": "□{width} c{chamfer}"}


@dataclass(frozen=True)
class _Kind:
    """One kind of field in a sentence: whether a value fits it, and how it is said."""

    fits: Callable[[object], bool]
    show: Callable[[UnitSystem, object], str]


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and -1e300 < value < 1e300


def _number_kind(name: str) -> _Kind:
    return _Kind(_is_number, lambda system, value: str(getattr(system, name)(value)))


def _section_kind(name: str) -> _Kind:
    return _Kind(
        lambda value: hasattr(value, "shape"), lambda system, value: str(getattr(system, name)(value))
    )


def _text(system: UnitSystem, value: object) -> str:
    return value.text(system) if isinstance(value, Sentence) else str(value)


@lru_cache(maxsize=2048)  # templates are written in the code, so there are few
def _fields(template: str) -> tuple[tuple[str, str | None, str], ...]:
    """Return the template as (text before, field or None, kind)."""
    fields = []
    for literal, name, kind, _ in Formatter().parse(template):
        if name is not None and not name.isidentifier():
            raise ValueError(f"The sentence {template!r} has a field without a plain name: {name!r}.")
        if kind and kind not in _KINDS:
            raise ValueError(
                f"The sentence {template!r} has the kind {kind!r}; there are {', '.join(_KINDS)}."
            )
        fields.append((literal, name, kind or "text"))
    return tuple(fields)


_SIZES = ("length", "size", "size_short", "area", "volume")
_AMOUNTS = ("mass", "angle", "temperature", "number", "percent", "count", "seconds")
_KINDS: dict[str, _Kind] = {
    **{name: _number_kind(name) for name in (*_SIZES, *_AMOUNTS)},
    "section": _section_kind("section"),
    "section_short": _section_kind("section_short"),
    "text": _Kind(lambda value: isinstance(value, (str, int, Sentence)), _text),
}


@dataclass(frozen=True)
class Sentence:
    """A sentence and its values in house units; `text` says it in the reader's. Made by `say`."""

    template: str
    values: Mapping[str, object] = field(default_factory=dict, hash=False)

    def text(self, units: UnitSystem = METRIC) -> str:
        """Return the sentence in a unit system."""
        return units.text(self.template, self.values)

    def __str__(self) -> str:
        return self.text(METRIC)


def say(template: str, **values: object) -> Sentence:
    """Return a Sentence. Its fields carry a kind: "Draw to {target:section}, {length:length} long".

    Kinds: length, size, area, volume, mass, angle, temperature, number, percent (of a share), count, seconds,
    section, section_short, and text (the default, which also takes another Sentence).

    Raises ValueError at once for a field without a value, a value without a field, an unknown kind, or a
    value of the wrong kind.
    """
    named = set()
    for _, name, kind in _fields(template):
        if name is None:
            continue
        if name not in values:
            raise ValueError(f"The sentence {template!r} has no value for {name!r}.")
        if not _KINDS[kind].fits(values[name]):
            raise ValueError(f"The sentence {template!r} cannot say {values[name]!r} as {kind}.")
        named.add(name)
    if extra := sorted(set(values) - named):
        raise ValueError(f"The sentence {template!r} has no place for {', '.join(extra)}.")
    return Sentence(template, values)
