"""Numbers, angles, masses and temperatures as people type them."""

import pytest

from calculators.typed import TypedError, parse_angle, parse_mass, parse_number, parse_temperature
from calculators.wording import INCH, METRIC

UNDERSTOOD = [
    (parse_number, "3", 3),
    (parse_number, "0", 0),
    (parse_number, "1,75", 1.75),
    (parse_number, "1 3/4", 1.75),
    (parse_angle, "45", 45),
    (parse_angle, "22,5°", 22.5),
    (parse_angle, "30 deg", 30),
    (parse_angle, "1 1/2 turns", 540),
    (parse_mass, "1.13", 1.13),
    (parse_mass, "340 g", 0.34),
    (parse_mass, "2 lb", 2 * 0.45359237),
    (parse_mass, "2 lb 8 oz", 2.5 * 0.45359237),
    (parse_temperature, "1150", 1150),
    (parse_temperature, "1150 °C", 1150),
    (parse_temperature, "1150C", 1150),
    (parse_temperature, "2102°F", 1150),
    (parse_temperature, "212 F", 100),
]


@pytest.mark.parametrize(("parse", "text", "expected"), UNDERSTOOD)
def test_value_is_understood(parse, text, expected):
    assert parse(text) == pytest.approx(expected, rel=1e-12)


def test_below_zero_only_where_it_is_asked_for():
    assert parse_angle("-30", negative_ok=True) == -30
    assert parse_number("-1 1/2", negative_ok=True) == -1.5
    for parse in (parse_angle, parse_number):
        with pytest.raises(TypedError, match="below zero"):
            parse("-30")
        with pytest.raises(TypedError, match="below zero"):
            parse("--30", negative_ok=True)


REFUSED = [
    (parse_number, "two", "“two”"),
    (parse_number, "3 mm", "“mm”"),
    (parse_number, "1e9", "“e”"),
    (parse_number, "nan", "“nan”"),
    (parse_number, "", "empty"),
    (parse_angle, "45 mm", "“mm”"),
    (parse_angle, "101 turns", "more than 100 turns"),
    (parse_mass, "0 kg", "more than zero"),
    (parse_mass, "200000 kg", "more than 100 tonnes"),
    (parse_mass, "2 lb 17 oz", "sixteen ounces"),
    (parse_mass, "2 lb 3 g", "something else than ounces"),
    (parse_mass, "2 lb 3", "something else than ounces"),
    (parse_mass, "2 stone", "“stone”"),
    (parse_temperature, "9000", "outside 0 to 3000 °C"),
    (parse_temperature, "20 F", "outside 0 to 3000 °C"),
    (parse_temperature, "1150 K", "“k”"),
    (parse_temperature, "cherry", "“cherry”"),
]


@pytest.mark.parametrize(("parse", "text", "reason"), REFUSED)
def test_value_is_refused_with_the_reason(parse, text, reason):
    with pytest.raises(TypedError) as refusal:
        parse(text)
    assert reason in str(refusal.value)
    assert "such as" in str(refusal.value)


def test_default_units_can_be_the_reader_s():
    assert parse_mass("8", "oz") == pytest.approx(0.45359237 / 2)
    assert parse_temperature("2102", "F") == 1150


@pytest.mark.parametrize("kg", [0.34, 0.05, 1.134, 2.5, 50])
def test_a_mass_as_shown_is_read_back(kg):
    assert parse_mass(METRIC.mass(kg)) == pytest.approx(kg, rel=0.01)
    assert parse_mass(INCH.mass(kg)) == pytest.approx(kg, rel=0.03)
