"""What a view of a piece is made of: silhouettes, the lines to be drawn, and what was worked. All in mm."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from .facets import Facet, Kind
from .views import Line, View

Seen = Literal["outline", "edge", "hidden"]
EPS = 0.02  # mm: polygons are taken this much smaller, so that lines which only touch are not lost


@dataclass(frozen=True)
class Stroke:
    """A line of a view [mm] and how it is to be drawn."""

    kind: Seen
    worked: bool
    line: Line


@dataclass
class Scene:
    """A piece in one view."""

    view: View
    facets: list[Facet] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    tones: list[Line] = field(default_factory=list)  # closed lines round what was worked

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least x and y, most x and y of the metal [mm]."""
        boxes = [one.box for one in self.facets]
        if not boxes:
            return 0.0, 0.0, 0.0, 0.0
        return (
            min(one[0] for one in boxes),
            min(one[1] for one in boxes),
            max(one[2] for one in boxes),
            max(one[3] for one in boxes),
        )


@dataclass
class Cap:
    """A line across an end of a branch, or between two of its segments."""

    owner: Facet
    kind: Kind
    line: Line
    meets: str = ""  # "start" or "end" where children hang there: they take their share of it
    faces_away: bool = False
