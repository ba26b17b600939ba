"""DIN 660 and ISO 1051, round head rivets, as listed by a seller. mm."""

from math import pi

import pytest

from calculators.formulas.rivet_head import HEADS, head_volume

LISTED = [(4, 7, 2.4), (5, 8.8, 3), (6, 10.5, 3.6), (8, 14, 4.8)]
FORMS = 0.06  # our snap head is the older British one, narrower and higher: as much metal to 6 %


@pytest.mark.parametrize(("diameter", "across", "height"), LISTED)
def test_round_head_takes_about_the_metal_of_a_snap_head(diameter, across, height):
    cap = pi * height / 6 * (3 * (across / 2) ** 2 + height**2)
    assert head_volume(diameter, HEADS["snap"].shank) == pytest.approx(cap, rel=FORMS)
