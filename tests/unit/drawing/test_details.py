"""A run too short to be read is drawn again beside it: larger, to its own scale, within its circle."""

import math
import re

import pytest

from calculators.sections import Section
from procedures.drawing import PartDrawing
from procedures.engine.pieces.branch import Mark
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform

from .pieces import SQUARE, arc, drawn_down, made, of
from .svg_reading import NS, Drawing, points
from .test_crowded_drawings import SIZES, assert_legible

PIXELS = 96 / 25.4  # CSS pixels in a millimetre
FLAT = Section.flat(25, 8)
CIRCLE = re.compile(r"M(\S+) (\S+)a(\S+) \3 0 1 0 ")


def scarfed(*marks: Mark):
    """25 × 8 × 600 with its last 14 mm thinned to 3 mm."""
    thin = Segment(FLAT, Section.flat(25, 3), 14)
    after = of(uniform(FLAT, 586), thin, marks=marks)
    return made(after, Span("bar", 586, 600), before=bar(FLAT, 600))


def drawn(replayed, frame, size="screen", **more) -> Drawing:
    return Drawing(PartDrawing(replayed, size=size, **more).step(frame))


def detail(read: Drawing, kind: str) -> list[list[tuple[float, float]]]:
    group = next(one for one in read.root.iter(f"{NS}g") if one.get("class") == "dw-detail")
    found = [one.get("d") for one in group if one.get("class") == f"dw-{kind}"]
    return [line for data in found for line in points(data)]


def title(read: Drawing) -> str:
    return next((words for words in read.words if re.fullmatch(r"[U-Z] \(\S+\)", words)), "")


def circles(read: Drawing) -> list[tuple[float, float, float]]:
    """(centre, radius) of the circles in thin line, the smaller first."""
    found = []
    for left, y, radius in CIRCLE.findall(read.element("dim").get("d")):
        found.append((float(left) + float(radius), float(y), float(radius)))
    return sorted(found, key=lambda one: one[2])


@pytest.mark.parametrize("size", SIZES)
def test_a_short_run_is_drawn_again_at_the_scale_that_is_said(size):
    read = drawn(*scarfed(), size=size)
    ratio = re.search(r"\((\S+):(\S+)\)", title(read))
    scale = float(ratio[1]) / float(ratio[2]) * (1 if size == "print" else PIXELS)
    xs = [x for line in detail(read, "tone") for x, _ in line]
    assert max(xs) - min(xs) == pytest.approx(14 * scale, abs=0.3)


@pytest.mark.parametrize("size", SIZES)
def test_it_is_at_least_twice_as_large_and_no_wider_than_half_the_sheet(size):
    drawing = PartDrawing(scarfed()[0], size=size)
    small, large = circles(Drawing(drawing.step(scarfed()[1])))
    assert large[2] >= 2 * small[2]
    assert 2 * large[2] < drawing.sheet.width / 2


@pytest.mark.parametrize("size", SIZES)
def test_nothing_of_it_leaves_its_circle(size):
    read = drawn(*scarfed(), size=size)
    x, y, radius = circles(read)[1]
    kinds = ("tone", "outline", "worked", "worked-edge", "ghost", "hidden")
    spots = [spot for kind in kinds for line in detail(read, kind) for spot in line]
    assert len(spots) > 8
    assert all(math.dist(spot, (x, y)) <= radius + 0.1 for spot in spots)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("turned", [False, True])
def test_neither_circle_leaves_the_sheet_and_no_words_are_struck(size, turned):
    read = drawn(*scarfed(), size=size, turned=turned)
    wide, high = read.size
    assert_legible(read, size)
    for x, y, radius in circles(read):
        assert radius <= x <= wide - radius
        assert radius <= y <= high - radius


def test_it_shows_the_view_in_which_the_run_takes_its_shape():
    read = drawn(*scarfed())
    ys = [y for line in detail(read, "tone") for _, y in line]
    assert max(ys) - min(ys) == pytest.approx(8 * PIXELS, abs=0.3)  # the edge: 8 thick, not 25 wide


def test_a_sharp_bend_in_a_long_bar_is_shown_as_a_bend():
    bent = arc(SQUARE, 9, 90)
    piece = of(uniform(SQUARE, 400), bent, uniform(SQUARE, 300))
    read = drawn(*made(piece, Span("bar", 400, 400 + bent.length), before=bar(SQUARE, 714)))
    assert title(read)
    assert len({round(y) for line in detail(read, "worked") for _, y in line}) > 4


def test_a_run_that_can_be_read_has_none():
    read = drawn(*drawn_down())
    assert not title(read)
    assert "dw-detail" not in read.svg


def test_work_on_the_whole_bar_has_none():
    assert not title(drawn(*made(bar(FLAT, 600), Span("bar", 0, 600))))


def test_its_letter_is_none_that_a_mark_has():
    plain = drawn(*scarfed())
    marked = drawn(*scarfed(Mark("X", 100.0), Mark("y", 200.0)))
    assert title(plain).startswith("X ")
    assert title(marked).startswith("Z ")
    assert marked.words.count("Z") == 1


def test_the_words_of_the_drawing_tell_of_it():
    read = drawn(*scarfed())
    assert f"Detail X shows the work at {title(read)[3:-1]}." in read.root.get("aria-label")
