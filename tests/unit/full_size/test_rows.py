"""A long bar in rows: every place is on one, none is too long, and plain metal is left out."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedures.full_size.rows import STUB, Row, rows


def test_bar_that_fits_is_one_row():
    assert rows(180, [30, 90], 200) == (Row(0, 180),)


def test_row_ends_at_a_mark_and_the_next_begins_there():
    assert rows(400, [100, 180, 250, 330], 200) == (Row(0, 180), Row(180, 330), Row(330, 400))


def test_plain_bar_between_distant_marks_is_left_out():
    """A 6 m bar with a mark near each end is two short rows, not forty sheets."""
    assert rows(6000, [40, 100, 5900], 250) == (Row(0, 100, 5800), Row(5900, 6000))


def test_ends_with_no_mark_near_are_left_out():
    assert rows(1000, [500, 520], 200) == (Row(500, 520, 480),)
    assert rows(1000, [500], 200) == (Row(500, 500, 500),)


def test_mark_at_the_very_end_keeps_its_row():
    assert rows(1000, [1000], 200) == (Row(1000, 1000),)


def test_bar_without_marks_still_has_a_row():
    assert rows(1000, [], 200) == (Row(0, 0, 1000),)


@given(
    length=st.floats(10, 6000),
    shares=st.lists(st.floats(0.001, 0.999), max_size=12),
    room=st.floats(60, 300),
)
def test_every_place_is_on_a_row_and_no_row_is_too_long(length, shares, room):
    places = [share * length for share in shares]
    found = rows(length, places, room)
    assert all(row.high - row.low <= max(room, 2 * STUB + 1) + 1e-6 for row in found)
    for low, high in pairwise(found):
        assert high.low == pytest.approx(low.high + low.left_out)
    assert all(any(row.low <= at <= row.high for row in found) for at in places)
