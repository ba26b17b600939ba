"""What to say of marks that a step has moved."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import TOUCH

from .finding import Finding, caution


def marks_run_out(before: Piece, after: Piece) -> Iterator[Finding]:
    """Warn of marks that stay a distance from one end, where a branch got shorter than that distance."""
    for branch in after.branches:
        held_by_an_end = [one for one in branch.marks if one.holds != "metal"]
        if not held_by_an_end or not before.has_branch(branch.name):
            continue
        earlier = before.branch(branch.name)
        for mark in held_by_an_end:
            was = earlier.mark(mark.name)
            if was is None or was.holds != mark.holds:
                continue
            held = was.at if mark.holds == "start" else earlier.length - was.at
            if held > branch.length + TOUCH:
                yield caution(
                    "place.mark_ran_out",
                    "Mark {mark} stays {held:length} from the {end} of {branch}, {long:length} long now.",
                    hint="It is taken to lie at the other end: put it again where it is wanted.",
                    mark=mark.name,
                    held=held,
                    end=mark.holds,
                    branch=branch.said,
                    long=branch.length,
                )
