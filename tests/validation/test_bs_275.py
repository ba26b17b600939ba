"""BS 275:1927, Dimensions of rivets, plate 2, as tabulated by a maker of rivets. Inches."""

from math import pi

import pytest

from calculators.formulas.rivet_head import HEADS, RivetHead, head_volume

PRINTED = 0.001  # in: the tables' last figure
SNAP = [(0.5, 0.8, 0.35, 0.563), (0.75, 1.2, 0.525, 0.844), (1, 1.6, 0.7, 1.125), (1.75, 2.8, 1.225, 1.969)]
RAISED = [(0.5, 0.75, 0.101, 0.292), (1, 1.5, 0.201, 0.584), (1.5, 2.25, 0.302, 0.876)]


def allowance(diameter, form):
    return RivetHead(diameter=diameter, hole=diameter, grip=1, head=HEADS[form].shank).answer().value


@pytest.mark.parametrize(("diameter", "across", "height", "setting"), SNAP)
def test_snap_head(diameter, across, height, setting):
    """Figure 3: A = 1.6 D, B = 0.7 D, S = 1.125 D."""
    head = HEADS["snap"]
    assert allowance(diameter, "snap") == pytest.approx(setting, abs=PRINTED)
    assert head.sizes(diameter, head_volume(diameter, head.shank)) == pytest.approx(
        (across, height), abs=PRINTED
    )


def test_snap_head_holds_its_setting_allowance():
    """A cap 1.6 D across and 0.7 D high is as much metal as 1.125 D of shank."""
    cap = pi * 0.7 / 6 * (3 * 0.8**2 + 0.7**2)
    assert head_volume(1, HEADS["snap"].shank) == pytest.approx(cap, rel=PRINTED)


@pytest.mark.parametrize(("diameter", "across", "rounding", "setting"), RAISED)
def test_rounded_countersunk_head(diameter, across, rounding, setting):
    """Figure 8: A = 1.5 D, depth 0.604 D, round 0.201 D, S = 0.584 D."""
    head = HEADS["raised"]
    assert allowance(diameter, "raised") == pytest.approx(setting, abs=PRINTED)
    assert (head.across * diameter, head.height * diameter) == pytest.approx((across, rounding), abs=PRINTED)


def test_rounded_countersunk_head_holds_its_setting_allowance():
    """The cone 1.5 D to D wide and 0.604 D deep, less the shank in it, and the cap 0.201 D high."""
    cone = pi * 0.604 / 12 * (1.5**2 + 1.5 + 1) - pi / 4 * 0.604
    cap = pi * 0.201 / 6 * (3 * 0.75**2 + 0.201**2)
    assert head_volume(1, HEADS["raised"].shank) == pytest.approx(cone + cap, rel=2 * PRINTED)
