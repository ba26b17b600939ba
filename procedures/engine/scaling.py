"""What the scale of a step's heats takes, of the piece and of the other parts in the fire with it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment

from .document import Step
from .operation import Operation
from .scale import Estimate, ScaleHabit


@dataclass(frozen=True)
class Scaling:
    """The scale to reckon with; none in the nominal view."""

    scale: ScaleHabit | None
    estimate: Estimate

    def take(self, piece: Piece, operation: Operation, step: Step, spans: tuple[Span, ...]) -> Piece:
        """Return the piece after the scale of the step's heats, the forging heats on these ranges."""
        if self.scale is None:
            return piece
        welded = operation.welded(piece)
        heat = operation.scales_at(piece)
        heats = {} if heat is None else {"temperature": heat}
        forging = self.scale.forging_loss(step.heats, self.estimate, **heats)
        welding = self.scale.welding_loss(step.welding_heats, piece.material, self.estimate)
        others, uses = operation.brought(piece), operation.uses(piece)
        if step.heats:
            piece = _scaled(piece, spans, others, forging, uses)
        if step.welding_heats:
            piece = _scaled(piece, welded, operation.brought_to_weld(piece), welding, uses)
        return piece


def _scaled(
    piece: Piece,
    spans: tuple[Span, ...],
    others: Mapping[str, tuple[Span, ...]],
    depth_of: Callable[[Segment], float],
    uses: Mapping[str, int],
) -> Piece:
    """Return the piece after scale on its own ranges, and on those of the other parts in the fire with it.

    What another part loses is lost here, as often as the step takes it: it comes in whole and scales in
    this step.
    """
    for span in spans:
        piece = piece.receded(span, depth_of)
    for key, ranges in others.items():
        whole = slim = piece.bench[key]
        for span in ranges:
            slim = slim.receded(span, depth_of)
        lost = (whole.volume - slim.volume) * uses.get(key, 1)
        piece = replace(piece, bench={**piece.bench, key: slim}, received=piece.received + lost)
        piece = piece.losing("scale", lost)
    return piece
