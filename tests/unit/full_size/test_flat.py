"""Holes and spread shapes laid out straight, and the whole piece."""

import pytest

from procedures.full_size import FullSizeError
from tests.unit.engine.documents import a_step

from .laying import arcs, demo, laid_out, lines, words


def drilled(at: float, size: float = 6) -> dict:
    return a_step("drill", where=[{"on": "bar", "datum": "start", "offset": at}], size=size)


def holed(*places: float, **more):
    found = laid_out(*(drilled(at) for at in places), side=20, length=200, **more)
    assert found.stage.last == len(places), [one.code for one in found.stage.replayed.frames[-1].findings]
    return found.pattern("holes-1")


def test_holes_are_where_they_are_drilled_and_of_their_size():
    pattern = holed(30, 120)
    assert [(one.centre, one.radius) for one in arcs(pattern, "outline")] == [((30, 0), 3), ((120, 0), 3)]
    said = words(pattern)
    assert any(one.endswith("ø 6 mm") for one in said)
    assert "30 mm (170 mm from the end)" in said


def test_every_hole_has_a_cross_at_its_centre():
    pattern = holed(30)
    crosses = [one for one in lines(pattern, "centre") if len(one.spots) == 2]
    centres = [tuple((a + b) / 2 for a, b in zip(*one.spots, strict=True)) for one in crosses]
    assert centres.count(pytest.approx((30, 0))) == 2


def test_bar_without_holes_has_no_layout():
    assert laid_out().pattern("holes-1") is None


def test_leaf_is_as_wide_as_the_replay_has_it():
    found = demo("door_hinge", "strap")
    pattern = found.pattern("leaf-1")
    widest = max(one.widest.width for one in found.stage.piece.root.segments if one.bulge > 5)
    ys = [y for _, y in lines(pattern, "outline")[0].spots]
    assert max(ys) - min(ys) == pytest.approx(widest, abs=0.01)


def test_whole_piece_is_offered_and_not_ticked():
    views = [one for one in demo("coat_hook", "hook").patterns if one.key.startswith("whole")]
    assert [one.key for one in views] == ["whole-edge", "whole-plan"]
    assert not any(one.chosen for one in views)


@pytest.mark.parametrize("step", [-1, 3, 99])
def test_step_that_is_not_there_is_refused_in_words(step):
    with pytest.raises(FullSizeError, match=r"Bar has steps 0 to 1 to choose from"):
        laid_out(drilled(30), step=step)


def test_pattern_that_is_not_there_is_refused_with_what_there_is():
    with pytest.raises(FullSizeError, match=r"Bar, when made, has no 'bend-1'; it has strip, holes-1"):
        laid_out(drilled(30)).chosen(["bend-1"])
