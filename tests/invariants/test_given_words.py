"""Words that people give are said as they are, never read as a template: every example, with odd words."""

from dataclasses import replace

import pytest

from procedures.engine.catalogue import catalogue
from procedures.engine.exampling import run

from .laws import check_words

ODD = "{x} {0:length} %s </b>"
FREE = {"text", "name"}  # what a step names itself; branches, marks and parts must be there by their names

CASES = [
    pytest.param(kind, example, id=f"{kind.id}: {example.title}")
    for kind in catalogue().values()
    for example in kind.examples
    if not example.refused and any(one.kind in FREE for one in kind.params().values())
]


@pytest.mark.parametrize(("kind", "example"), CASES)
def test_words_that_people_give_are_said_as_they_are(kind, example):
    odd = {name: ODD for name, one in kind.params().items() if one.kind in FREE}
    frame = run(kind, replace(example, params={**example.params, **odd}))
    check_words(frame)
    if frame.status == "done":
        texts = [
            str(one)
            for one in (frame.instruction, frame.check, *(one.message for one in frame.findings))
            if one
        ]
        assert not any("{" in text.replace(ODD, "") for text in texts)
