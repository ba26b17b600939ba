"""Scale against scipy's integration of the parabolic law, alone and through a whole heat.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

import pytest

from calculators.formulas import scale_depth
from calculators.sections import Section

DEPTHS = [  # °C, seconds, expected mm
    (1100, 300, 0.10890432423168103),
    (1150, 60, 0.060231223325275175),
    (1150, 600, 0.19046785193557444),
    (1200, 600, 0.23217762764756655),
    (1250, 300, 0.19754131910534575),
]


@pytest.mark.parametrize(("temperature", "seconds", "expected"), DEPTHS)
def test_depth_at_one_temperature(temperature, seconds, expected):
    """Route: LSODA on dW/dt = kp/2W."""
    assert scale_depth.metal_depth(temperature, seconds) == pytest.approx(expected, rel=1e-4)


HEATS = [  # section, minutes of soak, expected mm
    (Section.flat(25, 3), 0, 0.02984436044498075),
    (Section.flat(25, 3), 2, 0.0902567796689191),
    (Section.round(12), 5, 0.1418948114462615),
    (Section.square(10), 0, 0.04077515915038099),
    (Section.square(20), 0, 0.05766478367156564),
    (Section.square(20), 2, 0.10286314915000859),
    (Section.square(20), 5, 0.1465067517400537),
]


@pytest.mark.parametrize(("section", "soak", "expected"), HEATS, ids=str)
def test_depth_of_a_heat(section, soak, expected):
    """Route: LSODA of temperature and oxidation together through one heat to 1150 °C and down to 850."""
    assert scale_depth.depth_per_heat(section.modulus, soak) == pytest.approx(expected, rel=0.05)


def test_equivalent_time():
    """Route: the ratio of Arrhenius's exponentials taken directly."""
    history = [(60, 1000), (60, 1100), (60, 1150)]
    assert scale_depth.equivalent_time(history, 1150) == pytest.approx(114.40493958240556, rel=1e-9)


def test_iron_to_a_gram_of_oxygen():
    """Route: stoichiometry of wustite, magnetite and haematite as 95, 4 and 1 by mass."""
    iron, oxygen = 55.845, 15.999
    shares = ((0.95, 1, 1), (0.04, 3, 4), (0.01, 2, 3))
    in_iron = sum(share * fe * iron / (fe * iron + o * oxygen) for share, fe, o in shares)
    in_oxygen = sum(share * o * oxygen / (fe * iron + o * oxygen) for share, fe, o in shares)
    assert pytest.approx(in_iron / in_oxygen, rel=0.005) == scale_depth.IRON_PER_OXYGEN


def test_measured_scale_after_a_quarter_of_an_hour_at_1000():
    """Measured: 401 µm of scale, 15 min at 1000 °C, ramps of 5 K/min (Materials 18(11) 2463, 2025, abstract).

    As metal with a density of 5.6 and a tenth of pores, both assumed: 0.199272 mm.
    """
    ramp = [(60, 702.5 + 5 * minute) for minute in range(60)]
    history = [*ramp, (900, 1000.0), *reversed(ramp)]
    assert scale_depth.depth_of_history(history) == pytest.approx(0.19927196942675157, rel=0.2)


SHARES = [  # section, depth, expected share of the area
    (Section.flat(40, 8), 0.12, 0.035820000000000005),
    (Section.half_round(24), 0.12, 0.032504859209385055),
    (Section.round(12), 0.12, 0.0396000115301814),
]


@pytest.mark.parametrize(("section", "depth", "expected"), SHARES, ids=str)
def test_share_of_the_section_lost(section, depth, expected):
    """Route: shapely, the polygon's inward offset. Depth over modulus is its first order."""
    assert depth / section.modulus == pytest.approx(expected, rel=0.03)
    assert 1 - section.receded(depth).area / section.area == pytest.approx(expected, rel=0.005)
