"""Reading a section: shape words and signs, sizes, corners, in the orders people write them."""

from __future__ import annotations

from dataclasses import dataclass, field

from calculators import units
from calculators.sections import Section
from calculators.typed_reader import Reader, checked_mm, length
from calculators.typed_tokens import TypedError

_SHAPE_WORDS = {
    **dict.fromkeys(("ø", "dia", "diam", "diameter", "round", "rd"), "round"),
    **dict.fromkeys(("□", "sq", "square"), "square"),
    "flat": "flat",
    **dict.fromkeys(("hex", "hexagon"), "hexagon"),
    **dict.fromkeys(("oct", "octagon"), "octagon"),
    **dict.fromkeys(("tri", "triangle"), "triangle"),
    **dict.fromkeys(("tube", "pipe"), "tube"),
}
_CORNER_WORDS = {
    **dict.fromkeys(("r", "rad", "radius"), "radius"),
    **dict.fromkeys(("c", "chamfer"), "chamfer"),
}
_ONE_SIZE = {
    "round": Section.round,
    "square": Section.square,
    "hexagon": Section.hexagon,
    "octagon": Section.octagon,
    "half_round": Section.half_round,
    "triangle": Section.triangle,
}
_SAID = {
    "half_round": "half-round",
    "hexagon": "hexagon across its flats",
    "octagon": "octagon across its flats",
}


@dataclass
class _Found:
    shape: str | None = None
    sizes: list[tuple[float, str | None]] = field(default_factory=list)
    corner: str | None = None


def read_section(reader: Reader, default_unit: str) -> Section:
    """Return the Section. Raises TypedError with a clause, SectionError for sizes that cannot be."""
    found = _Found()
    while reader.peek() is not None:
        if not (_take_shape(reader, found) or _take_corner(reader, found) or reader.take("bar")):
            _take_size(reader, found)
    corner_size = found.sizes.pop() if found.corner else None
    every = [*found.sizes, corner_size] if corner_size else found.sizes
    in_mm = _in_mm(every, default_unit)
    return _made(found, in_mm[: len(found.sizes)], in_mm[-1] if corner_size else None)


def _take_shape(reader: Reader, found: _Found) -> bool:
    word = reader.take(*_SHAPE_WORDS)
    shape = _SHAPE_WORDS[word] if word else None
    if reader.take("half"):
        reader.take("-")
        if not reader.take("round", "rd"):
            raise TypedError("says half of something that is not a round")
        shape = "half_round"
    if shape is None:
        return False
    tube_by_diameter = {shape, found.shape} == {"tube", "round"}
    if found.shape not in (None, shape) and not tube_by_diameter:
        raise TypedError("names two shapes")
    if found.corner:
        raise TypedError("says its shape after its corners")
    found.shape = "tube" if tube_by_diameter else shape
    return True


def _take_corner(reader: Reader, found: _Found) -> bool:
    word = reader.take(*_CORNER_WORDS)
    if word is None:
        return False
    if found.corner or not found.sizes:
        raise TypedError("has its corners said twice" if found.corner else "has corners before any size")
    found.corner = _CORNER_WORDS[word]
    found.sizes.append(length(reader))
    return True


def _take_size(reader: Reader, found: _Found) -> None:
    if found.corner:
        reader.done()
    if found.sizes:
        between = ("x", "by", "wall") if found.shape == "tube" else ("x", "by")
        if not reader.take(*between):
            reader.done()
    if len(found.sizes) == 2:
        raise TypedError("has more than two sizes")
    found.sizes.append(length(reader))


def _in_mm(sizes: list[tuple[float, str | None]], default_unit: str) -> list[float]:
    """Return sizes in mm; a unit at the end counts for the sizes before it that have none."""
    last = sizes[-1][1] if sizes else None
    given = {unit for _, unit in sizes if unit}
    if last is None and given - {default_unit}:
        raise TypedError("has a unit on one size and none on the last: give it at the end or with each")
    return [checked_mm(units.to_house(value, unit or last or default_unit)) for value, unit in sizes]


def _made(found: _Found, sizes: list[float], corner: float | None) -> Section:
    if not sizes:
        raise TypedError("has no size in it")
    if corner is not None:
        return _cornered(found, sizes, corner)
    if found.shape == "tube":
        if len(sizes) != 2:
            raise TypedError("needs a diameter and a wall, tube 30 x 3")
        return Section.tube(*sizes)
    if len(sizes) == 2:
        if found.shape not in (None, "flat"):
            raise TypedError(f"has two sizes, but a {_SAID.get(found.shape, found.shape)} has one")
        return Section.flat(max(sizes), min(sizes))
    if found.shape is None:
        raise TypedError("does not say the shape: type ø12 for a round of 12 or 12 sq for a square")
    if found.shape == "flat":
        raise TypedError("has one size, but a flat has two")
    return _ONE_SIZE[found.shape](sizes[0])


def _cornered(found: _Found, sizes: list[float], corner: float) -> Section:
    if found.shape == "square" and len(sizes) == 1:
        sizes = [sizes[0], sizes[0]]
    elif found.shape not in (None, "flat") or len(sizes) != 2:
        raise TypedError(f"has a corner {found.corner}, which only a square or a flat has")
    make = Section.rounded_flat if found.corner == "radius" else Section.chamfered_flat
    return make(max(sizes), min(sizes), corner)
