"""Tapering: which end gets thin, and how much bar a wanted length takes where the bar is not even."""

import pytest

from calculators.sections import Section
from procedures.engine.finding import Unworkable
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.shaping.tapering import Tapering, end_meant

SQUARE = Section.square


def a_taper(length=None, thin="free"):
    return Tapering(
        thin, lambda present: present, lambda present: SQUARE(2), length, "taper_length", "end_section"
    )


def stepped():
    """Return a branch of 100 of □20, a taper over 60, and 100 of □10."""
    return Branch(
        "bar",
        (uniform(SQUARE(20), 100), Segment(SQUARE(20), SQUARE(10), 60), uniform(SQUARE(10), 100)),
    )


@pytest.mark.parametrize(
    ("low", "high", "choice", "expected"),
    [
        (0, 40, "free", "start"),
        (220, 260, "free", "end"),
        (100, 140, "free", "end"),
        (0, 260, "free", "end"),
        (0, 40, "end", "end"),
        (220, 260, "start", "start"),
    ],
)
def test_the_free_end_is_the_one_the_range_lies_at(low, high, choice, expected):
    assert end_meant(stepped(), Span("bar", low, high), choice) == expected


@pytest.mark.parametrize("wanted", [30, 150, 400])
@pytest.mark.parametrize("thin", ["start", "end"])
def test_a_wanted_length_is_met_exactly_on_an_uneven_bar(wanted, thin):
    branch = stepped()
    plan = a_taper(wanted, thin)
    run = plan.used(branch, Span("bar", 0, branch.length))
    assert sum(one.length for one in plan.made(branch, run)) == pytest.approx(wanted, abs=1e-6)
    assert (run.high == branch.length) if thin == "end" else (run.low == 0)


def test_a_wanted_length_that_the_bar_has_not_the_metal_for_is_refused():
    with pytest.raises(Unworkable, match="takes more bar"):
        a_taper(2000).used(stepped(), Span("bar", 0, 260))


def test_the_thin_end_lies_where_it_was_asked_for():
    branch = stepped()
    (at_start,) = a_taper(thin="start").made(branch, Span("bar", 0, 50))
    assert (at_start.start, at_start.end) == (SQUARE(2), SQUARE(20))
    (at_end,) = a_taper(thin="end").made(branch, Span("bar", 0, 50))
    assert (at_end.start, at_end.end) == (SQUARE(20), SQUARE(2))
