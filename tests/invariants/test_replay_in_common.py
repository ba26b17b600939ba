"""Taking from an earlier replay what two documents have in common changes nothing of the result."""

import json
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from procedures.engine.replay import replay
from procedures.management.commands import load_demo

from .procedures_at_random import documents
from .test_laws import drafted, lawful

DEMO = [json.loads(one.read_bytes()) for one in sorted(load_demo.DEMO.glob("*.json"))]
seeds = st.randoms(use_true_random=False)


def changed(document, random):
    """The document with one thing changed: a step's heats, its order, its presence, or the bar."""
    part = random.choice(document.parts)
    steps = list(part.steps)
    at = random.randrange(len(steps)) if steps else 0
    what = random.choice(["heats", "swap", "drop", "bar", "name", "fire", "nothing"])
    if what == "heats" and steps:
        steps[at] = replace(steps[at], heats=steps[at].heats + 1)
    elif what == "swap" and len(steps) > 1:
        steps[at], steps[at - 1] = steps[at - 1], steps[at]
    elif what == "drop" and steps:
        del steps[at]
    elif what == "bar":
        part = replace(part, length=part.length + 7)
    elif what == "name":
        part = replace(part, name="Another name")
    elif what == "fire":
        document = replace(document, scale=replace(document.scale, forging=0.2))
    new = replace(part, steps=tuple(steps))
    return replace(document, parts=tuple(new if one.key == new.key else one for one in document.parts))


@given(documents(), seeds)
@lawful
def test_replay_with_an_earlier_one_is_the_same(stored, random):
    before = drafted(stored)
    after = changed(before, random)
    assert replay(after, earlier=replay(before)) == replay(after)


def of_two_parts(first, second):
    """The document with the part of another as its second, a rod."""
    rod = json.loads(json.dumps(second["parts"][0]).replace('"bar"', '"rod"'))
    return {**first, "parts": [*first["parts"], rod]}


@given(st.sampled_from(DEMO) | st.builds(of_two_parts, documents(), documents()), seeds)
@lawful
def test_what_rules_found_is_as_good_as_new_after_every_edit_of_many(stored, random):
    document = drafted(stored)
    going_on = replay(document)
    for _ in range(6):
        document = changed(document, random)
        going_on, new = replay(document, earlier=going_on), replay(document)
        assert going_on == new
        assert [one.flags for one in going_on.parts] == [one.flags for one in new.parts]


@given(documents(), seeds)
@lawful
def test_an_earlier_nominal_replay_lends_nothing_to_one_with_scale(stored, random):
    before = drafted(stored)
    after = changed(before, random)
    assert replay(after, earlier=replay(before, nominal=True)) == replay(after)
