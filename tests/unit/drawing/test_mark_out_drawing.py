"""The mark-out of the raw bar as a drawing, and the words that stand for drawings."""

import pytest

from calculators.wording import INCH
from procedures.drawing import PartDrawing
from procedures.engine.markout import bar_marks

from .pieces import drawn_down, marked, scrolled_at_both_ends
from .svg_reading import Drawing
from .test_plot import a_part, drawn

MARKS = {
    "marks": [
        {"name": "A", "on": "bar", "datum": "start", "offset": 80},
        {"name": "B", "on": "bar", "datum": "end", "offset": 25},
    ]
}


def test_every_mark_is_given_with_its_distance_and_use():
    replayed = a_part(("mark_out", MARKS), drawn("end"))
    assert [round(one.at, 1) for one in bar_marks(replayed)] == [80, 240, 275]
    words = Drawing(PartDrawing(replayed).mark_out()).words
    assert {"80", "240", "275", "A", "B"} <= set(words)
    assert any(one.endswith("Draw out") for one in words)
    assert any("300" in one for one in words)


def test_marks_stand_where_they_are_on_the_bar():
    replayed = a_part(("mark_out", MARKS), drawn("end"))
    read = Drawing(PartDrawing(replayed).mark_out())
    low, high = read.span("outline")
    scale = (high - low) / 300
    rings = sorted((min(x for x, _ in one) + max(x for x, _ in one)) / 2 for one in read.lines("mark"))
    assert rings == pytest.approx([low + at * scale for at in (80, 240, 275)], abs=0.5)


def test_a_bar_with_nothing_to_mark_is_drawn_plain():
    replayed, _ = drawn_down()
    assert Drawing(PartDrawing(replayed).mark_out()).element("outline") is not None


def test_the_words_say_sections_lengths_and_marks():
    replayed, frame = drawn_down()
    said = PartDrawing(replayed).text(frame).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert said.startswith("Step 1, Draw out.")
    assert "□20 mm for 240 mm, then □12 mm for 166.7 mm" in said
    assert "406.7 mm long" in said


def test_the_words_follow_the_readers_units():
    replayed, frame = drawn_down()
    said = PartDrawing(replayed, units=INCH).text(frame).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert "16 in long" in said


def test_the_words_name_marks():
    said = PartDrawing(marked("A", "B")[0]).text(marked("A", "B")[1])
    assert "A" in said
    assert "150" in said


def test_alike_arms_are_said_together():
    replayed, frame = scrolled_at_both_ends()
    said = PartDrawing(replayed).text(frame)
    assert "4 alike" in said
    assert "Scroll of 1.5 turns" in said
    assert "35° to the left" in said


def test_the_drawing_carries_its_words():
    replayed, frame = drawn_down()
    drawing = PartDrawing(replayed)
    read = Drawing(drawing.step(frame))
    assert read.root.get("role") == "img"
    assert read.root.get("aria-label") == drawing.text(frame)
