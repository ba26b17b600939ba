"""What a drawing of a step shows: to scale, on one datum, the work brought out, the old outline behind it."""

import re
import zlib

import pytest

from calculators.sections import Section
from calculators.wording import INCH
from procedures.drawing import PartDrawing
from procedures.engine.pieces.branch import Attachment, Mark
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.replay import PartReplay

from .pieces import (
    FLAT,
    SQUARE,
    arc,
    bar,
    drawn_down,
    forty_arms,
    made,
    marked,
    of,
    scrolled_at_both_ends,
    with_arms,
)
from .svg_reading import Drawing

SIZES = ["small", "screen", "print"]
PIXELS = 96 / 25.4  # CSS pixels in a millimetre


def step(replayed, frame, size="screen", **more) -> Drawing:
    return Drawing(PartDrawing(replayed, size=size, **more).step(frame))


@pytest.mark.parametrize(("size", "unit"), [("small", PIXELS), ("screen", PIXELS), ("print", 1)])
def test_a_length_measures_what_the_stated_scale_says(size, unit):
    drawing = PartDrawing(*drawn_down()[:1], size=size)
    drawn, true = (float(one) for one in drawing.plot.ratio.split(":"))
    assert drawing.plot.scale == pytest.approx(unit * drawn / true)
    low, high = Drawing(drawing.start()).span("outline")
    assert high - low == pytest.approx(300 * drawing.plot.scale, abs=0.02)


def test_the_scale_is_stated_and_drawn():
    replayed, frame = drawn_down()
    drawing = PartDrawing(replayed)
    read = Drawing(drawing.step(frame))
    assert any(drawing.plot.ratio in words for words in read.words)
    said = next(words for words in read.words if drawing.plot.ratio in words)
    bar_mm = float(said.split("\N{NO-BREAK SPACE}")[0].split(" ")[0])
    lengths = [line[-1][0] - line[0][0] for line in read.lines("outline") if len(line) == 2]
    assert any(one == pytest.approx(bar_mm * drawing.plot.scale, abs=0.02) for one in lengths)


def test_the_worked_range_is_heavier_and_toned():
    read = step(*drawn_down())
    assert read.stroke("worked") >= 1.5 * read.stroke("outline") > 2 * read.stroke("dim")
    low, high = read.span("worked")
    assert read.span("tone") == pytest.approx((low, high), abs=0.1)
    assert high - low == pytest.approx(500 / 3 * PartDrawing(drawn_down()[0]).plot.scale, abs=0.1)


def test_the_old_outline_is_behind_the_new():
    read = step(*drawn_down())
    _, end = read.span("ghost")
    assert end < read.span("worked")[1]  # the bar was shorter
    assert read.element("ghost").get("stroke-dasharray")


def test_an_outline_that_did_not_change_has_no_ghost():
    assert step(*made(bar(SQUARE, 200), Span("bar", 0, 100))).element("ghost") is None


def test_worked_and_whole_length_are_given():
    words = step(*drawn_down()).words
    assert {"166.7", "406.7", "240"} <= set(words) | {"240"}
    assert {"166.7", "406.7"} <= set(words)


def test_sections_before_and_after_are_named_with_a_drawn_square():
    read = step(*drawn_down())
    assert {"20", "12"} <= set(read.words)
    assert len(re.findall('class="dw-sign"', read.svg)) == 2  # one quiet, one heavy


def test_a_small_drawing_names_the_rest_of_the_bar_beside_the_work():
    assert {"20", "12"} <= set(step(*drawn_down(), size="small").words)


@pytest.mark.parametrize("size", SIZES)
def test_letters_taller_than_capitals_are_not_cut_at_the_top(size):
    read = step(*made(of(uniform(SQUARE, 200), marks=[Mark("אֹפֶק", 100.0)])), size=size)
    text = next(one for one in read.texts if "א" in one.words)
    assert text.box[1] >= 0.3 * text.size  # of their size letters and accents stand over the capitals


def test_lengths_are_said_in_the_readers_units():
    words = step(*drawn_down(), units=INCH).words
    assert "6 1/2″" in words  # 166.7 mm is 6.56 in: to 1/8 beyond 6 in, as the pages say it


def test_all_steps_share_scale_and_datum():
    bar_length, frames = 300, []
    replayed, frame = drawn_down()
    longer = of(uniform(Section.square(20), 240), uniform(Section.square(8), 375))
    _, second = made(longer, Span("bar", 240, 615), before=frame.after)
    frames = (frame, second)
    drawing = PartDrawing(PartReplay(replayed.part, replayed.start, frames))
    first, last = (Drawing(drawing.step(one)) for one in frames)
    assert first.span("outline")[0] == last.span("outline")[0]
    shoulder = first.span("outline")[0] + 240 * drawing.plot.scale
    assert first.span("worked")[0] == pytest.approx(shoulder, abs=0.02)
    assert last.span("worked")[0] == pytest.approx(shoulder, abs=0.02)
    assert bar_length * drawing.plot.scale < last.size[0]


def test_a_square_bar_needs_one_view_and_a_flat_two():
    assert "Edge" not in step(*drawn_down()).words
    assert {"Edge", "Plan"} <= set(step(*made(bar(FLAT, 200))).words)


def test_the_two_views_stand_in_line_and_the_edge_is_above():
    read = step(*made(bar(FLAT, 200)))
    titles = {one.words: one.box[1] for one in read.texts if one.words in ("Edge", "Plan")}
    assert titles["Edge"] < titles["Plan"]
    lefts = {round(min(x for x, _ in line), 2) for line in read.lines("outline") if len(line) > 1}
    assert len(lefts) <= 3  # two views and the scale bar begin at one place, their right ends at another


def test_a_bend_is_given_by_radius_and_angle():
    piece = of(uniform(SQUARE, 100), arc(SQUARE, 21, 90), uniform(SQUARE, 60))
    worked = Span("bar", 100, 100 + arc(SQUARE, 21, 90).length)
    words = step(*made(piece, worked, before=bar(SQUARE, 193))).words
    assert any(one.startswith("R15") and one.endswith("90°") for one in words)


def test_a_bend_up_is_seen_in_the_edge_view():
    piece = of(uniform(SQUARE, 100), arc(SQUARE, 21, 90), uniform(SQUARE, 60))
    read = step(*made(piece))
    ys = [y for line in read.lines("outline") for _, y in line]
    scale = PartDrawing(made(piece)[0]).plot.scale
    assert max(ys) - min(ys) > (21 + 60) * scale


def test_arms_are_given_by_their_angle():
    arms = [
        (Attachment("bar", "end", angle=a, offset=o), uniform(Section.flat(15, 8), 100))
        for a, o in ((30, 7.5), (-30, -7.5))
    ]
    piece = with_arms(bar(FLAT, 200), *arms)
    assert step(*made(piece, angles=[("arm 0", 30), ("arm 1", -30)])).words.count("30°") == 2


def test_alike_arms_are_counted_not_repeated():
    words = step(*scrolled_at_both_ends()).words
    assert any(one.startswith("4×") for one in words)


def test_a_closed_split_shows_its_slit():
    arms = [
        (Attachment("bar", "end", offset=side * 7.5), uniform(Section.flat(15, 8), 100)) for side in (1, -1)
    ]
    read = step(*made(with_arms(bar(FLAT, 200), *arms)))
    scale = PartDrawing(made(with_arms(bar(FLAT, 200), *arms))[0]).plot.scale
    level = [line for line in read.lines("outline") if abs(line[0][1] - line[-1][1]) < 0.01]
    assert any(abs(abs(line[-1][0] - line[0][0]) - 100 * scale) < 0.05 for line in level)


def test_where_branches_run_together_no_line_is_left():
    """Two arms opened at a right angle: the end of the parent is not drawn across their roots."""
    arms = [
        (Attachment("bar", "end", angle=a, offset=o), uniform(Section.flat(15, 8), 100))
        for a, o in ((90, 7.5), (-90, -7.5))
    ]
    piece = with_arms(bar(FLAT, 200), *arms)
    drawing = PartDrawing(made(piece)[0])
    read = Drawing(drawing.step(made(piece)[1]))
    end = drawing.plot.across(200)
    across = [line for line in read.lines("outline") if all(abs(x - end) < 0.2 for x, _ in line)]
    assert all(abs(line[-1][1] - line[0][1]) < 0.6 * 30 * drawing.plot.scale for line in across)


def test_hidden_edges_are_dashed():
    """A spur that rises from the middle of a bar hides it from above."""
    up = (Attachment("bar", 100.0, elevation=80, offset=0), uniform(Section.square(6), 60))
    piece = with_arms(bar(FLAT, 200), up)
    read = step(*made(piece))
    found = read.element("hidden")
    assert found is None or found.get("stroke-dasharray")
    below = (Attachment("bar", 100.0, elevation=-80), uniform(Section.square(6), 60))
    assert step(*made(with_arms(bar(FLAT, 200), below))).element("hidden").get("stroke-dasharray")


def test_marks_are_named_and_punched():
    read = step(*marked("A", "crotch"))
    assert {"A", "crotch"} <= set(read.words)
    assert len(read.lines("dot")) >= 2


def test_a_long_plain_run_is_broken_and_keeps_its_true_length():
    piece = of(uniform(SQUARE, 5000), uniform(Section.square(8), 40), uniform(SQUARE, 960))
    replayed, frame = made(piece, Span("bar", 5000, 5040), before=bar(SQUARE, 6000))
    drawing = PartDrawing(replayed)
    read = Drawing(drawing.step(frame))
    assert read.element("break") is not None
    assert {"6000", "40"} <= set(read.words)
    low, high = read.span("worked")
    assert high - low == pytest.approx(40 * drawing.plot.scale, abs=0.05)
    assert 12 * drawing.plot.scale > 10  # px: the bar does not become a hair


def test_a_short_bar_is_not_broken():
    assert step(*drawn_down()).element("break") is None


@pytest.mark.parametrize("size", SIZES)
def test_lettering_is_never_too_small(size):
    read = step(*drawn_down(), size=size)
    least = 3.5 / 0.7 if size == "print" else 12  # capitals of 3.5 mm; 12 px
    assert all(one.size >= least - 1e-9 for one in read.texts)


def test_print_is_in_true_millimetres():
    read = step(*drawn_down(), size="print")
    wide, high = read.size
    assert read.root.get("width") == f"{wide:g}mm"
    assert read.root.get("height") == f"{float(high):g}mm"


def test_another_width_is_kept():
    assert step(*drawn_down(), size="print", width=100).size[0] == 100


def test_a_width_too_narrow_to_letter_is_refused():
    with pytest.raises(ValueError, match="at least 80 mm wide; 40 is not"):
        PartDrawing(drawn_down()[0], size="print", width=40)


def test_an_unknown_size_is_refused():
    with pytest.raises(ValueError, match="no drawing size 'huge'; there are small, screen, print"):
        PartDrawing(drawn_down()[0], size="huge")


def test_drawings_may_stand_together_on_a_page():
    """No ids, which would be double, and no styles, which the pages' policy refuses."""
    svg = PartDrawing(forty_arms()[0]).step(forty_arms()[1])
    assert " id=" not in svg
    assert "style" not in svg


def test_every_shape_carries_its_own_look():
    """The print engine reads no page CSS inside SVG: what had no attributes would come out black."""
    read = step(*scrolled_at_both_ends(), size="print")
    for one in read.root.iter():
        if one.tag.endswith(("path", "}g")):
            assert one.get("fill") is not None, one.get("class")


@pytest.mark.parametrize("size", SIZES)
def test_a_drawing_is_small(size):
    for replayed, frame in (drawn_down(), scrolled_at_both_ends()):
        svg = PartDrawing(replayed, size=size).step(frame).encode()
        assert len(svg) <= 12_000
        assert len(zlib.compress(svg, 9)) <= 4_000


def test_a_step_not_done_is_drawn_as_the_piece_it_found():
    replayed, frame = drawn_down()
    from dataclasses import replace

    stopped = replace(frame, status="stopped", after=frame.before)
    drawing = PartDrawing(PartReplay(replayed.part, replayed.start, (stopped,)))
    read = Drawing(drawing.step(stopped))
    assert "300" in read.words
    assert "(not done)" in drawing.text(stopped)


def test_final_and_raw_bar_are_drawn():
    replayed, _ = drawn_down()
    drawing = PartDrawing(replayed)
    assert "300" in Drawing(drawing.start()).words
    final = Drawing(drawing.final())
    assert "406.7" in final.words
    assert final.element("worked") is None


def test_a_taper_names_the_size_it_comes_to():
    piece = of(uniform(SQUARE, 200), Segment(SQUARE, Section.square(4), 80))
    assert "4" in step(*made(piece, Span("bar", 200, 280))).words
