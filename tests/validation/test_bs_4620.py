"""BS 4620:1970, Rivets for general engineering, table 6 (90° countersunk), as tabulated by a maker. mm."""

from math import pi

import pytest

from calculators.formulas.rivet_head import HEADS, RivetHead, head_volume

PRINTED = 0.01  # mm
FLUSH = [(3, 6, 2.0), (6, 12, 4.0), (8, 16, 5.34), (10, 20, 6.67), (16, 32, 10.67)]


@pytest.mark.parametrize(("diameter", "across", "setting"), FLUSH)
def test_countersunk_head(diameter, across, setting):
    """A = 2 D, B = 0.5 D, S = 0.667 D."""
    head = HEADS["flush"]
    answer = RivetHead(diameter=diameter, hole=diameter, grip=1, head=head.shank).answer()
    assert answer.value == pytest.approx(setting, abs=PRINTED)
    assert head.across * diameter == pytest.approx(across)


def test_countersunk_head_holds_its_setting_allowance():
    """A cone from 2 D to D in ½ D, less the shank in it."""
    cone = pi * 0.5 / 12 * (2**2 + 2 + 1) - pi / 4 * 0.5
    assert head_volume(1, HEADS["flush"].shank) == pytest.approx(cone, rel=0.001)
