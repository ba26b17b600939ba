"""Length of wire or thin rod wrapped round a bar in turns."""

from __future__ import annotations

from math import hypot, pi

from calculators.formula import Answer, Cite, Formula, given


def turn_length(perimeter: float, wire: float, pitch: float) -> float:
    """Return the length [mm] of one turn of wire of a diameter [mm] round a core's perimeter [mm].

    Its centre keeps half a diameter away from any core that is nowhere hollow: π · wire more than the core.
    """
    return hypot(perimeter + pi * wire, pitch)


class WrapLength(Formula):
    """Length of wire in a wrap of so many turns.

        L = n √((P + π · d)² + p²) + tails,  P = π · D for a round core

    Args:
        perimeter: P, of the core [mm]
        wire: d, diameter of the wire [mm]
        turns: n
        pitch: p, from one turn to the next [mm]; the diameter of the wire where they lie close
        tails: both together [mm]

    Returns:
        Length [mm], the length of one turn, and the length of bar covered.

    Valid for a core that is nowhere hollow.

    Raises:
        ValueError: a size is zero or less.

    >>> answer = WrapLength(perimeter=37.699, wire=4, turns=8, pitch=4).answer()
    >>> round(answer.value, 1), round(answer["one turn"].value, 2)
    (403.4, 50.42)
    """

    id = "wrap_length"
    title = "Wrap: the wire it takes"
    source = Cite("DERIVED")
    group = "wound"
    words = ("wrap", "wire wrap", "wind round", "binding")
    result = "Length of wire"
    operations = ("wrap",)
    any_unit = True

    perimeter: float = given("Core", "mm", above=0, of="perimeter", example=("round 12", "round 1/2"))
    wire: float = given("Wire", "mm", above=0, example=("4", "1/8"))
    turns: float = given("Turns", "", above=0, at_most=1000, example=("8", "8"))
    pitch: float = given("Pitch", "mm", above=0, example=("4", "1/8"))
    tails: float = given("Tails together", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm]."""
        one = turn_length(self.perimeter, self.wire, self.pitch)
        further = (
            Answer(one, "mm", f"√(({self.perimeter:g} + π × {self.wire:g})² + {self.pitch:g}²)", "one turn"),
            Answer(self.turns * self.pitch, "mm", f"{self.turns:g} × {self.pitch:g}", "covers"),
        )
        working = f"{self.turns:g} × √(({self.perimeter:g} + π × {self.wire:g})² + {self.pitch:g}²)" + (
            f" + {self.tails:g}" if self.tails else ""
        )
        return Answer(self.turns * one + self.tails, "mm", working, further=further)
