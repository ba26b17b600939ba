"""What numbers and sections are called in either system."""

import math

import pytest

from calculators.sections import Section
from calculators.wording import INCH, METRIC, UNIT_SYSTEMS

NB = "\N{NARROW NO-BREAK SPACE}"

SAID = [
    ("length", 60, "60 mm", "2 3/8 in"),
    ("length", 166.666, "166.7 mm", "6 1/2 in"),
    ("length", 166.7, "166.7 mm", "6 5/8 in"),
    ("length", 999.96, "1000 mm", "3 ft 3 3/8 in"),
    ("length", 1234.56, "1235 mm", "4 ft 5/8 in"),
    ("length", 0.05, "0.05 mm", "0.002 in"),
    ("length", 0, "0 mm", "0 in"),
    ("length", -3.25, "\N{MINUS SIGN}3.3 mm", "\N{MINUS SIGN}1/8 in"),
    ("length", 12.7, "12.7 mm", "1/2 in"),
    ("length", 25.4 * 5.45, "138.4 mm", "5 7/16 in"),
    ("length", 25.4 * 35.99, "914.1 mm", "3 ft"),
    ("length", 25.4 * 36, "914.4 mm", "3 ft"),
    ("length", 25.4 * 35.5, "901.7 mm", "35 1/2 in"),
    ("size", 12, "12 mm", "15/32 in"),
    ("size", 2.38125, "2.4 mm", "3/32 in"),
    ("size", 1.190625, "1.2 mm", "3/64 in"),
    ("size", 13, "13 mm", "1/2 in"),
    ("mass", 1.13, "1.13 kg", "2 lb 8 oz"),
    ("mass", 0.34, "340 g", "12 oz"),
    ("mass", 0.04567, "45.7 g", "1.6 oz"),
    ("mass", 0.00148, "1.5 g", "0.05 oz"),
    ("mass", 0.9999, "1 kg", "2 lb 3 oz"),
    ("mass", 0.45359237, "454 g", "1 lb"),
    ("mass", 123.456, "123.5 kg", "272 lb 3 oz"),
    ("volume", 24_000, "24 cm³", "1.46 in³"),
    ("area", 144, "144 mm²", "0.223 in²"),
    ("temperature", 1150, "1150 °C", "2102 °F"),
    ("angle", 41.63, "41.6°", "41.6°"),
    ("percent", 0.0206, "2.1 %", "2.1 %"),
    ("number", 1.75, "1.75", "1.75"),
    ("number", 0.506, "0.506", "0.506"),
    ("count", 3, "3", "3"),
    ("seconds", 4.25, "4.3 s", "4.3 s"),
    ("seconds", 45, "45 s", "45 s"),
    ("seconds", 150, "2 min 30 s", "2 min 30 s"),
    ("seconds", 3600 + 299, "1 h 5 min", "1 h 5 min"),
]


@pytest.mark.parametrize(("kind", "value", "metric", "inch"), SAID)
def test_value_is_said(kind, value, metric, inch):
    assert getattr(METRIC, kind)(value).replace(NB, " ") == metric
    assert getattr(INCH, kind)(value).replace(NB, " ") == inch


def test_unit_never_comes_apart_from_its_number():
    assert METRIC.length(60) == f"60{NB}mm"
    assert INCH.mass(1.13) == f"2{NB}lb 8{NB}oz"


SECTIONS = [
    (Section.round(12), "ø12 mm", "ø15/32 in"),
    (Section.square(12.7), "□12.7 mm", "□1/2 in"),
    (Section.flat(30, 8), "30 × 8 mm", "1 3/16 × 5/16 in"),
    (Section.flat(8, 30), "30 × 8 mm", "1 3/16 × 5/16 in"),
    (Section.hexagon(20), "hexagon 20 mm", "hexagon 25/32 in"),
    (Section.octagon(14), "octagon 14 mm", "octagon 9/16 in"),
    (Section.half_round(20), "half-round 20 mm", "half-round 25/32 in"),
    (Section.triangle(12), "triangle 12 mm", "triangle 15/32 in"),
    (Section.rounded_flat(30, 8, 2), "30 × 8 r2 mm", "1 3/16 × 5/16 r5/64 in"),
    (Section.chamfered_flat(12, 12, 1), "□12 c1 mm", "□15/32 c3/64 in"),
    (Section.tube(30, 3), "tube 30 × 3 mm", "tube 1 3/16 × 1/8 in"),
    (Section.edge(30), "edge 30 mm", "edge 1 3/16 in"),
    (Section.point(), "point", "point"),
    (Section.hexagon(20).blend(Section.flat(30, 8), 0.5), "blend 26.5 × 14 mm", "blend 1 1/32 × 9/16 in"),
]


@pytest.mark.parametrize(("section", "metric", "inch"), SECTIONS)
def test_section_is_said(section, metric, inch):
    assert METRIC.section(section).replace(NB, " ") == metric
    assert INCH.section(section).replace(NB, " ") == inch
    assert str(section) == METRIC.section(section)


def test_section_on_a_drawing_has_no_unit():
    assert METRIC.section_short(Section.square(12)) == "□12"
    assert INCH.section_short(Section.flat(50.8, 12.7)).replace(NB, " ") == "2 × 1/2"


@pytest.mark.parametrize("kind", ["length", "size", "mass", "temperature", "number", "percent", "volume"])
@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_not_a_number_is_never_shown(kind, value):
    for system in (METRIC, INCH):
        with pytest.raises((ValueError, OverflowError)):
            getattr(system, kind)(value)


def test_systems_are_found_by_their_id():
    assert UNIT_SYSTEMS == {"metric": METRIC, "inch": INCH}
    assert (METRIC.length_unit, INCH.length_unit) == ("mm", "in")
