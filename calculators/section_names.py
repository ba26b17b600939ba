"""What a section's weights are called: its shape, its dimensions, and its JSON.

A shape is recognised when the weights it does not use are less than a billionth of the largest; anything else
is a
"blend". `weights_of` is the only place where dimensions become weights, and it refuses what cannot be a
section.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from math import isfinite, sqrt

from calculators.generators import (
    BORE,
    COUNT,
    DIAMOND,
    DISC,
    HALF_DISC,
    HEXAGON,
    NAMES,
    NOTHING,
    THICKNESS,
    TRIANGLE,
    WIDTH,
    Weights,
)

LARGEST = 100_000.0  # mm: 100 m
SMALLEST = 1e-6  # mm
_TINY = 1e-9  # of the largest weight
_CUT = (2 - sqrt(2)) / 2  # an octagon's corner cut, of its size across flats


class SectionError(ValueError):
    """A section that cannot be; the message names the value and the limit."""


def weights_of(shape: str, dimensions: Mapping[str, float]) -> Weights:
    """Return the weights of a named shape.

    Raises SectionError when a dimension is missing, extra, or out of its limits.
    """
    names, build = _lookup(shape)
    extra = [name for name in dimensions if name not in names]
    if extra:
        raise SectionError(f"{_a(shape).capitalize()} has no {extra[0]!r:.60}; it has {_listed(names)}.")
    values = []
    for name in names:
        if name not in dimensions:
            raise SectionError(f"{_a(shape).capitalize()} needs its {_said(name)}.")
        values.append(_size(f"The {_said(name)} of {_a(shape)}", dimensions[name]))
    return build(*values)


def dimensions_of(weights: Weights) -> tuple[str, dict[str, float]]:
    """Return the shape and its dimensions [mm] by name."""
    tiny = _TINY * max(weights)
    used = frozenset(i for i in range(COUNT) if weights[i] > tiny)
    if weights[BORE] > tiny and used != {DISC, BORE}:
        return "blend", {}
    namer = _NAMERS.get(used)
    return namer(weights) if namer else ("blend", {})


def section_json(weights: Weights) -> dict[str, object]:
    """Return what `read_json` reads: a shape and its dimensions, or a blend's weights by name."""
    shape, dimensions = dimensions_of(weights)
    if shape == "blend" or min(dimensions.values(), default=1.0) < SMALLEST:
        return {
            "shape": "blend",
            **{name: weight for name, weight in zip(NAMES, weights, strict=True) if weight},
        }
    return {"shape": shape, **dimensions}


def read_json(fields: object) -> Weights:
    """Return the weights described by a JSON object.

    Raises SectionError naming the field that is wrong.
    """
    if not isinstance(fields, Mapping):
        raise SectionError('A section is an object such as {"shape": "round", "diameter": 12}.')
    shape = fields.get("shape")
    if not isinstance(shape, str):
        raise SectionError(f'A section needs its "shape", one of {_listed((*_SHAPES, "blend"))}.')
    rest = {str(name): value for name, value in fields.items() if name != "shape"}
    if shape != "blend":
        return weights_of(shape, rest)
    unknown = [name for name in rest if name not in NAMES]
    if unknown:
        raise SectionError(f"A blend has no {unknown[0]!r:.60}; it has {_listed(NAMES)}.")
    w = tuple(
        _size(f"The {name} of a blend", rest[name], zero=True) if name in rest else 0.0 for name in NAMES
    )
    weights: Weights = (w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7])
    room = weights[DISC] + min(weights[WIDTH], weights[THICKNESS]) / 2 + weights[DIAMOND] / sqrt(2)
    if weights[BORE] > room:
        raise SectionError("The bore of a blend is larger than its outside.")
    return weights


def _size(what: str, value: object, zero: bool = False) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise SectionError(f"{what} must be a number of millimetres, not {value!r:.60}.")
    if isinstance(value, float) and not isfinite(value):
        raise SectionError(f"{what} must be a finite number of millimetres, not {value}.")
    if value > LARGEST:
        said = f"{value:.6g} mm" if value < 1e300 else "past all measure"
        raise SectionError(f"{what} is {said}; 100 m is the most there can be.")
    if value >= (0 if zero else SMALLEST):
        return float(value)
    if value < -1e300:
        raise SectionError(f"{what} must be more than 0 mm.")
    if value <= 0:
        raise SectionError(f"{what} must be more than 0 mm; it is {value:g}.")
    raise SectionError(f"{what} is {value:g} mm; {SMALLEST:f} mm is the least there can be.")


def _weights(**by_name: float) -> Weights:
    values = list(NOTHING)
    for name, value in by_name.items():
        values[NAMES.index(name)] = value
    return (values[0], values[1], values[2], values[3], values[4], values[5], values[6], values[7])


def _rounded(width: float, thickness: float, radius: float) -> Weights:
    half = min(width, thickness) / 2
    if radius > half:
        raise SectionError(f"The corner radius, {radius:g} mm, is more than half of {2 * half:g} mm.")
    return _weights(width=width - 2 * radius, thickness=thickness - 2 * radius, disc=radius)


def _chamfered(width: float, thickness: float, chamfer: float) -> Weights:
    half = min(width, thickness) / 2
    if chamfer >= half:
        raise SectionError(f"The chamfer, {chamfer:g} mm, must be less than half of {2 * half:g} mm.")
    return _weights(width=width - 2 * chamfer, thickness=thickness - 2 * chamfer, diamond=chamfer)


def _tube(diameter: float, wall: float) -> Weights:
    if wall >= diameter / 2:
        raise SectionError(f"The wall, {wall:g} mm, must be less than half the diameter, {diameter:g} mm.")
    return _weights(disc=diameter / 2, bore=diameter / 2 - wall)


def _octagon(across_flats: float) -> Weights:
    side = across_flats * (sqrt(2) - 1)
    return _weights(width=side, thickness=side, diamond=across_flats * _CUT)


_SHAPES: dict[str, tuple[tuple[str, ...], Callable[..., Weights]]] = {
    "round": (("diameter",), lambda d: _weights(disc=d / 2)),
    "square": (("side",), lambda a: _weights(width=a, thickness=a)),
    "flat": (("width", "thickness"), lambda w, t: _weights(width=w, thickness=t)),
    "hexagon": (("across_flats",), lambda s: _weights(hexagon=s)),
    "octagon": (("across_flats",), _octagon),
    "half_round": (("width",), lambda w: _weights(half_disc=w)),
    "triangle": (("side",), lambda a: _weights(triangle=a)),
    "rounded_flat": (("width", "thickness", "radius"), _rounded),
    "chamfered_flat": (("width", "thickness", "chamfer"), _chamfered),
    "tube": (("diameter", "wall"), _tube),
    "edge": (("width",), lambda w: _weights(width=w)),
    "point": ((), lambda: NOTHING),
}
SHAPES = (*_SHAPES, "blend")
# What each shape but a blend is made from.
DIMENSIONS = {shape: names for shape, (names, _) in _SHAPES.items()}


def _lookup(shape: str) -> tuple[tuple[str, ...], Callable[..., Weights]]:
    if shape not in _SHAPES:
        raise SectionError(f"There is no section shape {shape!r:.60}; there are {_listed(_SHAPES)}.")
    return _SHAPES[shape]


def _clean(value: float) -> float:
    """Return a dimension summed from weights without the dust of adding: 30.1, not 30.099999999999998."""
    return float(f"{value:.12g}")


def _name_box(g: Weights) -> tuple[str, dict[str, float]]:
    width, thickness = g[WIDTH], g[THICKNESS]
    if abs(width - thickness) <= _TINY * max(width, thickness):
        return "square", {"side": width}
    return "flat", {"width": width, "thickness": thickness}


def _name_round_cornered(g: Weights) -> tuple[str, dict[str, float]]:
    r = g[DISC]
    return "rounded_flat", {
        "width": _clean(g[WIDTH] + 2 * r),
        "thickness": _clean(g[THICKNESS] + 2 * r),
        "radius": r,
    }


def _name_cut_cornered(g: Weights) -> tuple[str, dict[str, float]]:
    width, thickness, c = g[WIDTH], g[THICKNESS], g[DIAMOND]
    if max(abs(width - sqrt(2) * c), abs(thickness - sqrt(2) * c)) <= _TINY * c:
        return "octagon", {"across_flats": _clean(width + 2 * c)}
    sizes = {"width": _clean(width + 2 * c), "thickness": _clean(thickness + 2 * c), "chamfer": c}
    return "chamfered_flat", sizes


def _name_tube(g: Weights) -> tuple[str, dict[str, float]]:
    return "tube", {"diameter": 2 * g[DISC], "wall": _clean(g[DISC] - g[BORE])}


_NAMERS: dict[frozenset[int], Callable[[Weights], tuple[str, dict[str, float]]]] = {
    frozenset(): lambda g: ("point", {}),
    frozenset({WIDTH}): lambda g: ("edge", {"width": g[WIDTH]}),
    frozenset({WIDTH, THICKNESS}): _name_box,
    frozenset({DISC}): lambda g: ("round", {"diameter": 2 * g[DISC]}),
    frozenset({HEXAGON}): lambda g: ("hexagon", {"across_flats": g[HEXAGON]}),
    frozenset({HALF_DISC}): lambda g: ("half_round", {"width": g[HALF_DISC]}),
    frozenset({TRIANGLE}): lambda g: ("triangle", {"side": g[TRIANGLE]}),
    frozenset({WIDTH, DISC}): _name_round_cornered,
    frozenset({THICKNESS, DISC}): _name_round_cornered,
    frozenset({WIDTH, THICKNESS, DISC}): _name_round_cornered,
    frozenset({WIDTH, THICKNESS, DIAMOND}): _name_cut_cornered,
    frozenset({DISC, BORE}): _name_tube,
}


def _said(name: str) -> str:
    words = {"half_round": "half-round", "across_flats": "size across flats"}
    return words.get(name, name.replace("_", " "))


def _a(shape: str) -> str:
    return f"an {_said(shape)}" if shape[0] in "aeiou" else f"a {_said(shape)}"


def _listed(names: Iterable[str]) -> str:
    words = list(names)
    if not words:
        return "no sizes"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
