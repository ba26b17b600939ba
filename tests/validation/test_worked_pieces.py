"""Worked sizes from the trade, put through the operations themselves.

C. Knight, The Mechanician (Construction Tools), plunger joints. W. L. Ilgen, Forge Work, 1912, article 72,
gate hook. B. Freeman, theforge mailing list, 28 March 2002, "Guesstimating".
"""

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from tests.unit.engine.forging import forged

INCH = 25.4
FREEMAN = 0.03  # he takes 4/π as 1.25


def test_reduced_middle_between_two_shoulders():
    """Knight: 11.2 in of 12.5 in² makes 20 in of 7 in² between its shoulders."""
    thick, thin = Section.square(12.5**0.5 * INCH), Section.square(7**0.5 * INCH)
    piece = forged(
        bar(thick, 30 * INCH),
        "shoulder",
        where={"on": "bar", "datum": "centre", "length": 11.2 * INCH},
        target=thin.to_json(),
    )
    assert piece.worked[0].length == pytest.approx(20 * INCH)
    assert piece.root.length == pytest.approx((30 - 11.2 + 20) * INCH)


def test_round_behind_the_shoulder_of_a_gate_hook():
    """Ilgen: 1-1/2 in of 3/8 in square to 5/16 in round is about 2-1/2 in long.

    His figure is 9 % short of constant volume, 2-3/4 in: he leaves a full shoulder, and scale.
    """
    piece = forged(
        bar(Section.square(0.375 * INCH), 7.25 * INCH),
        "shoulder",
        where={"on": "bar", "datum": "end", "length": 1.5 * INCH},
        target=Section.round(0.3125 * INCH).to_json(),
    )
    long = piece.worked[0].length / INCH
    assert long == pytest.approx(2.75, abs=0.005)
    assert 2.5 <= long <= 2.5 * 1.11


def test_square_swaged_round():
    """Freeman: 12 in of 1/2 in square comes to about 15 in of 1/2 in round."""
    piece = forged(
        bar(Section.square(0.5 * INCH), 12 * INCH),
        "swage",
        where={"on": "bar", "datum": "whole"},
        die=Section.round(0.5 * INCH).to_json(),
    )
    assert piece.root.length == pytest.approx(15 * INCH, rel=FREEMAN)


def test_round_swaged_to_half_its_diameter():
    """Freeman: 1 ft of 1 in round to 1/2 in comes to 4 ft."""
    piece = forged(
        bar(Section.round(INCH), 12 * INCH),
        "swage",
        where={"on": "bar", "datum": "whole"},
        die=Section.round(INCH / 2).to_json(),
    )
    assert piece.root.length == pytest.approx(48 * INCH)
