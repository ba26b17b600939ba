"""Sections as people type them, and what is refused."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calculators.sections import Section
from calculators.typed import TypedError, parse_section
from calculators.wording import INCH, METRIC
from tests.unit.calculators.sizes import named

IN = 25.4
UNDERSTOOD = [
    ("20 x 50", Section.flat(50, 20)),
    ("50×20", Section.flat(50, 20)),
    ("50*20", Section.flat(50, 20)),
    ("20 by 50", Section.flat(50, 20)),
    ("20x50mm", Section.flat(50, 20)),
    ("flat 50 x 20", Section.flat(50, 20)),
    ("50 x 20 flat", Section.flat(50, 20)),
    ("12 x 12", Section.square(12)),
    ("8,5 x 30", Section.flat(30, 8.5)),
    ("ø12", Section.round(12)),
    ("Ø 12", Section.round(12)),
    ("⌀12 mm", Section.round(12)),
    ("dia 12", Section.round(12)),
    ("12 dia", Section.round(12)),
    ("12 round", Section.round(12)),
    ("round 12", Section.round(12)),
    ("12 rd", Section.round(12)),
    ("12mm round bar", Section.round(12)),
    ("12 ROUND", Section.round(12)),
    ("1/2 sq", Section.square(0.5)),
    ("1/2 in sq", Section.square(0.5 * IN)),
    ('sq 1/2"', Section.square(0.5 * IN)),
    ("□12", Section.square(12)),
    ("sq 12", Section.square(12)),
    ("12 square", Section.square(12)),
    ("12 hex", Section.hexagon(12)),
    ("hex 12", Section.hexagon(12)),
    ("oct 14", Section.octagon(14)),
    ("half round 20", Section.half_round(20)),
    ("half-round 20", Section.half_round(20)),
    ("20 half-round", Section.half_round(20)),
    ("12 tri", Section.triangle(12)),
    ("30x8 r2", Section.rounded_flat(30, 8, 2)),
    ("30 x 8 radius 2 mm", Section.rounded_flat(30, 8, 2)),
    ("12 sq r1", Section.rounded_flat(12, 12, 1)),
    ("12 sq c1", Section.chamfered_flat(12, 12, 1)),
    ("□12 c1", Section.chamfered_flat(12, 12, 1)),
    ("8 x 30 c1,5", Section.chamfered_flat(30, 8, 1.5)),
    ('1/2" x 2"', Section.flat(2 * IN, 0.5 * IN)),
    ("2 x 1/2 in", Section.flat(2 * IN, 0.5 * IN)),
    ("1-1/2 x 3/8 in", Section.flat(1.5 * IN, 0.375 * IN)),
    ("20 mm x 2 in", Section.flat(2 * IN, 20)),
    ("20mm x 50", Section.flat(50, 20)),
    ("tube 30 x 3", Section.tube(30, 3)),
    ("tube ø30 wall 3", Section.tube(30, 3)),
]


@pytest.mark.parametrize(("text", "section"), UNDERSTOOD)
def test_section_is_understood(text, section):
    assert parse_section(text).is_close(section)


def test_bare_sizes_are_in_the_reader_s_unit():
    assert parse_section("1/2 sq", "in") == Section.square(12.7)
    assert parse_section("2 x 1/2", "in") == Section.flat(50.8, 12.7)
    assert parse_section("30 x 8 mm", "in") == Section.flat(30, 8)


REFUSED = [
    ("", "empty"),
    ("12", "does not say the shape: type ø12 for a round of 12 or 12 sq for a square"),
    ("1/2 in", "does not say the shape"),
    ("ø", "no size"),
    ("sq", "no size"),
    ("flat 12", "a flat has two"),
    ("sq 12 x 14", "a square has one"),
    ("ø12 x 14", "a round has one"),
    ("half-round 20 x 10", "a half-round has one"),
    ("20 x 30 x 40", "more than two sizes"),
    ("20 30", "nothing more was expected"),
    ("20 x", "nothing where a number was expected"),
    ("x 20", "“x” where a number was expected"),
    ("20 xx 30", "“xx”"),
    ("ø12 sq", "two shapes"),
    ("round sq 12", "two shapes"),
    ("half 20", "half of something"),
    ("half sq 20", "half of something"),
    ("12 hexx", "“hexx”"),
    ("12 oval", "“oval”"),
    ("r2", "corners before any size"),
    ("12 r2", "only a square or a flat has"),
    ("ø12 r2", "only a square or a flat has"),
    ("hex 12 c1", "only a square or a flat has"),
    ("30 x 8 r2 r3", "corners said twice"),
    ("30 x 8 r2 c1", "corners said twice"),
    ("30 x 8 r", "nothing where a number was expected"),
    ("30 x 8 r0", "more than zero"),
    ("30 x 8 r5", "The corner radius, 5 mm, is more than half of 8 mm."),
    ("30 x 8 c4", "must be less than half of 8 mm"),
    ("tube 30", "needs a diameter and a wall"),
    ("tube 30 x 15", "less than half the diameter"),
    ("0 x 5", "more than zero"),
    ("ø0", "more than zero"),
    ("ø-5", "below zero"),
    ("20 x -5", "below zero"),
    ("20-50", "a range"),
    ("200000 x 2", "more than 100 m"),
    ("ø0.00000001", "0.000001 mm is the least"),
    ("nan sq", "“nan”"),
    ("inf x inf", "“inf”"),
    ("1e400 sq", "“e”"),
    ("9**9**9", "“xx”"),
    ("1/0 sq", "over zero"),
    ("1,000 sq", "could mean"),
    ('1/2" x 2', "a unit on one size and none on the last"),
    ("12 sq; drop", "“;” in it"),
    ("\uff11\uff12 sq", "in it"),
    ("12 kg x 3", "“kg”"),
    ("12 sq" + " " * 60, "too long"),
]


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_section_is_refused_with_the_reason(text, reason):
    with pytest.raises(TypedError) as refusal:
        parse_section(text)
    message = str(refusal.value)
    assert reason in message
    assert message.endswith(".")


@given(st.text(alphabet="0123456789 .,/-½'\"x×øØ□rcsqhexoctalfdibymn", max_size=40))
def test_any_text_is_a_section_or_refused_with_a_sentence(text):
    try:
        area, message = parse_section(text).area, ""
    except TypedError as refusal:
        area, message = 1, str(refusal)
    assert area > 0
    assert message == "" or message.endswith(".")


@given(named)
def test_a_section_as_shown_is_read_back(section):
    shown = METRIC.section(section)
    # Rounding to a tenth can make a corner as large as its side, which is then rightly refused.
    assume(min(section.dimensions.values()) > 0.3)
    assume(section.shape != "chamfered_flat" or section.dimensions["chamfer"] < 0.4 * section.thickness)
    try:
        read = parse_section(shown)
    except TypedError:
        assume(False)
    assert METRIC.section(read) == shown


@pytest.mark.parametrize(
    "section",
    [
        Section.square(12.7),
        Section.flat(50.8, 6.35),
        Section.round(19.05),
        Section.hexagon(25.4),
        Section.tube(25.4, 3.175),
    ],
)
def test_a_section_in_inches_is_read_back(section):
    assert parse_section(INCH.section(section)).is_close(section)
