"""Strips of what was measured: n is told, no mean of fewer than three, and nothing is left out."""

from datetime import date

import pytest

from calculators.wording import INCH, METRIC
from procedures.predicting import Place, Prediction, StepReading
from procedures.presenting.strips import apart_of, step_strips

SAID = Prediction(typical=150.0, low=148.0, high=152.0)
DOCUMENT = {
    "parts": [{"key": "bar", "name": "Bar", "steps": [{"key": "s1", "operation": "draw_out", "params": {}}]}]
}


def read(actual, quantity="length", said=SAID, step="s1", result=1):
    place = Place("bar", step, "run", "bar", quantity)
    return StepReading(place, actual, said, "bob", 1, result, 1, date(2026, 3, 14))


def the_strip(*values, units=METRIC, **more):
    (step,) = step_strips([read(one, **more) for one in values], DOCUMENT, units)
    (strip,) = step.strips
    return strip


@pytest.mark.parametrize(("values", "mean"), [((150,), ""), ((150, 152), ""), ((150, 151, 155), "152 mm")])
def test_mean_is_told_of_three_or_more(values, mean):
    strip = the_strip(*map(float, values))
    assert strip.mean.replace("\u202f", " ") == mean
    assert strip.number == len(values)


def test_every_reading_is_a_dot_and_a_row():
    strip = the_strip(150.0, 151.0, 149.0, 150.5, 400.0)
    assert strip.drawing.count("<circle") == 5
    assert len(strip.readings) == 5
    assert strip.apart == 1
    assert strip.drawing.count('fill="none" stroke="currentColor" stroke-width="1.5"') == 1


def test_many_in_one_place_are_counted_where_they_are_not_drawn():
    strip = the_strip(*[150.0] * 40, 160.0)
    assert "×40" in strip.drawing
    assert strip.number == 41


@pytest.mark.parametrize(
    ("values", "apart"),
    [
        ([150.0, 500.0], [False, True]),
        ([150.0, 170.0], [False, False]),
        ([1.0, 1.0, 1.0, 1.0, 1.02], [False] * 5),
        ([1.0, 1.0, 1.0, 1.0, 1.5], [False] * 4 + [True]),
    ],
)
def test_what_is_far_is_set_apart_by_the_others_or_of_a_few_by_the_plan(values, apart):
    assert apart_of(values, SAID) == apart


def test_nothing_is_set_apart_where_there_is_nothing_to_go_by():
    assert apart_of([1.0, 900.0], None) == [False, False]
    assert "Nothing is predicted." in the_strip(1.0, said=None).drawing


def test_square_that_came_square_is_told_once_and_another_twice():
    even = [read(12.0, name, Prediction(12, 12, 12)) for name in ("width", "thickness")]
    odd = [read(14.0, "width", Prediction(12, 12, 12)), read(12.0, "thickness", Prediction(12, 12, 12))]
    assert [one.label for one in step_strips(even, DOCUMENT, METRIC)[0].strips] == [
        "Worked part, size across"
    ]
    assert len(step_strips(odd, DOCUMENT, METRIC)[0].strips) == 2


def test_sizes_are_said_in_the_readers_units():
    assert the_strip(152.4, units=INCH).measured.replace("\u202f", " ") == "6 in"


def test_readings_of_a_step_that_went_come_last():
    steps = step_strips([read(1.0, step="gone"), read(150.0)], DOCUMENT, METRIC)
    assert [one.title for one in steps] == ["Step 1, Draw out", "A step that is not in this revision"]
