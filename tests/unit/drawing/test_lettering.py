"""Lettering: widths against the font itself, names made safe, sizes as drawings say them."""

import pytest

from calculators.sections import Section
from calculators.wording import INCH, METRIC
from procedures.drawing.lettering import bare, fitted, name, safe, section_words, width_of

from .svg_reading import width


@pytest.mark.parametrize("weight", ["400", "600"])
@pytest.mark.parametrize(
    "words",
    ["0123456789", "166.7", "30×8", "R15 90°", "13 1/8″", "4′ 2 1/8″", "2 turns right-hand", "Äpfel & Öl"],
)
def test_words_take_no_more_room_than_reckoned_and_not_much_less(words, weight):
    true = width(words, 10, weight)
    assert true <= width_of(words, 10) <= 1.2 * true


def test_names_lose_controls_and_keep_to_one_line():
    assert name("two\nlines\tand\u202e more") == "two lines and more"


def test_a_long_name_is_cut_with_an_ellipsis():
    assert name("A" * 60) == "A" * 39 + "…"


def test_joined_emoji_stay_joined():
    assert name("👩‍🏭") == "👩‍🏭"


def test_words_fit_their_room():
    assert fitted("crotch", 10, 100) == "crotch"
    assert fitted("a very long name", 10, 30).endswith("…")
    assert width_of(fitted("a very long name", 10, 30), 10) <= 30
    assert fitted("wide", 10, 1) == ""


def test_what_xml_would_read_is_escaped():
    assert safe('<b>&"x"') == "&lt;b&gt;&amp;&quot;x&quot;"


@pytest.mark.parametrize(
    ("mm", "units", "said"),
    [
        (166.66, METRIC, "166.7"),
        (60, METRIC, "60"),
        (63.5, INCH, "2 1/2″"),
        (1270, INCH, "4′ 2″"),
        (3, INCH, "1/8″"),
    ],
)
def test_a_length_is_said_bare(mm, units, said):
    assert bare(mm, units) == said


@pytest.mark.parametrize(
    ("section", "units", "said"),
    [
        (Section.flat(30, 8), METRIC, "30×8"),
        (Section.square(12), METRIC, "□12"),
        (Section.round(12), METRIC, "ø12"),
        (Section.square(12.7), INCH, "□1/2″"),
        (Section.point(), INCH, "point"),
        (Section.square(12).blend(Section.round(6), 0.5), METRIC, "□9 r1.5"),
    ],
)
def test_a_section_is_said_as_on_drawings(section, units, said):
    assert section_words(section, units) == said
