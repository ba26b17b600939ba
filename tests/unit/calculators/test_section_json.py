"""Sections as JSON: exact both ways, and refused by the name of the field."""

import json
from math import nan

import pytest
from hypothesis import given

from calculators.sections import Section, SectionError
from tests.unit.calculators.sizes import blends, named


def test_json_names_the_shape_and_its_dimensions():
    assert Section.flat(30, 8).to_json() == {"shape": "flat", "width": 30, "thickness": 8}
    assert Section.point().to_json() == {"shape": "point"}


def test_blend_gives_its_weights_by_name():
    blend = Section.hexagon(20).blend(Section.round(20), 0.5)
    assert blend.to_json() == {"shape": "blend", "disc": 5.0, "hexagon": 10.0}


@given(named)
def test_named_section_comes_back(section):
    text = json.dumps(section.to_json())
    assert Section.from_json(json.loads(text)).is_close(section, 1e-9)


@given(blends)
def test_blend_comes_back(section):
    text = json.dumps(section.to_json())
    assert Section.from_json(json.loads(text)).is_close(section, 1e-6)


@pytest.mark.parametrize(
    "section", [Section.rounded_flat(30.1, 8.3, 1.7), Section.octagon(14.2), Section.tube(30.3, 2.7)]
)
def test_sizes_as_typed_come_back_to_the_last_figure(section):
    assert Section.from_json(section.to_json()) == section


REFUSED = [
    (None, "A section is an object"),
    ([], "A section is an object"),
    ("round", "A section is an object"),
    ({}, 'A section needs its "shape"'),
    ({"shape": 3}, 'A section needs its "shape"'),
    ({"shape": "oval", "width": 3}, "There is no section shape 'oval'"),
    ({"shape": "x" * 10_000}, "There is no section shape"),
    ({"shape": "round"}, "A round needs its diameter."),
    ({"shape": "flat", "width": 30}, "A flat needs its thickness."),
    ({"shape": "round", "diameter": 12, "side": 3}, "A round has no 'side'; it has diameter."),
    ({"shape": "point", "side": 3}, "has no 'side'"),
    ({"shape": "round", "diameter": "12"}, "The diameter of a round must be a number"),
    ({"shape": "round", "diameter": True}, "must be a number"),
    ({"shape": "round", "diameter": nan}, "must be a finite number"),
    ({"shape": "round", "diameter": 10**400}, "past all measure"),
    ({"shape": "round", "diameter": -1}, "more than 0"),
    ({"shape": "rounded_flat", "width": 30, "thickness": 8, "radius": 5}, "The corner radius"),
    ({"shape": "blend", "squircle": 3}, "A blend has no 'squircle'"),
    ({"shape": "blend", "disc": -3}, "The disc of a blend"),
    ({"shape": "blend", "disc": [3]}, "The disc of a blend must be a number"),
    ({"shape": "blend", "disc": 3, "bore": 4}, "larger than its outside"),
]


@pytest.mark.parametrize(("fields", "reason"), REFUSED)
def test_broken_json_is_refused_with_the_field(fields, reason):
    with pytest.raises(SectionError) as refusal:
        Section.from_json(fields)
    assert reason in str(refusal.value)
    assert len(str(refusal.value)) < 400
