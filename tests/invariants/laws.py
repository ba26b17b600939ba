"""The laws of a step that came about: what holds of the piece it left, whatever was done."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calculators.wording import INCH, METRIC
from procedures.engine.frames import Frame
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Spiral
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import Segment

BALANCE = 1e-6  # of the metal that went in
SLIGHT = 2e-6  # mm
# A mark may be put somewhere else, and a welded fold lays the marks of flap and seat among each other.
MIXING = {"mark_out", "weld_fold"}


def check_frame(frame: Frame, bars: dict[str, float]) -> None:
    """Check a step; `bars` are the lengths [mm] of the starting bars by name."""
    check_words(frame)
    if frame.status != "done":
        assert frame.after == frame.before
        return
    piece = frame.after
    whole = piece.start_volume + piece.received + sum(abs(one.volume) for one in piece.losses)
    assert abs(piece.imbalance) <= BALANCE * whole
    assert frame.lost >= -BALANCE * whole or frame.step.operation == "inspect"
    check_tree(piece)
    for branch in piece.branches:
        check_branch(branch)
        check_memory(branch, bars)
    check_order(frame)


def check_words(frame: Frame) -> None:
    """All that a step says can be said in either units."""
    sentences = [one for one in (frame.instruction, frame.check) if one]
    for units in (METRIC, INCH):
        for text in (one.text(units) for one in (*sentences, *frame.findings)):
            assert text.strip()
            assert not {"None", "nan", "inf"} & set(text.replace(".", " ").split()), text


def check_tree(piece: Piece) -> None:
    """Every branch hangs on one before it, and groups, joints and the work lie on branches that are there."""
    lengths: dict[str, float] = {}
    for branch in piece.branches:
        assert branch.name not in lengths
        if attached := branch.attached:
            assert attached.parent in lengths
            if not isinstance(attached.at, str):
                assert -SLIGHT <= attached.at <= lengths[attached.parent] + SLIGHT
        lengths[branch.name] = branch.length
    assert [one.attached is None for one in piece.branches] == [True] + [False] * (len(lengths) - 1)
    assert {name for names in piece.groups.values() for name in names} <= set(lengths)
    for joint in piece.joints:
        for place in joint.places:
            assert -SLIGHT <= place.at <= lengths[place.branch] + SLIGHT
    for span in piece.worked:
        assert -SLIGHT <= span.low <= span.high <= lengths[span.branch] + SLIGHT


def check_branch(branch: Branch) -> None:
    """Segments are bodies, and marks and holes lie on the branch, in order and each once."""
    assert branch.segments
    for segment in branch.segments:
        check_segment(segment)
    for one in (*branch.marks, *branch.features):
        assert -SLIGHT <= one.at <= branch.length + SLIGHT
    at = [one.at for one in branch.marks]
    assert at == sorted(at)
    for names in ([one.name for one in branch.marks], [one.name for one in branch.features]):
        assert len(set(names)) == len(names)


def check_segment(segment: Segment) -> None:
    assert segment.length > 0
    assert segment.volume >= 0
    for section in (segment.start, segment.end):
        assert section.area >= 0
        assert min(section.g) >= -1e-12
        assert section.bore <= section.width + SLIGHT
    if isinstance(segment.path, Arc | Spiral):
        assert segment.path.length == pytest.approx(segment.length, abs=SLIGHT, rel=BALANCE)


def check_memory(branch: Branch, bars: dict[str, float]) -> None:
    """All metal lay somewhere on a starting bar."""
    for segment in branch.segments:
        known = sorted((one.low, one.high) for one in segment.origin)
        assert known, "metal from nowhere"
        reached = known[0][1]
        assert known[0][0] == pytest.approx(0, abs=BALANCE)
        for _, (low, high) in pairwise(known):
            assert low <= reached + BALANCE
            reached = max(reached, high)
        assert reached == pytest.approx(1, abs=BALANCE)
    for share in (0.0, 0.37, 1.0):
        for name, at in branch.bar_positions(branch.length * share):
            assert -SLIGHT <= at <= bars[name] + SLIGHT


def check_order(frame: Frame) -> None:
    """Marks that ride on the metal never overtake each other on a branch that goes on."""
    placed = {frame.step.params.get("mark"), "shoulder"}  # steps may put a mark of their own
    for branch in frame.after.branches:
        if not frame.before.has_branch(branch.name) or frame.step.operation in MIXING:
            continue
        earlier = frame.before.branch(branch.name)
        now = {one.name: one.at for one in branch.marks if one.holds == "metal" and one.name not in placed}
        kept = [now[one.name] for one in earlier.marks if one.holds == "metal" and one.name in now]
        assert kept == sorted(kept) or kept == sorted(kept, reverse=True)
