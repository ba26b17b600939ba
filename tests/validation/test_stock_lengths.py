"""Published stock lengths, worked back from the finished size through a procedure.

- W. L. Ilgen, Forge Work, American Book Co., New York, 1912: a ring (article 111, figure 100).
- T. F. Googerty, Hand-Forging and Wrought-Iron Ornamental Work, Popular Mechanics, 1911, page 69: a ring.
- B. Freeman, rules of thumb for stock on a smiths' mailing list, 28 March 2002, quoted: a round drawn to half
  its size, a square made round of the same size, a one-way taper.
- "Controlled Hand Forging", lesson 1 (taper size), quoted; the arithmetic is derived: a square point.

Without scale, as these sources reckon.
"""

from math import pi

import pytest

from procedures.stock.solving import solve
from procedures.stock.target import Target
from procedures.stock.unknown import Unknown
from tests.unit.engine.documents import a_step
from tests.unit.stock.asking import a_bar, round_, square

INCH = 25.4
NEAR = 0.005  # in: "practically 22" of Ilgen, and what the others are exact to


def stock(document, target, unknown=None):
    """The stock in inches."""
    return solve(document, "bar", target, unknown or Unknown(), nominal=True).typical.value / INCH


def a_ring(section, length):
    return a_bar(a_step("weld_ring", on="bar", zone=1.5 * INCH), section=section, length=length * INCH)


def test_ilgen_ring_of_five_inches_of_two_inch_round():
    """Article 111: 3.1416 × (5 + 2), practically 22 in."""
    found = stock(a_ring(round_(2 * INCH), 20), Target("ring", 5 * INCH, "bar"))
    assert found == pytest.approx(3.1416 * (5 + 2), abs=NEAR)
    assert found == pytest.approx(22, abs=0.01)


def test_googerty_ring_of_ten_inches_of_inch_stock():
    """Page 69: (10 + 1) × 22/7, his 3-1/7 standing for π."""
    found = stock(a_ring(square(1 * INCH), 30), Target("ring", 10 * INCH, "bar"))
    assert found == pytest.approx((10 + 1) * pi, abs=NEAR)
    assert found == pytest.approx((10 + 1) * 22 / 7, abs=0.02)


def drawn_all(section, target, length, **more):
    step = a_step("draw_out", where={"on": "bar", "datum": "whole"}, target=target)
    return a_bar(step, section=section, length=length * INCH, **more)


def test_freeman_four_feet_of_half_inch_round_take_one_foot_of_inch_round():
    document = drawn_all(round_(INCH), round_(INCH / 2), 20)
    assert stock(document, Target("length", 48 * INCH, "bar")) == pytest.approx(12, abs=NEAR)


def test_freeman_fifteen_inches_of_round_take_a_foot_of_square():
    """Length × 1.25; exactly 4/π = 1.273."""
    step = a_step(
        "change_section", where={"on": "bar", "datum": "whole"}, shape="round", rule="size", size=INCH / 2
    )
    document = a_bar(step, section=square(INCH / 2), length=20 * INCH)
    found = stock(document, Target("length", 15 * INCH, "bar"))
    assert found == pytest.approx(15 * pi / 4, abs=NEAR)
    assert found == pytest.approx(12, rel=0.02)


def test_freeman_wedge_of_twelve_inches_takes_six():
    edge = {"shape": "edge", "width": INCH}
    step = a_step("taper", where={"on": "bar", "datum": "whole"}, end_section=edge)
    document = a_bar(step, section=square(INCH), length=8 * INCH)
    assert stock(document, Target("length", 12 * INCH, "bar")) == pytest.approx(6, abs=NEAR)


def test_three_inch_point_takes_one_inch_of_half_inch_square():
    """Lesson 1: 3 in of point, L/3 of bar; 7 in of bar are left before it."""
    step = a_step(
        "taper",
        where={"on": "bar", "datum": "end", "length": 40.0},
        end_section={"shape": "point"},
    )
    document = a_bar(step, section=square(INCH / 2), length=8 * INCH)
    found = stock(
        document, Target("length", (7 + 3) * INCH, "bar"), Unknown("step", "s1", ("where", "length"))
    )
    assert found == pytest.approx(1, abs=NEAR)
