"""Areas, perimeters and taper volumes against polygons and solids: shapely, qhull, trimesh, OpenCASCADE.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

import pytest

from calculators.formulas import taper_length
from calculators.sections import Section, taper_volume

HULL = "qhull, the convex hull of the two end polygons"
LOFT = "OpenCASCADE ruled loft, by build123d"

MEASURES = [  # what, section, expected, relative tolerance
    ("area", Section.flat(40, 8), 320.0, 2e-06),  # shapely polygon of 4096-gon vertices
    ("area", Section.half_round(24), 226.19464887021573, 2e-06),  # shapely polygon of 4096-gon vertices
    ("area", Section.hexagon(20), 346.41016151377545, 2e-06),  # shapely polygon of 4096-gon vertices
    ("area", Section.square(20), 400.0, 2e-06),  # shapely polygon of 4096-gon vertices
    ("area", Section.triangle(20), 173.2050807568877, 2e-06),  # shapely polygon of 4096-gon vertices
    ("area", Section.tube(30, 3), 254.4689984003885, 1e-06),  # shapely difference of two discs
    ("perimeter", Section.flat(40, 8), 96.0, 2e-06),  # shapely polygon length
    ("perimeter", Section.octagon(18), 59.64675298172568, 2e-06),  # shapely polygon length
    ("perimeter", Section.rounded_flat(30, 6, 3), 66.84955406980282, 2e-06),  # shapely polygon length
    ("perimeter", Section.round(12), 37.69910814684198, 2e-06),  # shapely polygon length
    ("perimeter", Section.square(20), 80.0, 2e-06),  # shapely polygon length
    ("thickness", Section.half_round(24), 11.999999117157591, 1e-06),  # shapely bounds
    ("thickness", Section.octagon(18), 18.0, 1e-06),  # shapely bounds
    ("thickness", Section.rounded_flat(30, 6, 3), 6.0, 1e-06),  # shapely bounds
    ("thickness", Section.rounded_flat(40, 8, 2), 8.0, 1e-06),  # shapely bounds
    ("thickness", Section.round(12), 12.0, 1e-06),  # shapely bounds
    ("thickness", Section.square(20), 20.0, 1e-06),  # shapely bounds
    ("thickness", Section.triangle(20), 17.32050807568877, 1e-06),  # shapely bounds
]


@pytest.mark.parametrize(("what", "section", "expected", "tolerance"), MEASURES, ids=str)
def test_measures_of_sections(what, section, expected, tolerance):
    assert getattr(section, what) == pytest.approx(expected, rel=tolerance)


VOLUMES = [  # start, end, length, expected, relative tolerance, route
    (Section.hexagon(20), Section.hexagon(12), 60, 13579.278331339994, 1e-09, LOFT),
    (Section.flat(40, 8), Section.square(12), 100, 25066.666666666664, 1e-09, LOFT),
    (Section.square(20), Section.square(10), 100, 23333.33333333334, 1e-09, LOFT),
    (Section.flat(30, 8), Section.edge(30), 40, 4800.000000000001, 3e-06, HULL),
    (Section.half_round(24), Section.flat(20, 5), 50, 8436.577334029906, 3e-06, HULL),
    (Section.half_round(24), Section.half_round(12), 70, 9236.281495533898, 3e-06, HULL),
    (Section.hexagon(20), Section.flat(24, 4), 45, 10928.972745734181, 3e-06, HULL),
    (Section.hexagon(20), Section.hexagon(8), 50, 9006.664199358158, 3e-06, HULL),
    (Section.octagon(18), Section.octagon(9), 40, 6262.909063081196, 3e-06, HULL),
    (Section.octagon(20), Section.round(18), 30, 8840.735199495153, 3e-06, HULL),
    (Section.rounded_flat(40, 8, 4), Section.rounded_flat(20, 4, 2), 100, 17865.485324494573, 3e-06, HULL),
    (Section.round(12), Section.point(), 60, 2261.945823488065, 3e-06, HULL),
    (Section.round(20), Section.flat(30, 6), 60, 17083.182843022583, 3e-06, HULL),
    (Section.square(12), Section.point(), 60, 2880.0, 3e-06, HULL),
    (Section.square(12), Section.square(4), 60, 4160.0, 3e-06, HULL),
    (Section.square(16), Section.edge(30), 50, 8266.666666666666, 3e-06, HULL),
    (Section.square(20), Section.flat(30, 6), 60, 18800.0, 3e-06, HULL),
    (Section.square(20), Section.octagon(20), 30, 11313.70849898476, 3e-06, HULL),
    (Section.square(20), Section.round(14), 100, 27797.93265513494, 3e-06, HULL),
    (Section.triangle(20), Section.half_round(12), 40, 4663.383121946888, 3e-06, HULL),
    (Section.triangle(20), Section.round(8), 60, 6869.410660857195, 3e-06, HULL),
    (Section.triangle(20), Section.triangle(8), 60, 5403.998519614897, 3e-06, HULL),
]


@pytest.mark.parametrize(("start", "end", "length", "expected", "tolerance", "route"), VOLUMES, ids=str)
def test_taper_volumes(start, end, length, expected, tolerance, route):
    assert taper_volume(start, end, length) == pytest.approx(expected, rel=tolerance), route


def test_area_part_way_along_a_taper():
    """Route: trimesh, a slice of the hull at 40 % of its length."""
    section = Section.square(20).blend(Section.round(20), 0.4)
    assert section.area == pytest.approx(386.26546274417956, rel=5e-6)


def test_centroid_of_a_half_round():
    """Route: shapely's centroid, as a share of the thickness."""
    assert Section.half_round(20).centroid_share == pytest.approx(0.42441316076227836, rel=1e-5)


LENGTHS = [  # stock, used, start, end, expected
    (
        Section.square(12),
        20,
        Section.square(12),
        Section.point(),
        59.99999999999999,
    ),  # brentq on qhull volume
    (
        Section.flat(25, 20),
        35,
        Section.flat(24, 7),
        Section.flat(24, 7),
        104.16666666666667,
    ),  # brentq on volume: 20x25 by 35 -> 7x24
    (
        Section.square(12.7),
        21.166666666666668,
        Section.round(12.7),
        Section.point(),
        80.85071109068284,
    ),  # hand: square pyramid 2.5 in re-formed as a full cone grows by 4/pi (published lesson: about 20 %)
]


@pytest.mark.parametrize(("stock", "used", "start", "end", "expected"), LENGTHS, ids=str)
def test_taper_length_from_stock(stock, used, start, end, expected):
    assert taper_length.length_from_stock(stock, used, start, end) == pytest.approx(expected, rel=1e-6)


STOCKS = [  # stock, length, start, end, loss, expected
    (Section.square(12), 60, Section.square(12), Section.point(), 0.0, 20.0),  # brentq on qhull volume
    (
        Section.square(12.7),
        76.2,
        Section.square(12.7),
        Section.point(),
        0.0,
        25.4,
    ),  # hand: a pyramid is a third of its prism (3 in point from 1 in of bar)
    (
        Section.round(20),
        100,
        Section.round(20),
        Section.round(8),
        0.02,
        53.06122448979624,
    ),  # brentq on qhull volume, 2 % loss
]


@pytest.mark.parametrize(("stock", "length", "start", "end", "loss", "expected"), STOCKS, ids=str)
def test_stock_for_a_taper(stock, length, start, end, loss, expected):
    assert taper_length.stock_from_length(stock, length, start, end, loss) == pytest.approx(
        expected, rel=3e-6
    )


ENDS = [  # stock, used, start, end, length, expected
    (
        Section.square(12),
        20,
        Section.square(12),
        Section.square(12),
        40,
        0.3660254037844382,
    ),  # brentq on qhull volume
    (
        Section.round(16),
        30,
        Section.round(16),
        Section.flat(30, 4),
        60,
        0.32344467200839694,
    ),  # brentq on qhull volume
]


@pytest.mark.parametrize(("stock", "used", "start", "end", "length", "expected"), ENDS, ids=str)
def test_scale_of_the_end_for_a_wanted_length(stock, used, start, end, length, expected):
    assert taper_length.end_scale(stock, used, start, end, length) == pytest.approx(expected, rel=3e-6)


def test_scale_of_an_even_bar_for_a_wanted_length():
    """Route: by hand, half the length doubles the area."""
    bar = Section.square(16)
    assert taper_length.even_scale(bar, 50, bar, 25) == pytest.approx(2**0.5, rel=1e-12)


def test_stock_for_a_whole_piece_in_two_heats():
    """Route: scipy's brentq on the sum of qhull volumes, losing 2 % and 1.5 %."""
    square, rod, point = Section.square(16), Section.round(12), Section.point()
    parts = [(square, square, 80), (square, rod, 20), (rod, rod, 60), (rod, point, 50)]
    stock = sum(taper_length.stock_from_length(square, length, a, b) for a, b, length in parts)
    assert stock / (0.98 * 0.985) == pytest.approx(133.10078849839527, rel=3e-6)
