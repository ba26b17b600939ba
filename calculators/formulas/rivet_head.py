"""Length of shank that a rivet or a tenon needs beyond the parts for its head."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from calculators.figure import Figure
from calculators.figures.heads import rivet
from calculators.formula import Answer, Cite, Formula, GivenError, given

SHORT, LONG = 0.60, 1.35  # of a full head's metal, between which it can be headed well: from memory


@dataclass(frozen=True, slots=True)
class Head:
    """A form of head, its sizes in shank diameters: across, how high it stands, the shank it takes."""

    title: str
    across: float
    height: float
    shank: float
    source: Cite

    def sizes(self, diameter: float, volume: float) -> tuple[float, float]:
        """Return (across, height) [mm] of the head that a volume [mm³] makes on a shank's diameter [mm]."""
        full = head_volume(diameter, self.shank)
        times = (max(volume, 0.0) / full) ** (1 / 3)
        return self.across * diameter * times, self.height * diameter * times


HEADS: dict[str, Head] = {
    "snap": Head("snap, also called cup", 1.6, 0.7, 1.125, Cite("BS-275", "plate 2, figure 3")),
    "pan": Head("pan", 1.6, 0.7, 1.273, Cite("BS-425", "figure 9, type 3")),
    "raised": Head("countersunk and rounded", 1.5, 0.201, 0.584, Cite("BS-275", "plate 2, figure 8")),
    "flush": Head("countersunk and flush", 2.0, 0.0, 0.667, Cite("BS-4620", "table 6")),
    "rose": Head("rose, of a few blows", 2.0, 0.5, 0.667, Cite("MEMORY", note="a cone 2 d across, ½ d high")),
}

HEAD_CHOICES = {  # what each takes, in diameters of the shank
    name: (f"{head.title[0].upper()}{head.title[1:]}: {head.shank:g} of the shank", head.shank)
    for name, head in HEADS.items()
}


def head_volume(diameter: float, shank: float) -> float:
    """Return the volume [mm³] of a head that takes so many diameters [mm] of shank."""
    return pi / 4 * diameter**3 * shank


def filling(diameter: float, hole: float, grip: float) -> float:
    """Return the volume [mm³] that fills a hole round a shank, as it swells in heading."""
    return grip * pi / 4 * (hole**2 - diameter**2)


class RivetHead(Formula):
    """Length of shank to leave standing beyond the parts, for the head and to fill the hole.

        x = c · d + g · ((D / d)² - 1)

    Args:
        diameter: d, of the shank [mm]
        hole: D, diameter of the hole [mm]
        grip: g, thickness of the parts together [mm]
        head: c, shank the head takes, in diameters: snap 1.125, pan 1.273, rounded countersunk 0.584, flush
            0.667

    Returns:
        Length standing [mm], the head's and the hole's share of it, the length of the whole shank, and the
        trade's 1½ diameters.

    Valid for a shank that fills the hole; exact by volume. A countersink counts as part of the grip. The
    standards' allowances are for the head alone.

    Raises:
        ValueError: a size is zero or less, or the hole is smaller than the shank.

    >>> answer = RivetHead(diameter=8, hole=8.5, grip=20).answer()
    >>> [round(one.value, 1) for one in (answer, *answer.further)]
    [11.6, 9.0, 2.6, 31.6, 12.0]
    """

    id = "rivet_head"
    title = "Rivet: the shank for its head"
    source = Cite("BS-275", "plate 2, figures 3 and 8", "heads; the filling derived here")
    group = "joined"
    words = ("rivet", "rivet length", "snap head", "peening a rivet")
    result = "Standing out for the head"
    operations = ("rivet",)
    any_unit = True

    diameter: float = given("Shank", "mm", above=0, example=("8", "5/16"))
    hole: float = given("Hole", "mm", above=0, example=("8.5", "11/32"))
    grip: float = given("Grip", "mm", above=0, example=("20", "3/4"))
    head: float = given("Head", "", at_least=0, at_most=4, default=1.125, choices=HEAD_CHOICES)

    def answer(self) -> Answer:
        """Return the length [mm] to leave standing."""
        d = self.diameter
        if self.hole < d:
            raise GivenError(f"A shank of {d:g} mm does not go into a hole of {self.hole:g} mm.", "hole")
        head = self.head * d
        fill = filling(d, self.hole, self.grip) / (pi / 4 * d * d)
        further = (
            Answer(head, "mm", f"{self.head:g} × {d:g}", "for the head"),
            Answer(fill, "mm", f"{self.grip:g} × (({self.hole:g} / {d:g})² - 1)", "to fill the hole"),
            Answer(self.grip + head + fill, "mm", f"{self.grip:g} + {head + fill:.4g}", "whole shank"),
            Answer(1.5 * d, "mm", f"1.5 × {d:g}", "by the rule of 1½ diameters"),
        )
        working = f"{self.head:g} × {d:g} + {self.grip:g} × (({self.hole:g} / {d:g})² - 1)"
        return Answer(head + fill, "mm", working, further=further)

    def figure(self) -> Figure:
        """Return the rivet in its hole."""
        return rivet(self.diameter, self.hole, self.grip, self.answer().value)
