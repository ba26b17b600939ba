"""Drawings of hard cases and of every example: nothing overlaps, nothing leaves the sheet, none fails."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators.wording import INCH, METRIC
from procedures.drawing import PartDrawing
from procedures.drawing.reach import reach_of
from procedures.drawing.views import PLAN
from procedures.engine.catalogue import catalogue
from procedures.engine.exampling import run
from procedures.engine.pieces.pose import pose
from procedures.engine.replay import PartReplay
from tests.invariants.forging_at_random import forged_at_random

from .pieces import forty_arms, hard_cases, marked
from .svg_reading import INKED, Drawing, cross, struck_through

SIZES = ["small", "screen", "print"]
SLACK = {"small": 1.0, "screen": 1.0, "print": 0.3}  # of the sheet's own unit


@cache
def cases():
    return hard_cases()


def assert_legible(read: Drawing, size: str, *, clear: bool = True) -> None:
    """Fail if words leave the sheet, overlap or are too small; if `clear`, where lines run through them."""
    wide, high = read.size
    slack = SLACK[size]
    known = [one for one in read.texts if one.words.isprintable() and one.words.isascii()]
    for one in read.texts:
        left, top, right, foot = one.box
        assert left >= -slack, one.words
        assert top >= -slack, one.words
        assert foot <= high + slack, one.words
        if one in known:
            assert right <= wide + slack, one.words
    for one, two in combinations(known, 2):
        assert not cross(one, two, slack), (one.words, two.words)
    assert not clear or struck_through(read) == []
    least = 12 if size != "print" else 3.5 / 0.7  # px; mm, whose capitals are 3.5 mm high
    assert all(one.size >= least - 1e-9 for one in read.texts)
    for kind in (*INKED, "edge", "pattern"):
        for line in read.lines(kind):
            assert all(-slack <= x <= wide + slack and -slack <= y <= high + slack for x, y in line), kind


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", hard_cases())
def test_hard_cases_are_legible(name, size):
    replayed, frame = cases()[name]
    drawing = PartDrawing(replayed, size=size)
    assert_legible(Drawing(drawing.step(frame)), size)
    assert_legible(Drawing(drawing.mark_out()), size)


@cache
def frames(kind):
    return [run(kind, example) for example in kind.examples if not example.refused]


@pytest.mark.parametrize("units", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", catalogue().values(), ids=catalogue().keys())
def test_every_example_is_legible(kind, size, units):
    for frame in frames(kind):
        drawing = PartDrawing(PartReplay(frame.part, frame.before, (frame,)), units, size)
        svg = drawing.step(frame)
        assert_legible(Drawing(svg), size)
        assert_legible(Drawing(drawing.before(frame)), size)
        assert len(svg.encode()) <= 12_288
        assert 20 < len(drawing.text(frame)) <= 900


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", catalogue().values(), ids=catalogue().keys())
def test_every_example_is_as_long_as_its_scale_says(kind, size):
    """What is seen of the metal, less what breaks take out, is its length times the stated scale."""
    for frame in frames(kind):
        drawing = PartDrawing(PartReplay(frame.part, frame.before, (frame,)), size=size)
        read = Drawing(drawing.step(frame))
        if read.element("break") is not None or read.element("over-outline") is not None:
            continue
        drawn, true = (float(one) for one in drawing.plot.ratio.split(":"))
        scale = drawn / true * (1 if size == "print" else 96 / 25.4)
        posed = pose(frame.after)
        low, high = reach_of(posed, (PLAN,)).low, reach_of(posed, (PLAN,)).high
        metal = [one for kind in ("outline", "worked") for one in read.lines(kind)]
        foot = max(y for line in read.lines("dim") for _, y in line) - drawing.sheet.letter
        xs = [x for line in metal for x, y in line if y < foot]
        if is_straight(frame.after) and xs:
            assert max(xs) - min(xs) == pytest.approx((high - low) * scale, abs=4 * scale + 0.5)


def is_straight(piece) -> bool:
    return len(piece.branches) == 1 and all(one.is_straight for one in piece.root.segments)


def test_forty_arms_are_summed_up():
    read = Drawing(PartDrawing(forty_arms()[0]).step(forty_arms()[1]))
    assert any(words.startswith("40×") for words in read.words)
    assert any(words.startswith("40 angles from") for words in read.words)


def test_marks_that_find_no_room_are_counted():
    names = [f"A rather long name {number}" for number in range(40)]
    read = Drawing(PartDrawing(marked(*names)[0]).step(marked(*names)[1]))
    assert any("more not named here" in words for words in read.words)


def test_names_are_kept_as_text_and_cut_when_long():
    replayed, frame = cases()["names"]
    read = Drawing(PartDrawing(replayed).step(frame))
    assert '<b>&"x"' in read.words
    assert any(words.startswith("AAA") and words.endswith("…") and len(words) <= 40 for words in read.words)
    assert not any("\u202e" in words for words in read.words)


def test_a_name_read_from_right_to_left_is_kept_apart():
    replayed, frame = cases()["names"]
    read = Drawing(PartDrawing(replayed).step(frame))
    arabic = next(words for words in read.words if "علامة" in words)
    assert arabic[0] == "\N{FIRST STRONG ISOLATE}"
    assert arabic[-1] == "\N{POP DIRECTIONAL ISOLATE}"


def test_nothing_left_is_said():
    replayed, frame = cases()["nothing left"]
    assert "Nothing is left of this piece." in Drawing(PartDrawing(replayed).step(frame)).words


@settings(deadline=None, max_examples=30, suppress_health_check=[HealthCheck.too_slow])
@given(st.randoms(use_true_random=False), st.sampled_from(SIZES), st.sampled_from([METRIC, INCH]))
def test_whatever_is_forged_stays_on_its_sheet(random, size, units):
    """Bars of any name worked at random, arms, marks and parts brought in among them."""
    done = [one for one in forged_at_random(random, most=6) if one.status == "done"]
    bar = [one for one in done if one.part.key == done[-1].part.key] if done else []
    frames = tuple(replace(one, number=number) for number, one in enumerate(bar, start=1))
    if not frames:
        return
    drawing = PartDrawing(PartReplay(frames[0].part, frames[0].before, frames), units, size)
    for frame in frames:
        assert_legible(Drawing(drawing.step(frame)), size, clear=False)
        assert drawing.text(frame)
