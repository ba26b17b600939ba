"""Places as smiths say them, on a bar of 300 mm with marks at 80 and 200."""

import pytest

from calculators.sections import Section
from procedures.engine.finding import Unworkable
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Place, Position

BAR = bar(Section.square(12), 300, marks={"A": 80, "B": 200})


def span(**place):
    (found,) = BAR.spans(Place(on="bar", **place))
    return found.low, found.high


def at(**position):
    (found,) = BAR.points(Position(on="bar", **position))
    return found.at


@pytest.mark.parametrize(
    ("place", "low", "high"),
    [
        ({"datum": "whole"}, 0, 300),
        ({"datum": "start", "length": 40}, 0, 40),
        ({"datum": "start", "offset": 10, "length": 40}, 10, 50),
        ({"datum": "end", "length": 40}, 260, 300),
        ({"datum": "end", "offset": 10, "length": 40}, 250, 290),
        ({"datum": "centre", "length": 60}, 120, 180),
        ({"datum": "mark", "mark": "A", "length": 30}, 80, 110),
        ({"datum": "mark", "mark": "A", "length": 30, "toward": "start"}, 50, 80),
        ({"datum": "mark", "mark": "A", "length": 30, "toward": "both"}, 65, 95),
        ({"datum": "mark", "mark": "A", "offset": 5, "length": 30}, 85, 115),
        ({"datum": "mark", "mark": "B"}, 200, 300),
        ({"datum": "mark", "mark": "A", "toward": "start"}, 0, 80),
        ({"datum": "between", "mark": "B", "mark_to": "A"}, 80, 200),
    ],
)
def test_a_range_is_where_its_words_say(place, low, high):
    assert span(**place) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("position", "where"),
    [
        ({"datum": "start", "offset": 25}, 25),
        ({"datum": "end", "offset": 25}, 275),
        ({"datum": "centre"}, 150),
        ({"datum": "centre", "offset": 10, "toward": "start"}, 140),
        ({"datum": "mark", "mark": "A", "offset": 5}, 85),
        ({"datum": "mark", "mark": "A", "offset": 5, "toward": "start"}, 75),
    ],
)
def test_a_point_is_where_its_words_say(position, where):
    assert at(**position) == pytest.approx(where)


@pytest.mark.parametrize(
    ("place", "code", "words"),
    [
        ({"datum": "end", "length": 340}, "place.off_the_branch", "at most 300"),
        ({"datum": "start", "offset": 290, "length": 40}, "place.off_the_branch", "at most 10"),
        ({"datum": "mark", "mark": "Z"}, "place.no_such_mark", "Marks there: A, B"),
        ({"datum": "between", "mark": "A", "mark_to": "A"}, "place.empty", "has no length"),
    ],
)
def test_a_range_that_is_not_there_is_refused_with_what_is(place, code, words):
    with pytest.raises(Unworkable) as refused:
        span(**place)
    assert refused.value.finding.code == code
    assert words in refused.value.finding.text()


def test_an_unknown_branch_is_refused_with_the_branches_and_groups_there_are():
    piece = BAR.grouped("arms", ("bar",))
    with pytest.raises(Unworkable) as refused:
        piece.spans(Place(on="legs"))
    assert refused.value.finding.code == "place.no_such_branch"
    assert "bar, arms (group)" in refused.value.finding.text()


def test_a_mark_named_like_a_template_does_no_harm():
    piece = bar(Section.square(12), 300, marks={"{x:length}": 10})
    with pytest.raises(Unworkable) as refused:
        piece.spans(Place(on="bar", datum="mark", mark="{y}"))
    assert "{x:length}" in refused.value.finding.text()
