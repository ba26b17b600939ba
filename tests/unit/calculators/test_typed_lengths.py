"""Lengths as people type them, and what is refused."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.typed import TypedError, parse_length
from calculators.wording import INCH, METRIC

UNDERSTOOD = [
    ("60", 60),
    ("8.5", 8.5),
    ("8,5", 8.5),
    (".5", 0.5),
    ("0,125", 0.125),
    ("12.700", 12.7),
    ("  60  ", 60),
    ("60mm", 60),
    ("60 mm", 60),
    ("60\u202fmm", 60),
    ("8.9cm", 89),
    ("8,9 cm", 89),
    ("1.5 m", 1500),
    ("1 metre", 1000),
    ('3/4"', 19.05),
    ("3/4 in", 19.05),
    ('3 1/2"', 88.9),
    ('3-1/2"', 88.9),
    ('3½"', 88.9),
    ("3 ½ inches", 88.9),
    ("½ in", 12.7),
    ("9/8 inch", 28.575),
    ("½", 0.5),
    ("3\u20111/2 in", 88.9),
    ("1 1\u20442 in", 38.1),
    ("1 ft", 304.8),
    ("1'", 304.8),
    ("2 feet", 609.6),
    ("1' 2 3/8\"", 365.125),
    ("1'2-3/8\"", 365.125),
    ("1\u2032 2 3/8\u2033", 365.125),
    ("1 ft 2 3/8 in", 365.125),
    ("1' 2", 355.6),
    ("5'-3\"", 1600.2),
    ("1'-2 3/8", 365.125),
    ("5''", 127),
    ("100 m", 100_000),
    ("12 IN", 304.8),
]


@pytest.mark.parametrize(("text", "expected"), UNDERSTOOD)
def test_length_is_understood(text, expected):
    assert parse_length(text) == expected


def test_bare_number_is_in_the_reader_s_unit():
    assert parse_length("1 1/2", "in") == 38.1
    assert parse_length("60 mm", "in") == 60
    assert parse_length("2", "cm") == 20


def test_zero_only_where_it_is_allowed():
    assert parse_length("0", zero_ok=True) == 0
    with pytest.raises(TypedError, match="more than zero"):
        parse_length("0")


REFUSED = [
    ("", "empty"),
    ("   ", "empty"),
    ("mm", "where a number was expected"),
    ("sixty", "“sixty” where a number was expected"),
    ("-5", "below zero"),
    ("\u22125", "below zero"),
    ("5-10", "a range"),
    ("5 - 10 mm", "a range"),
    ("0 mm", "more than zero"),
    ("0.0", "more than zero"),
    ("101 m", "more than 100 m"),
    ("999999999999", "more than 100 m"),
    ("1,000", "could mean 1000 or 1.000"),
    ("12,345", "could mean 12345 or 12.345"),
    ("1,234.5", "not one number"),
    ("1.2.3", "not one number"),
    ("5.", "not one number"),
    ("1 000", "where nothing more was expected"),
    ("1 2", "where nothing more was expected"),
    ("nan", "where a number was expected"),
    ("inf", "where a number was expected"),
    ("infinity mm", "where a number was expected"),
    ("1e400 mm", "“e”"),
    ("1e3", "“e”"),
    ("0x10", "“x”"),
    ("9**9**9 mm", "“xx”"),
    ("2*3", "“x”"),
    ("(2+3)", "“(”"),
    ("1/0", "over zero"),
    ("0/0", "over zero"),
    ("1/", "without a whole number"),
    ("/2", "where a number was expected"),
    ("1/2/3", "two fraction lines"),
    ("1/2.5", "without a whole number"),
    ("1.5 1/2", "mixes a decimal and a fraction"),
    ("1.5½", "mixes a decimal and a fraction"),
    ("1.5/2", "mixes a decimal and a fraction"),
    ("3 9/8", "one or more after a whole number"),
    ("½½", "nothing more was expected"),
    ("1 1/2 1/2", "nothing more was expected"),
    ("1' 12\"", "twelve inches or more"),
    ("1' 14\"", "twelve inches or more"),
    ("1' 2 mm", "something else than inches"),
    ("1' 2' 3\"", "something else than inches"),
    ("12 mm mm", "“mm”"),
    ("12 furlongs", "“furlongs”"),
    ("12 kg", "“kg”"),
    ("5'-", "a range"),
    ("5'--3\"", "a range"),
    ("1234567890123", "more than 12 figures"),
    ("\uff11\uff12 mm", "in it"),  # full-width digits
    ("\u0661\u0662", "in it"),  # Arabic digits
    ("12\u00b2", "in it"),  # superscript two
    ("\u2167 in", "in it"),  # a Roman numeral sign
    ("12\u0000mm", "in it"),
    ("12;mm", "“;” in it"),
    ("__import__('os')", "“_” in it"),
    ("60 \N{PILE OF POO}", "in it"),
    ("6" * 61, "too long"),
    ("1 " * 5_000, "too long"),
]


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_length_is_refused_with_the_reason_and_examples(text, reason):
    with pytest.raises(TypedError) as refusal:
        parse_length(text)
    message = str(refusal.value)
    assert reason in message
    assert "Type a length such as" in message
    assert len(message) < 260


@pytest.mark.parametrize("value", [None, 12, 12.5, b"12", ["12"]])
def test_what_is_not_text_is_refused(value):
    with pytest.raises(TypedError, match="is not text"):
        parse_length(value)


def assert_length_or_sentence(text):
    try:
        mm, message = parse_length(text), ""
    except TypedError as refusal:
        mm, message = 1, str(refusal)
    assert 0 < mm <= 100_000
    assert message == "" or message.endswith(".")


@given(st.text(max_size=80))
def test_any_text_is_a_length_or_refused_with_a_sentence(text):
    assert_length_or_sentence(text)


@given(st.text(alphabet="0123456789 .,/-½'\"xrcminft*e", max_size=60))
def test_any_near_miss_is_a_length_or_refused_with_a_sentence(text):
    assert_length_or_sentence(text)


def test_a_very_long_text_is_refused_at_once():
    started = time.perf_counter()
    with pytest.raises(TypedError, match="too long"):
        parse_length("1" * 1_000_000)
    assert time.perf_counter() - started < 0.05


@given(st.floats(1, 99_000))
def test_a_length_as_shown_is_read_back(mm):
    metric = parse_length(METRIC.length(mm))
    assert metric == pytest.approx(mm, abs=0.51 if mm >= 999 else 0.051)
    assert METRIC.length(metric) == METRIC.length(mm)
    inches = parse_length(INCH.length(mm))
    assert inches == pytest.approx(mm, abs=25.4 / 15.9)
