"""Laws that hold whatever is forged: over random procedures, and over every operation by name."""

import json

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from procedures.engine.catalogue import catalogue
from procedures.engine.document import DocumentError, read, write
from procedures.engine.replay import replay

from .forging_at_random import forged_at_random
from .laws import check_frame
from .procedures_at_random import documents, frames

lawful = settings(
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)


def drafted(stored):
    """Return the draft of a shaken document; one that does not even read as a draft is passed over."""
    try:
        return read(stored, draft=True)
    except DocumentError:
        assume(False)


def done(replayed):
    return [one for part in replayed.parts for one in part.frames if one.status == "done"]


def check_laws(document):
    replayed = replay(document)
    bars = {one.key: one.length for one in document.parts}
    for part in replayed.parts:
        for frame in part.frames:
            check_frame(frame, bars)
    assert replay(document) == replayed


@lawful
@given(documents())
def test_random_procedures_keep_the_laws(stored):
    check_laws(drafted(stored))


@settings(lawful, max_examples=120)
@given(st.randoms(use_true_random=False))
def test_bars_forged_at_random_keep_the_laws(random):
    bars = {}
    for frame in forged_at_random(random, most=8):
        bars[frame.before.name] = frame.before.stock.length
        check_frame(frame, bars)


@pytest.mark.parametrize("operation_id", sorted(catalogue()))
def test_every_operation_keeps_the_laws(operation_id):
    @settings(lawful, max_examples=25)
    @given(documents(operation_id))
    def law(stored):
        check_laws(drafted(stored))

    law()


@pytest.mark.parametrize("operation_id", [one.id for one in catalogue().values() if one.brings_in()])
def test_what_brings_a_part_in_keeps_the_laws(operation_id):
    @settings(lawful, max_examples=60)
    @given(frames(operation_id))
    def law(frame):
        own = frame.before
        check_frame(frame, {one.name: one.stock.length for one in (own, *own.bench.values())})

    law()


@lawful
@given(documents())
def test_a_document_written_and_read_again_replays_the_same(stored):
    document = drafted(stored)
    again = read(json.loads(json.dumps(write(document))), draft=True)
    assert again == document
    assert replay(again) == replay(document)


@lawful
@given(documents(), st.sampled_from(["low", "typical", "high"]))
def test_the_nominal_view_loses_nothing_to_scale(stored, estimate):
    replayed = replay(drafted(stored), nominal=True, estimate=estimate)
    assert all(one.after.lost("scale") == 0 for one in done(replayed))
