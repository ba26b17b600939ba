"""Baskets of rods against other routes: scipy's quadrature, elliptic integrals, a walk in space.

The rule by the turns alone, √(ℓ² - (2πN b / √2)²), is a derivation that leaves out the swing outward: it is
given beside ours, and 80.6 mm for 120 mm of rod, one turn and a bulge of 20 mm is what it comes to.
"""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import ellipe

from calculators.formulas.basket_length import BasketLength, basket_length, closed_radius
from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from tests.unit.engine.forging import forged, refused, tried

CASES = [(120, 1, 20, 0), (120, 1, 20, 4.243), (200, 1.5, 25, 5), (120, 0, 26, 6), (90, 0.5, 18, 4)]


def by_scipy(rod, turns, bulge, closed):
    def length(along):
        def step(u):
            radius = closed + (bulge - closed) * np.sin(np.pi * u)
            out = (bulge - closed) * np.pi * np.cos(np.pi * u)
            return np.sqrt(along**2 + (2 * np.pi * turns * radius) ** 2 + out**2)

        return quad(step, 0, 1, epsabs=1e-10)[0]

    return brentq(lambda along: length(along) - rod, 0, rod, xtol=1e-10)


@pytest.mark.parametrize("case", CASES)
def test_length_by_quadrature(case):
    assert basket_length(*case) == pytest.approx(by_scipy(*case), abs=1e-5)


@pytest.mark.parametrize("case", CASES)
def test_a_rod_walked_in_space_is_as_long_as_it_was(case):
    rod, turns, bulge, closed = case
    u = np.linspace(0, 1, 4001)
    radius, angle = closed + (bulge - closed) * np.sin(np.pi * u), 2 * np.pi * turns * u
    line = np.column_stack([basket_length(*case) * u, radius * np.cos(angle), radius * np.sin(angle)])
    assert np.linalg.norm(np.diff(line, axis=0), axis=1).sum() == pytest.approx(rod, abs=1e-3)


def test_a_bow_without_turns_is_an_elliptic_arc():
    along, high = basket_length(120, 0, 26, 6), 20
    ratio = (np.pi * high / along) ** 2
    arc = 2 * along / np.pi * np.sqrt(1 + ratio) * ellipe(ratio / (1 + ratio))
    assert arc == pytest.approx(120, abs=1e-6)


def test_the_turns_alone_would_leave_more():
    answer = BasketLength(rod=120, turns=1, bulge=20).answer()
    assert answer["by the turns alone"].value == pytest.approx(80.6, abs=0.05)
    assert answer.value < 80.6


def test_four_rods_in_a_ring_touch():
    corners = closed_radius(6, 4) * np.exp(0.5j * np.pi * np.arange(4))
    assert abs(corners[1] - corners[0]) == pytest.approx(6)


def given(**more):
    rod = bar(Section.round(6), 150, name="rod", marks=more.pop("marks", None))
    piece = bar(Section.round(6), 150, bench={"rod": rod}, marks={"A": 15, "B": 75, "C": 135})
    params = {"weld": 15, "dressed": {"shape": "square", "side": 10}, "turns": 1, "bulge": 20, "count": 3}
    return piece, {"on": "bar", "part": "rod", **params, **more}


def test_the_metal_of_a_basket_is_that_of_its_rods():
    piece, params = given()
    after = forged(piece, "basket", **params)
    assert after.volume == pytest.approx(4 * 150 * 9 * np.pi)
    assert abs(after.imbalance) < 1e-6
    assert [round(one.at, 2) for one in after.root.marks] == [16.96, 50.59, 84.21]
    assert [one.said for one in after.joints] == ["rod weld 1", "rod weld 2"]


def test_only_the_ends_take_scale_in_a_welding_heat_and_all_rods_in_a_forging_heat():
    piece, params = given()
    welded = tried(piece, "basket", welds=1, scale=0.1, **params).after
    assert welded.lost("scale") == pytest.approx(4 * 30 * np.pi * (9 - 2.9**2))
    opened = tried(piece, "basket", heats=1, scale=0.1, **params).after
    assert opened.lost("scale") == pytest.approx(4 * 150 * np.pi * (9 - 2.9**2))


def test_a_left_hand_basket_turns_the_other_way():
    piece, params = given()
    twists = {
        hand: sum(one.twist for one in forged(piece, "basket", **params, hand=hand).root.segments)
        for hand in ("left", "right")
    }
    assert twists == {"left": pytest.approx(-1), "right": pytest.approx(1)}


def test_metal_is_traced_to_every_rod():
    piece, params = given()
    after = forged(piece, "basket", **params)
    places = after.root.bar_positions(after.root.length / 2)
    assert {bar for bar, _ in places} == {"bar", "rod"}
    assert [place for _, place in places] == [pytest.approx(75)] * 4


def test_a_basket_is_not_worked_again_without_a_word():
    piece, params = given()
    after = forged(piece, "basket", **params)
    drawn = {"where": {"on": "bar", "datum": "start", "offset": 10, "length": 60}}
    drawn["target"] = {"shape": "square", "side": 5}
    assert "shape.curved_metal" in refused(after, "draw_out", **drawn)
    piece, params = given(turns=0)
    bowed = forged(piece, "basket", **params)
    assert refused(bowed, "draw_out", **drawn) == ["shape.caged_metal"]
    beside = {**drawn, "where": {"on": "bar", "datum": "start", "length": 16}}
    assert tried(bowed, "draw_out", **beside).status == "done"
    cut = {"at": {"on": "bar", "datum": "end", "offset": 45}, "method": "saw"}
    assert refused(after, "cut_off", **cut) == ["cut_off.through_a_hole"]
