"""Every example of every operation comes out as it says: the examples are the tests."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from calculators.wording import INCH, METRIC
from procedures.engine.catalogue import catalogue
from procedures.engine.exampling import run
from procedures.engine.finding import Level

GRAM = 0.005  # to which losses are given

EXAMPLES = [
    pytest.param(kind, example, id=f"{kind.id}: {example.title}")
    for kind in catalogue().values()
    for example in kind.examples
]
WORKING = [one for one in EXAMPLES if not one.values[1].refused]
REFUSED = [one for one in EXAMPLES if one.values[1].refused]


def reasons(frame):
    return [f"{one.code}: {one.text()}" for one in frame.findings]


@pytest.mark.parametrize(("kind", "example"), WORKING)
def test_a_working_example_comes_out_as_it_says(kind, example):
    frame = run(kind, example)
    assert frame.status == "done", reasons(frame)
    for expected in example.after:
        compare(expected, frame.after, example.tolerance)
    if example.lost is not None:
        assert frame.after.mass_of(frame.lost) * 1000 == pytest.approx(example.lost, abs=GRAM)


def compare(expected, after, tolerance):
    branch = after.branch(expected.branch)
    span = next((one for one in after.worked if one.branch == expected.branch), None)
    lengths = {}
    sections = {}
    if expected.length is not None:
        lengths["length"] = (branch.length, expected.length)
    if expected.worked is not None:
        lengths["worked"] = (span.length, expected.worked)
    for name, at in expected.marks.items():
        lengths[f"mark {name}"] = (branch.mark(name).at, at)
    if expected.start is not None:
        sections["start"] = (branch.segments[0].start, expected.start)
    if expected.end is not None:
        sections["end"] = (branch.segments[-1].end, expected.end)
    if expected.section is not None:
        first, last = branch.sections_between(span.low, span.high)
        sections["first worked"] = (first, expected.section)
        sections["last worked"] = (last, expected.section)
    for at, section in expected.at.items():
        sections[f"at {at}"] = (branch.section_at(at), section)
    for what, (found, wanted) in lengths.items():
        assert found == pytest.approx(wanted, abs=tolerance), what
    for what, (found, wanted) in sections.items():
        assert found.is_close(wanted, tolerance), f"{what}: {found}, not {wanted}"


@pytest.mark.parametrize(("kind", "example"), REFUSED)
def test_a_refused_example_is_refused_for_the_reason_it_says(kind, example):
    frame = run(kind, example)
    assert frame.status == "stopped"
    assert {one.code for one in frame.of_level(Level.STOP)} == set(example.refused), reasons(frame)
    assert frame.after == frame.before


@pytest.mark.parametrize(("kind", "example"), WORKING)
def test_a_working_example_raises_the_cautions_it_says(kind, example):
    frame = run(kind, example)
    assert set(example.cautions) <= {one.code for one in frame.findings}, reasons(frame)


@pytest.mark.parametrize(("kind", "example"), WORKING)
def test_a_working_example_says_the_words_it_promises(kind, example):
    frame = run(kind, example)
    said = " ".join(" ".join(one.text().split()) for one in (frame.instruction, frame.check) if one)
    assert [one for one in example.says if one not in said] == [], said


@pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda system: system.id)
@pytest.mark.parametrize(("kind", "example"), EXAMPLES)
def test_all_an_example_says_can_be_said_in_either_units(kind, example, units):
    frame = run(kind, example)
    sentences = [one for one in (frame.instruction, frame.check) if one]
    texts = [one.text(units) for one in (*sentences, *frame.findings)]
    if frame.status == "done":
        assert frame.instruction
        assert frame.instruction.text(units).strip()
    assert not [one for one in texts if "{" in one or "}" in one or "None" in one]


@pytest.mark.parametrize(("kind", "example"), WORKING)
def test_no_metal_is_lost_without_a_line_for_it(kind, example):
    frame = run(kind, example)
    assert abs(frame.after.imbalance) <= 1e-6 * (frame.after.start_volume + frame.after.received)


@pytest.mark.parametrize(("kind", "example"), EXAMPLES)
def test_the_parameters_of_an_example_come_back_from_their_stored_form(kind, example):
    operation = kind.from_params(example.params)
    stored = json.loads(json.dumps(operation.to_params()))
    assert kind.from_params(stored) == operation


@pytest.mark.parametrize(("kind", "example"), EXAMPLES)
def test_an_example_comes_out_the_same_twice(kind, example):
    assert run(kind, example) == run(kind, example)


@pytest.mark.parametrize(("kind", "example"), WORKING)
def test_what_follows_is_written_and_read_as_its_parameter(kind, example):
    frame = run(kind, example)
    params = kind.params()
    for name, value in frame.operation.solved(frame.before, frame.after).items():
        if name not in example.params:
            assert params[name].read(params[name].write(value)) == value, name


FOLLOWS = {  # operation, the parameter given, the one that follows
    "taper": ("chisel_edge", "end_section"),
    "open_split": ("angles", "angle"),
    "set_down": ("thickness", "target"),
    "shoulder": ("thickness", "target"),
}


@pytest.mark.parametrize("operation", FOLLOWS)
def test_what_follows_given_instead_makes_the_same_piece(operation):
    given, follows = FOLLOWS[operation]
    kind = catalogue()[operation]
    found = [one for one in kind.examples if not one.refused and given in one.params and not one.scale]
    assert found
    for example in found:
        frame = run(kind, example)
        value = frame.operation.solved(frame.before, frame.after)[follows]
        params = {key: one for key, one in example.params.items() if key != given}
        other = run(kind, replace(example, params={**params, follows: kind.params()[follows].write(value)}))
        for branch in frame.after.branches:
            assert other.after.branch(branch.name).length == pytest.approx(branch.length)
            assert other.after.branch(branch.name).attached == branch.attached
