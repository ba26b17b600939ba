"""BS 425:1943, Rivets for boilers, figure 9 (pan head, type 3), as tabulated by a maker of rivets. Inches."""

import pytest

from calculators.formulas.rivet_head import HEADS, RivetHead

PRINTED = 0.001  # in
PAN = [(0.5, 0.8, 0.35, 0.637), (1, 1.6, 0.7, 1.273), (1.5, 2.4, 1.05, 1.91)]


@pytest.mark.parametrize(("diameter", "across", "height", "setting"), PAN)
def test_pan_head(diameter, across, height, setting):
    """A = 1.6 D, B = 0.7 D, S = 1.273 D."""
    head = HEADS["pan"]
    answer = RivetHead(diameter=diameter, hole=diameter, grip=1, head=head.shank).answer()
    assert answer.value == pytest.approx(setting, abs=PRINTED)
    assert (head.across * diameter, head.height * diameter) == pytest.approx((across, height), abs=PRINTED)
