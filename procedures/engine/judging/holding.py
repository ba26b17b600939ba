"""What a piece is held by: which of its ends stay cold, and which tongs fit there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from calculators.number_texts import SPACE
from calculators.sections import Section
from calculators.wording import METRIC
from procedures.engine.frames import Frame
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.shaping.checks import HELD

from .deeds import free_ends, overlap

_TONGS = {"round": "Round-jaw tongs", "square": "V-bit tongs", "flat": "Box-jaw tongs"}
_OTHER = "V-bit tongs"


def cold_ends(piece: Piece, hot: Iterable[Span]) -> Iterator[Span]:
    """Yield the last 60 mm at each free end of the piece of which nothing is hot."""
    hot = tuple(hot)
    for one in free_ends(piece, HELD):
        if all(overlap(one, other) <= 0 for other in hot):
            yield one


def left_to_hold(frame: Frame) -> float:
    """Return the length [mm] that stays cold in a step, one member of a group being hot at a time."""
    hot: dict[str, float] = defaultdict(float)
    for span in frame.heated:
        hot[span.branch] += span.length
    return max(frame.total_length - max(hot.values(), default=0.0), 0.0)


def tongs_for(piece: Piece, hot: Iterable[Span]) -> str:
    """Return tongs, in words for a step, that fit the piece where it stays cold; else where it begins."""
    held = next(cold_ends(piece, hot), None)
    if held is None:
        section = piece.root.section_at(0.0)
    else:
        section = piece.branch(held.branch).section_at((held.low + held.high) / 2)
    return f"{_TONGS.get(section.shape, _OTHER)}, {_size(section)}"


def _size(section: Section) -> str:
    """Return the size of tongs as it is typed, in mm as they are sold: "12 mm", "30 × 8 mm"."""
    width, thickness = (float(round(one)) for one in (section.width, section.thickness))
    if section.shape == "flat" and width != thickness:
        said = METRIC.section(Section.flat(width, thickness))
    else:
        said = METRIC.size(max(width, thickness))
    return said.replace(SPACE, " ")
