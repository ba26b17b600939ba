"""Marks over a photo: where they are drawn, that words stay legible and inside, and how they are said."""

import itertools
import re
from xml.etree import ElementTree as ET

import pytest

from calculators.wording import INCH, METRIC
from procedures.drawing.over_photo import over_photo
from procedures.engine.annotation import Annotation

SVG = "{http://www.w3.org/2000/svg}"
ARROW = Annotation("arrow", ((0.1, 0.2), (0.5, 0.5)), "hold here")
CIRCLE = Annotation("circle", ((0.6, 0.6), (0.8, 0.9)), "scarf")
DIMENSION = Annotation("dimension", ((0.1, 0.9), (0.5, 0.9)), "", 45.0)
LABEL = Annotation("label", ((0.9, 0.1),), "horn")
LONG = "the shoulder that the second heat has to leave sharp on all sides"


def drawn(*annotations, width=1600, height=800, units=METRIC):
    return over_photo(annotations, width, height, units)


def tree(*annotations, **more) -> ET.Element:
    return ET.fromstring(drawn(*annotations, **more).svg)  # noqa: S314, our own text


def texts(root: ET.Element) -> list[str]:
    return [one.text for one in root.iter(f"{SVG}text")]


def plates(root: ET.Element) -> list[tuple[float, ...]]:
    return [
        tuple(float(one.get(name)) for name in ("x", "y", "width", "height"))
        for one in root.iter(f"{SVG}rect")
    ]


def test_no_marks_draw_and_say_nothing():
    nothing = drawn()
    assert (nothing.svg, nothing.keys, nothing.said) == ("", (), "")


def test_points_fall_on_their_share_of_the_photo():
    root = tree(ARROW, CIRCLE)
    assert root.get("viewBox") == "0 0 1000 500"
    assert any(one.get("d").startswith("M500 250L") for one in root.iter(f"{SVG}path"))  # the tip, filled
    ellipse = next(root.iter(f"{SVG}ellipse"))
    assert [float(ellipse.get(one)) for one in ("cx", "cy", "rx", "ry")] == [700, 375, 100, 75]


@pytest.mark.parametrize("width", [480, 960, 1600])
def test_drawing_is_the_same_whatever_the_size_of_the_file(width):
    assert drawn(ARROW, DIMENSION, width=width, height=width / 2).svg == drawn(ARROW, DIMENSION).svg


def test_upright_photo_has_letters_of_the_same_size():
    root = tree(LABEL, width=800, height=1600)
    assert root.get("viewBox") == "0 0 500 1000"
    assert next(root.iter(f"{SVG}g")) is not None
    assert [one.get("font-size") for one in root.iter() if one.get("font-size")] == ["42"]


def test_lines_stand_in_a_casing_of_the_other_shade():
    strokes = [
        (one.get("stroke"), float(one.get("stroke-width")))
        for one in tree(ARROW).iter(f"{SVG}path")
        if one.get("stroke")
    ]
    (casing, wide), (core, narrow) = strokes
    assert {casing, core} == {"#000", "#fff"}
    assert wide >= narrow + 6


def test_dimension_says_its_length_in_the_readers_units():
    assert texts(tree(DIMENSION)) == ["45\N{NO-BREAK SPACE}mm"]
    (said,) = texts(tree(DIMENSION, units=INCH))
    assert re.fullmatch(r"1.*3/4.*in|1¾.*in", said), said


def test_words_too_long_for_the_photo_stand_under_it_by_number():
    over = drawn(LABEL, Annotation("arrow", ((0.1, 0.2), (0.5, 0.5)), LONG))
    assert [(one.number, one.words) for one in over.keys] == [(2, LONG)]
    assert "horn" in over.svg
    assert LONG not in over.svg
    assert ">2<" in over.svg


def test_words_of_two_lines_stand_on_the_photo():
    assert texts(tree(Annotation("label", ((0.5, 0.5),), "keep this corner sharp to the very end"))) == [
        "keep this corner sharp to the",
        "very end",
    ]


@pytest.mark.parametrize("at", list(itertools.product((0, 0.5, 1), repeat=2)))
def test_no_plate_leaves_the_photo(at):
    for x, y, wide, high in plates(tree(Annotation("label", (at,), "right at the edge of it"))):
        assert x >= 0
        assert y >= 0
        assert x + wide <= 1000
        assert y + high <= 500


def test_plates_keep_off_each_other_and_off_the_tips():
    one = [
        Annotation("arrow", ((0.5, 0.5), (x, y)), f"arrow to {x}")
        for x, y in ((0.1, 0.1), (0.9, 0.1), (0.1, 0.9))
    ]
    boxes = plates(tree(*one))
    for (x, y, wide, high), (x2, y2, wide2, high2) in itertools.combinations(boxes, 2):
        assert x + wide <= x2 or x2 + wide2 <= x or y + high <= y2 or y2 + high2 <= y
    for (x, y, wide, high), mark in itertools.product(boxes, one):
        tip = mark.points[1][0] * 1000, mark.points[1][1] * 500
        assert not (x < tip[0] < x + wide and y < tip[1] < y + high)


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "a & b", "]]>", "\u202eturned round", "עין", "🔥 hot"]
)
def test_words_of_any_kind_stay_words(text):
    over = drawn(Annotation("label", ((0.5, 0.5),), text))
    assert "<script" not in over.svg
    assert "\u202e" not in over.svg
    assert len(texts(ET.fromstring(over.svg))) == 1  # noqa: S314, our own text


def test_marks_are_said_with_their_kind_place_and_words():
    assert drawn(ARROW, CIRCLE, DIMENSION, LABEL, Annotation("circle", ((0, 0), (1, 1)))).said == (
        "Marked on it: 1, arrow in the middle: hold here; 2, circle at the lower right: scarf; "
        "3, dimension at the lower left: 45\u202fmm; 4, label at the upper right: horn; "
        "5, circle in the middle."
    )


@pytest.mark.parametrize("size", [(1000, 64), (64, 1000), (1000, 1000)])
def test_photo_of_any_proportion_takes_a_full_load(size):
    marks = [Annotation("arrow", ((0, index / 24), (1, 0.5)), LONG[: 3 * index]) for index in range(24)]
    over = drawn(*marks, width=size[0], height=size[1])
    assert over.svg.count("<g><path") == 24
    assert "nan" not in over.svg
    assert "inf" not in over.svg
