"""Cross-sections of bar: round, square, flat and the rest, and every blend of two of them inside a taper.

A section is a short vector of weights, `g`, over the shapes of `generators`; so a blend is a weighted mean of
two vectors, and the areas, perimeters and taper volumes are exact for all of them, with no special cases.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isfinite, pi

from calculators import outlines, recession, wording
from calculators.generators import (
    BORE,
    DIAMOND,
    DISC,
    HALF_DISC,
    NOTHING,
    PERIMETERS,
    THICKNESS,
    THICKNESSES,
    TRIANGLE,
    WIDTH,
    WIDTHS,
    Weights,
    along,
    mixed_area,
)
from calculators.section_names import SHAPES, SectionError, dimensions_of, read_json, section_json, weights_of
from calculators.tapers import taper_fraction_of_volume, taper_length, taper_volume, taper_volume_to

__all__ = [
    "SHAPES",
    "Section",
    "SectionError",
    "taper_fraction_of_volume",
    "taper_length",
    "taper_volume",
    "taper_volume_to",
]

_NOT_YET = -1.0


@dataclass(frozen=True, slots=True)
class Section:
    """A cross-section: y across the width, z through the thickness. Lengths in mm, areas in mm².

    Made by `round`, `flat` and the like, which raise SectionError for a size that cannot be. Equal and
    hashable by its weights.
    """

    g: Weights
    _area: float = field(default=_NOT_YET, init=False, repr=False, compare=False)

    @classmethod
    def round(cls, d: float) -> Section:
        """Return a round of diameter d."""
        return cls(weights_of("round", {"diameter": d}))

    @classmethod
    def square(cls, side: float) -> Section:
        """Return a square."""
        return cls(weights_of("square", {"side": side}))

    @classmethod
    def flat(cls, width: float, thickness: float) -> Section:
        """Return a flat, the way round it is given."""
        return cls(weights_of("flat", {"width": width, "thickness": thickness}))

    @classmethod
    def hexagon(cls, across_flats: float) -> Section:
        """Return a hexagon lying on a flat: its thickness is the size across flats."""
        return cls(weights_of("hexagon", {"across_flats": across_flats}))

    @classmethod
    def octagon(cls, across_flats: float) -> Section:
        """Return an octagon: a square with its corners knocked in."""
        return cls(weights_of("octagon", {"across_flats": across_flats}))

    @classmethod
    def half_round(cls, width: float) -> Section:
        """Return a full half-round: half a disc, flat side down."""
        return cls(weights_of("half_round", {"width": width}))

    @classmethod
    def triangle(cls, side: float) -> Section:
        """Return an equilateral triangle, base down."""
        return cls(weights_of("triangle", {"side": side}))

    @classmethod
    def rounded_flat(cls, width: float, thickness: float, radius: float) -> Section:
        """Return a flat or square with rounded corners; the radius is at most half the smaller side."""
        return cls(weights_of("rounded_flat", {"width": width, "thickness": thickness, "radius": radius}))

    @classmethod
    def chamfered_flat(cls, width: float, thickness: float, chamfer: float) -> Section:
        """Return a flat or square with 45° chamfers along its sides, less than half the smaller side."""
        return cls(weights_of("chamfered_flat", {"width": width, "thickness": thickness, "chamfer": chamfer}))

    @classmethod
    def tube(cls, diameter: float, wall: float) -> Section:
        """Return a round tube; its perimeter is the outside one."""
        return cls(weights_of("tube", {"diameter": diameter, "wall": wall}))

    @classmethod
    def edge(cls, width: float) -> Section:
        """Return the end of a chisel: a line of no thickness."""
        return cls(weights_of("edge", {"width": width}))

    @classmethod
    def upright(cls, thickness: float) -> Section:
        """Return the tip of a leaf: an edge that stands upright, with no width."""
        g = weights_of("edge", {"width": thickness})
        return cls((g[THICKNESS], g[WIDTH], *g[2:]))

    @classmethod
    def point(cls) -> Section:
        """Return the end of a true point: nothing."""
        return _POINT

    @property
    def shape(self) -> str:
        """One of SHAPES; a flat as thick as wide is a square, what has no name of its own a "blend"."""
        return dimensions_of(self.g)[0]

    @property
    def dimensions(self) -> dict[str, float]:
        """The sizes [mm] the shape is made from: `{"width": 30.0, "thickness": 8.0}`; none for a blend."""
        return dimensions_of(self.g)[1]

    @property
    def area(self) -> float:
        """The area [mm²]."""
        if self._area == _NOT_YET:
            object.__setattr__(self, "_area", max(mixed_area(self.g, self.g), 0.0))
        return self._area

    @property
    def perimeter(self) -> float:
        """The length [mm] of the outside."""
        return along(self.g, PERIMETERS)

    @property
    def width(self) -> float:
        """The largest size [mm] across the width, y."""
        return along(self.g, WIDTHS)

    @property
    def thickness(self) -> float:
        """The largest size [mm] through the thickness, z."""
        return along(self.g, THICKNESSES)

    @property
    def bore(self) -> float:
        """The diameter [mm] of a tube's hole; 0 for solid bar."""
        return 2 * self.g[BORE]

    @property
    def modulus(self) -> float:
        """Area over perimeter [mm], which heating, cooling and scale go by; 0 for a point."""
        perimeter = self.perimeter
        return self.area / perimeter if perimeter > 0 else 0.0

    @property
    def centroid_share(self) -> float:
        """The centroid's height over the bottom as a share of the thickness: 0.5 if symmetrical."""
        g = self.g
        if g[HALF_DISC] == 0 and g[TRIANGLE] == 0:
            return 0.5
        shape = self.shape
        if shape == "half_round":
            return 4 / (3 * pi)
        if shape == "triangle":
            return 1 / 3
        return -min(z for _, z in self.outline(256)) / self.thickness

    def mixed_area(self, other: Section) -> float:
        """Return the mixed area [mm²] with another section: the M of a taper between them."""
        return mixed_area(self.g, other.g)

    def blend(self, other: Section, x: float) -> Section:
        """Return the section at fraction x (0..1) of a taper to another.

        Raises ValueError when x is outside 0..1.
        """
        if not 0 <= x <= 1:
            raise ValueError(f"A blend lies between its two sections: {x!r} is not between 0 and 1.")
        if x == 0 or self.g == other.g:
            return self
        if x == 1:
            return other
        a, b, y = self.g, other.g, 1 - x
        return Section(
            (
                y * a[0] + x * b[0],
                y * a[1] + x * b[1],
                y * a[2] + x * b[2],
                y * a[3] + x * b[3],
                y * a[4] + x * b[4],
                y * a[5] + x * b[5],
                y * a[6] + x * b[6],
                y * a[7] + x * b[7],
            )
        )

    def scaled(self, factor: float) -> Section:
        """Return the same shape with every size times a factor.

        Raises SectionError when the factor is not above 0.
        """
        if not (isfinite(factor) and factor > 0):
            raise SectionError(f"A section is scaled by a factor above 0; {factor!r} is not.")
        g = self.g
        k = factor
        return Section((g[0] * k, g[1] * k, g[2] * k, g[3] * k, g[4] * k, g[5] * k, g[6] * k, g[7] * k))

    def widened(self, by: float) -> Section:
        """Return the section with straight runs of a length [mm] let into its top and bottom, 0 or more.

        Raises SectionError when that is below 0.
        """
        if not (isfinite(by) and by >= 0):
            raise SectionError(f"A section is widened by 0 mm or more; {by!r} is not.")
        g = self.g
        return Section((g[0] + by, *g[1:])) if by else self

    def resized(self, width: float | None = None, thickness: float | None = None) -> Section:
        """Return a square, flat or the like made to a new width or thickness [mm]; its corners stay.

        Raises SectionError where that makes no sense (a round, a hexagon) or leaves no room for the corners.
        """
        g = list(self.g)
        boxy = (g[WIDTH] > 0 or g[THICKNESS] > 0) and not any(g[4:])
        if not boxy:
            raise SectionError(f"{self} has no width and thickness that change one without the other.")
        corners = 2 * (g[DIAMOND] + g[DISC])
        for edge, name, size in ((WIDTH, "width", width), (THICKNESS, "thickness", thickness)):
            if size is None:
                continue
            if not (isfinite(size) and size > 0):
                raise SectionError(f"The {name} must be more than 0 mm; it is {size!r}.")
            if size < corners:
                raise SectionError(
                    f"A {name} of {size:g} mm leaves no room for the corners, {corners:g} mm in all."
                )
            g[edge] = size - corners
        return Section((g[0], g[1], g[2], g[3], g[4], g[5], g[6], g[7]))

    def receded(self, depth: float) -> Section:
        """Return what is left when scale has taken a depth [mm] off the surface all round.

        Round, square, flat, hexagon, octagon and triangle: the inner parallel body, so every size across goes
        down by twice the depth. Rounded: the corner radius first. Chamfered: the chamfer by (2-√2)·depth.
        Half-round: the one whose area is less by depth × perimeter, to first order. Other blends: width and
        thickness down by twice the depth. A tube loses outside only. Never below nothing.

        Raises SectionError when the depth is below 0.
        """
        if not (isfinite(depth) and depth >= 0):
            raise SectionError(f"A depth of scale is 0 mm or more; {depth!r} is not.")
        return Section(recession.receded(self.g, depth)) if depth else self

    def outline(self, points_per_arc: int = 16) -> list[tuple[float, float]]:
        """Return the outside as a closed counter-clockwise polygon (y, z) [mm] about the centroid.

        An arc is a quarter turn. A point gives one corner, an edge two.
        """
        return outlines.outline(self.g, points_per_arc)

    def bore_outline(self, points_per_arc: int = 16) -> list[tuple[float, float]]:
        """Return a tube's hole as a clockwise polygon [mm] about the centroid; empty for solid bar."""
        return outlines.bore_outline(self.g, points_per_arc)

    def to_json(self) -> dict[str, object]:
        """Return `{"shape": "flat", "width": 30, "thickness": 8}`; a blend gives its weights by name."""
        return section_json(self.g)

    @classmethod
    def from_json(cls, fields: object) -> Section:
        """Return the section of a JSON object.

        Raises SectionError naming the field at fault.
        """
        return cls(read_json(fields))

    def is_close(self, other: Section, tolerance: float = 1e-9) -> bool:
        """Whether every weight is the same to a tolerance [mm]."""
        return all(abs(a - b) <= tolerance for a, b in zip(self.g, other.g, strict=True))

    def __str__(self) -> str:
        return wording.METRIC.section(self)


_POINT = Section(NOTHING)
