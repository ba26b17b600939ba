"""What a reproduction says of its original: read, refused with the path, and written back."""

import pytest

from procedures.engine.document import read, write
from procedures.engine.evidence import Evidence
from procedures.engine.originals import Original
from procedures.engine.parameters.fields import DocumentError

from .documents import a_document, a_part, drawn_out

SEEN = {"standing": "seen", "reason": "A weld line on the inside of the eye."}


def a_reproduction(step=None, **more):
    return a_document(a_part(drawn_out() | (step or {})), **more)


def test_it_is_read_and_written_back():
    original = {"identity": "Latch 12, Orrell House", "sources": "A drawing of 1871\nTwo photos"}
    stored = a_reproduction({"evidence": SEEN, "deviation": "Drilled, not punched."}, original=original)
    found = read(stored)
    step = found.parts[0].steps[0]
    assert step.evidence == Evidence("seen", "A weld line on the inside of the eye.")
    assert step.deviation == "Drilled, not punched."
    assert found.original == Original(identity="Latch 12, Orrell House", sources=original["sources"])
    again = write(found)
    assert again["original"] == original
    assert again["parts"][0]["steps"][0]["evidence"] == SEEN
    assert read(again) == found


def test_documents_without_it_are_written_as_before():
    stored = write(read(a_reproduction()))
    assert "original" not in stored
    assert {"evidence", "deviation"}.isdisjoint(stored["parts"][0]["steps"][0])


@pytest.mark.parametrize(
    ("step", "path"),
    [
        ({"evidence": {"standing": "sworn"}}, "parts/0/steps/0/evidence/standing"),
        ({"evidence": {"reason": "so"}}, "parts/0/steps/0/evidence"),
        ({"evidence": "seen"}, "parts/0/steps/0/evidence"),
        ({"evidence": {"standing": "seen", "reason": "x" * 501}}, "parts/0/steps/0/evidence/reason"),
        ({"deviation": 3}, "parts/0/steps/0/deviation"),
        ({"deviation": "x" * 501}, "parts/0/steps/0/deviation"),
    ],
)
def test_what_does_not_read_is_refused_with_its_path(step, path):
    with pytest.raises(DocumentError) as refused:
        read(a_reproduction(step))
    assert refused.value.path.startswith(path)


@pytest.mark.parametrize("original", ["a latch", {"keeper": "x"}, {"identity": 3}, {"identity": "x" * 501}])
def test_an_original_that_does_not_read_is_refused(original):
    with pytest.raises(DocumentError) as refused:
        read(a_reproduction(original=original))
    assert refused.value.path.startswith("original")
