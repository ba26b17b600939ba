"""Path data: short, true to the hundredth, and curves where a line runs smoothly."""

import math

import pytest

from procedures.drawing import svg
from procedures.drawing.covered import Covered
from procedures.drawing.curves import Cubic, smooth

from .svg_reading import points


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0, "0"),
        (12, "12"),
        (12.5, "12.5"),
        (0.3, ".3"),
        (-0.3, "-.3"),
        (-2.054, "-2.05"),
        (0.004, "0"),
        (-0.001, "0"),
    ],
)
def test_a_number_is_as_short_as_it_goes(value, said):
    assert svg.number(value) == said


def test_a_line_is_written_in_relative_steps():
    assert svg.path([(10, 20), (30, 20), (30, 5), (25, 10.5)]) == "M10 20h20v-15l-5 5.5"


def test_steps_in_one_direction_are_one():
    assert svg.path([(0, 0), (10, 0), (25, 0), (25, 5)]) == "M0 0h25v5"


def test_there_and_back_is_not_one_step():
    assert svg.path([(0, 0), (10, 0), (4, 0)]) == "M0 0h10-6"


def test_a_closed_line_does_not_draw_its_way_back():
    assert svg.path([(0, 0), (10, 0), (10, 5)], closed=True) == "M0 0h10v5z"


def test_a_line_of_no_length_is_nothing():
    assert svg.path([(1, 1), (1, 1.001)]) == ""
    assert svg.path([(1, 1)]) == ""


def test_rounding_never_drifts():
    """A thousand steps of 1/3 end where they should, to the hundredth."""
    spots = [(index / 3, (index % 7) / 3) for index in range(1001)]
    (line,) = points(svg.path(spots))
    assert line[-1] == pytest.approx(spots[-1], abs=0.005001)


def arc_of(radius, turns, count):
    sweep = 2 * math.pi * turns
    return [
        (radius * math.cos(sweep * i / count), radius * math.sin(sweep * i / count)) for i in range(count + 1)
    ]


def bezier(start, cubic, t):
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return tuple(
        a * p + b * q + c * r + d * s
        for p, q, r, s in zip(start, cubic.first, cubic.second, cubic.end, strict=True)
    )


@pytest.mark.parametrize("radius", [5, 40, 300])
def test_a_circle_comes_out_round_in_a_few_curves(radius):
    spots = arc_of(radius, 1, math.ceil(math.pi / math.acos(1 - 0.05 / radius)))
    moves = smooth(spots, 0.05)
    assert all(isinstance(one, Cubic) for one in moves)
    assert len(moves) <= 16  # of 20 to 172 chords
    at = spots[0]
    for one in moves:
        for step in range(11):
            assert math.hypot(*bezier(at, one, step / 10)) == pytest.approx(radius, abs=0.06)
        at = one.end


def test_a_spiral_is_followed():
    sweep = 2 * math.pi * 3
    spots = []
    for i in range(241):
        angle = sweep * i / 240
        radius = 10 + 90 * i / 240
        spots.append((radius * math.cos(angle), radius * math.sin(angle)))
    moves = smooth(spots, 0.2)
    assert len(moves) < 24
    at = spots[0]
    for one in moves:
        for step in range(11):
            x, y = bezier(at, one, step / 10)
            radius = math.hypot(x, y)
            turns = round((sweep * (radius - 10) / 90 - math.atan2(y, x)) / (2 * math.pi))
            angle = math.atan2(y, x) + 2 * math.pi * turns
            assert radius == pytest.approx(10 + 90 * angle / sweep, abs=0.3)
        at = one.end


def test_corners_stay_sharp():
    box = [(0, 0), (10, 0), (20, 0), (20, 10), (20, 20), (10, 20), (0, 20)]
    assert smooth(box, 0.1) == box[1:]


def test_a_straight_leg_before_a_bend_stays_straight():
    bend = [(x, y - 20) for y, x in arc_of(20, 0.25, 12)]
    leg = [(-100.0, bend[0][1]), *((x, y) for x, y in bend)]
    moves = smooth(leg, 0.05)
    assert moves[0] == leg[1]
    assert any(isinstance(one, Cubic) for one in moves[1:])


def test_a_line_under_others_is_covered():
    drawn = Covered([[(0, 0), (60, 0)], [(100, 0), (60, 0)], [(0, 5), (0, 9)]])
    assert drawn.covers([(10, 0), (90, 0)])
    assert drawn.covers([(100, 0), (0, 0)])
    assert not drawn.covers([(10, 0), (110, 0)])
    assert not drawn.covers([(10, 0.1), (90, 0.1)])
    assert not drawn.covers([(0, 0), (60, 0), (60, 4)])
