"""Whether enough metal is left, and not too much length, for work to go on: else it is refused."""

from __future__ import annotations

from procedures.engine.finding import Unworkable, stop

from .branch import Branch
from .segment import Segment

LEAST_RUN = 0.001  # mm: nothing shorter could be told from nothing
LENGTH_LIMIT = 100_000.0  # mm: no bar is longer


def check_length(branch: Branch, length: float) -> None:
    """Refuse a worked run of a branch that comes to a length [mm] no bar has. Raises Unworkable."""
    if length < LEAST_RUN:
        raise Unworkable(
            stop(
                "shape.no_length_left",
                "The metal of this run of {branch} is too little for that section: it comes to no length.",
                hint="Choose a smaller section, or a longer run.",
                branch=branch.said,
                field="where",
                source="geometry",
            )
        )
    if length > LENGTH_LIMIT:
        raise Unworkable(
            stop(
                "shape.no_end_of_it",
                "This run of {branch} would come to {long:length}; no bar is longer than {most:length}.",
                hint="Choose a larger section, or a shorter run.",
                branch=branch.said,
                long=length,
                most=LENGTH_LIMIT,
                field="where",
                source="the longest bar reckoned with here",
            )
        )


def left_by_scale(segment: Segment, depth: float) -> Segment:
    """Return what scale of this depth [mm] leaves of a segment. Raises Unworkable where that is nothing."""
    slim = segment.receded(depth)
    if slim.volume <= 0:
        raise Unworkable(
            stop(
                "scale.burnt_away",
                "Scale {depth:length} deep takes all of {section:section}.",
                hint="Plan fewer heats, or a fire that scales less.",
                depth=depth,
                section=segment.start,
                source="geometry",
            )
        )
    return slim
