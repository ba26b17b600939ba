"""Marks on a photo: what the document keeps of them, and what it refuses, by the path."""

import json

import pytest
from jsonschema import Draft202012Validator

from procedures.engine.document import read, write
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.schema import schema
from tests.unit.engine.documents import a_document, a_part, drawn_out

VALIDATOR = Draft202012Validator(schema())
ARROW = {"kind": "arrow", "points": [[0.1, 0.2], [0.5, 0.5]], "text": "hold here"}
CIRCLE = {"kind": "circle", "points": [[0, 0], [1, 1]]}
DIMENSION = {"kind": "dimension", "points": [[0.2, 0.8], [0.8, 0.8]], "length": 45.0}
LABEL = {"kind": "label", "points": [[0.5, 0.1]], "text": "horn"}
AT = "parts/0/steps/0/photos/0/annotations"


def marked(*annotations, **more) -> dict:
    photo = {"digest": "a" * 64, "alt": "the bar", "annotations": list(annotations), **more}
    return a_document(a_part(drawn_out() | {"photos": [photo]}))


def agreed(document: dict) -> bool:
    """Whether the reader takes it; the schema must say the same."""
    try:
        read(document)
    except DocumentError:
        assert not VALIDATOR.is_valid(document)
        return False
    assert VALIDATOR.is_valid(document)
    return True


def test_every_kind_comes_back_as_it_was_stored():
    document = marked(ARROW, CIRCLE, DIMENSION, LABEL, {**DIMENSION, "text": "shoulder"})
    assert agreed(document)
    written = write(read(document))
    assert written["parts"][0]["steps"][0]["photos"] == document["parts"][0]["steps"][0]["photos"]
    assert write(read(json.loads(json.dumps(written)))) == written


def test_document_without_marks_is_written_as_before():
    document = a_document(a_part(drawn_out() | {"photos": [{"digest": "a" * 64, "alt": "the bar"}]}))
    assert agreed(document)
    photo = write(read(document))["parts"][0]["steps"][0]["photos"][0]
    assert photo == {"digest": "a" * 64, "alt": "the bar"}


@pytest.mark.parametrize(
    ("annotation", "path", "said"),
    [
        ({**ARROW, "kind": "star"}, "kind", "is not one of arrow, circle, dimension, label"),
        ({"kind": "arrow"}, "points", "missing"),
        ({**ARROW, "colour": "red"}, "colour", "no field of this name"),
        ({**ARROW, "points": [[0.1, 0.2]]}, "points", "An arrow has two points, not 1"),
        ({**LABEL, "points": [[0.1, 0.2], [0.3, 0.4]]}, "points", "A label has one point, not 2"),
        ({**LABEL, "points": []}, "points", "A label has one point, not 0"),
        ({**ARROW, "points": [[0, 0], [1, 1], [0, 1]]}, "points", "at most 2"),
        ({**ARROW, "points": [[0.1, 0.2], [1.2, 0.5]]}, "points/1/0", "at most 1, not 1.2"),
        ({**ARROW, "points": [[0.1, -0.2], [1, 0.5]]}, "points/0/1", "at least 0, not -0.2"),
        ({**ARROW, "points": [[float("nan"), 0], [1, 1]]}, "points/0/0", "ordinary number"),
        ({**ARROW, "points": [["<script>", 0], [1, 1]]}, "points/0/0", "must be a number"),
        ({**ARROW, "points": [[True, 0], [1, 1]]}, "points/0/0", "must be a number"),
        ({**ARROW, "points": [0.1, 0.2]}, "points/0", "[across, down]"),
        ({**ARROW, "text": "x" * 500}, "text", "500 characters long; at most 80"),
        ({**ARROW, "text": "a\nb"}, "text", "Control characters"),
        ({**ARROW, "text": 3}, "text", "Words are needed"),
        ({**ARROW, "length": 45}, "length", "Only a dimension has a length"),
        ({**LABEL, "text": "  "}, "text", "A label needs words"),
        ({**DIMENSION, "length": None}, "text", "needs a length or words"),
        ({**DIMENSION, "length": 0}, "length", "more than 0"),
        ({**DIMENSION, "length": 1e12}, "length", "ordinary number"),
        ("arrow", "", "An object is needed"),
    ],
)
def test_a_fault_is_refused_with_its_path(annotation, path, said):
    document = marked(LABEL, annotation)
    with pytest.raises(DocumentError) as refused:
        read(document)
    assert refused.value.path == f"{AT}/1/{path}".rstrip("/")
    assert said in refused.value.message
    if "nan" not in str(annotation):  # JSON has no such number
        assert not VALIDATOR.is_valid(document)


@pytest.mark.parametrize("kind", ["arrow", "dimension", "circle"])
def test_points_that_are_one_to_a_finger_are_refused(kind):
    with pytest.raises(DocumentError, match="at least 1 %"):
        read(marked({"kind": kind, "points": [[0.5, 0.5], [0.505, 0.505]], "text": "here"}))


def test_flat_circle_is_refused_and_a_level_arrow_is_not():
    points = [[0.1, 0.5], [0.9, 0.5]]
    with pytest.raises(DocumentError, match="wide and high"):
        read(marked({**CIRCLE, "points": points}))
    assert agreed(marked({**ARROW, "points": points}))


def test_five_hundred_marks_are_refused_by_number():
    with pytest.raises(DocumentError, match="There are 500 entries; at most 24") as refused:
        read(marked(*[ARROW] * 500))
    assert refused.value.path == AT
    assert not agreed(marked(*[ARROW] * 25))
    assert agreed(marked(*[ARROW] * 24))
