"""The record of an original: corrections by hand, what is refused, and written back as it was read."""

import json
import math

import jsonschema
import pytest

from procedures.engine.document import read, write
from procedures.engine.originals_stored import read_measurement
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.schema import schema

from .documents import a_document, a_part, drawn_out

OUTER = {"face": "outer", "depth": 0.5, "uncertainty": 0.3, "reason": "Outdoors, facing the weather."}
INNER = {"face": "inner", "depth": 0.25, "uncertainty": 0.6, "reason": "Against the wood."}
LEAF = {
    "key": "m1",
    "what": "Thickness of the leaf",
    "value": 4.25,
    "uncertainty": 0.2,
    "tool": "calipers",
    "faces": [OUTER, INNER],
}
WHOLE = {
    "what": "Strap hinge",
    "maker": "Unknown",
    "date": "About 1790",
    "inventory": "X.12",
    "seen_on": "2025-03-09",
    "permits": {"publish": {"answer": "yes", "by": "The keeper", "on": "2025-03-01", "terms": "Name it."}},
    "references": [{"key": "s1", "kind": "x_ray", "text": "Plate 3"}],
    "measurements": [{**LEAF, "sources": ["s1"], "part": "bar", "size": "length:bar"}],
}


def measured(**more):
    return read_measurement({**LEAF, **more}, ())


def test_faces_are_added_and_doubts_add_as_squares():
    # 4.25 + 0.5 + 0.25 = 5.00; 0.2^2 + 0.3^2 + 0.6^2 = 0.04 + 0.09 + 0.36 = 0.49 = 0.7^2
    leaf = measured()
    assert leaf.corrected == pytest.approx(5.0)
    assert leaf.doubt == pytest.approx(0.7)
    assert leaf.bounds == pytest.approx((4.3, 5.0, 5.7))


def test_opening_was_smaller():
    # 13 - 0.5 - 0.25 = 12.25
    assert measured(value=13, opening=True).corrected == pytest.approx(12.25)


def test_without_faces_it_is_what_was_found():
    leaf = measured(faces=[])
    assert (leaf.corrected, leaf.doubt) == (4.25, 0.2)


@pytest.mark.parametrize(
    ("more", "path"),
    [
        ({"faces": [{**OUTER, "depth": -0.1}]}, "faces/0/depth"),
        ({"faces": [{**OUTER, "depth": math.nan}]}, "faces/0/depth"),
        ({"faces": [{**OUTER, "uncertainty": -1}]}, "faces/0/uncertainty"),
        ({"faces": [{**OUTER, "reason": ""}]}, "faces/0/reason"),
        ({"faces": [{**OUTER, "depth": 4}, INNER]}, "faces"),
        ({"faces": [OUTER] * 7}, "faces"),
        ({"value": 0}, "value"),
        ({"value": math.inf}, "value"),
        ({"value": "5"}, "value"),
        ({"uncertainty": 4.25}, "uncertainty"),
        ({"tool": "eye"}, "tool"),
        ({"size": "colour:leaf"}, "size"),
        ({"sources": ["S 1"]}, "sources/0"),
    ],
)
def test_what_cannot_be_is_refused_with_its_path(more, path):
    with pytest.raises(DocumentError) as refused:
        measured(**more)
    assert refused.value.path == path


@pytest.mark.parametrize(
    "more",
    [
        {"seen_on": "March 2025"},
        {"seen_on": "2025-02-30"},
        {"permits": {"sell": {"answer": "yes"}}},
        {"permits": {"publish": {"answer": "perhaps"}}},
        {"measurements": [LEAF, LEAF]},
        {"references": [{"key": "s1", "kind": "book", "text": " "}]},
    ],
)
def test_a_record_that_does_not_read_is_refused(more):
    with pytest.raises(DocumentError) as refused:
        read(a_document(a_part(drawn_out()), original={**WHOLE, **more}))
    assert refused.value.path.startswith("original")


def test_it_is_written_back_as_it_was_read_and_the_schema_takes_it():
    step = drawn_out() | {
        "evidence": {"standing": "seen", "method": "Drawn under a tilt hammer", "sources": ["s1"]},
        "photos": [{"digest": "0" * 64, "alt": "The leaf", "credit": "Ida Marl", "of_original": True}],
    }
    stored = a_document(a_part(step), original=WHOLE)
    found = read(stored)
    again = write(found)
    assert again["original"] == WHOLE
    assert again["parts"][0]["steps"][0]["evidence"] == step["evidence"]
    assert again["parts"][0]["steps"][0]["photos"] == step["photos"]
    assert read(json.loads(json.dumps(again))) == found
    jsonschema.Draft202012Validator(schema()).validate(again)
    assert found.original.photos_may_be_published


def test_only_a_yes_lets_photos_be_published():
    for permit in ({}, {"publish": {"answer": "asked"}}, {"publish": {"answer": "no"}}):
        found = read(a_document(a_part(drawn_out()), original={**WHOLE, "permits": permit}))
        assert not found.original.photos_may_be_published
