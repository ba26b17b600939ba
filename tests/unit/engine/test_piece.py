"""What rides on the metal: marks keep their share of the volume, and the ledger closes."""

from dataclasses import replace

import pytest

from calculators.sections import Section, taper_length
from procedures.engine.pieces.branch import Mark
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform

SQUARE_12, SQUARE_10 = Section.square(12), Section.square(10)


def drawn(piece, low, high, section):
    volume = piece.root.volume_between(low, high)
    return piece.reshaped(Span("bar", low, high), uniform(section, volume / section.area))


def where(piece, name):
    return piece.root.mark(name).at


def test_marks_in_a_drawn_range_ride_in_proportion_and_those_beyond_move_with_its_end():
    # □12 × 300, the last 50 drawn to □10: 50 × 144 / 100 = 72; 275 is half way, 250 + 36
    piece = drawn(bar(SQUARE_12, 300, marks={"A": 220, "B": 275, "C": 300}), 250, 300, SQUARE_10)
    assert where(piece, "A") == pytest.approx(220)
    assert where(piece, "B") == pytest.approx(286)
    assert where(piece, "C") == pytest.approx(322)


def test_a_mark_drawn_into_a_taper_keeps_its_share_of_the_metal_not_of_the_length():
    # □12, the last 40 to □4: V = L (144 + 48 + 16) / 3, so L = 5760 × 3 / 208 = 83.08. Half of the metal lies
    # where the side s leaves half: s³ = 12³ - ½ (12³ - 4³), s = 9.64, at 83.08 × (12 - 9.64) / 8 = 24.5
    piece = bar(SQUARE_12, 300, marks={"M": 280})
    taper = Segment(SQUARE_12, Section.square(4), taper_length(SQUARE_12, Section.square(4), 40 * 144))
    piece = piece.reshaped(Span("bar", 260, 300), taper)
    assert taper.length == pytest.approx(5760 * 3 / 208)
    side = (12**3 - (12**3 - 4**3) / 2) ** (1 / 3)
    assert where(piece, "M") == pytest.approx(260 + taper.length * (12 - side) / 8)


def test_marks_before_and_after_a_shortened_range_keep_their_metal():
    piece = drawn(bar(SQUARE_12, 300, marks={"A": 100, "B": 250}), 120, 150, Section.square(15))
    assert where(piece, "A") == pytest.approx(100)
    assert where(piece, "B") == pytest.approx(250 - 30 + 30 * 144 / 225)


def test_a_mark_that_stays_with_the_end_keeps_its_distance_from_it():
    piece = bar(SQUARE_12, 300)
    piece = piece.marked("bar", Mark("grip", 290, holds="end"))
    assert where(drawn(piece, 250, 300, SQUARE_10), "grip") == pytest.approx(322 - 10)


def test_a_mark_of_the_same_name_takes_the_place_of_the_first():
    piece = bar(SQUARE_12, 300).marked("bar", Mark("A", 40)).marked("bar", Mark("A", 60))
    assert [(one.name, one.at) for one in piece.root.marks] == [("A", 60)]


def test_the_metal_under_a_mark_is_traced_back_to_where_the_mark_was_struck():
    piece = bar(SQUARE_12, 300, marks={"A": 90, "B": 275})
    piece = drawn(piece, 250, 300, SQUARE_10)
    piece = drawn(piece, 60, 120, Section.flat(16, 6))
    for name, struck in (("A", 90), ("B", 275)):
        assert piece.root.bar_positions(where(piece, name)) == [("bar", pytest.approx(struck))]


def test_scale_takes_the_skin_and_enters_it_as_lost():
    # □12, 100 mm hot, 0.05 mm a face: □11.9, (144 - 141.61) × 100 mm³
    piece = bar(SQUARE_12, 300).receded(Span("bar", 200, 300), lambda _: 0.05)
    assert piece.root.section_at(250).dimensions["side"] == pytest.approx(11.9)
    assert piece.root.length == pytest.approx(300)
    assert piece.lost("scale") == pytest.approx((144 - 11.9**2) * 100)
    assert piece.imbalance == pytest.approx(0, abs=1e-6)


def test_metal_that_vanishes_shows_as_an_imbalance():
    piece = bar(SQUARE_12, 300)
    short = replace(piece.root, segments=(uniform(SQUARE_12, 290),))
    assert piece.with_branch(short).imbalance == pytest.approx(10 * 144)
