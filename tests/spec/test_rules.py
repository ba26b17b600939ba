"""Every rule about a whole procedure speaks up where its examples say, and its mends mend."""

from __future__ import annotations

import json
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import procedures.engine
from calculators.wording import INCH, METRIC
from procedures import mending
from procedures.engine.catalogue import catalogue
from procedures.engine.document import read
from procedures.engine.finding import Level
from procedures.engine.replay import replay
from procedures.engine.rulebook import SUBJECTS, judged, rulebook
from procedures.engine.trial import at, flat, step, trial

RULES = pytest.mark.parametrize("rule", rulebook().values(), ids=lambda rule: rule.code)
CASES = [
    pytest.param(rule, case, id=f"{rule.code}: {case.title}")
    for rule in rulebook().values()
    for case in rule.examples
]
FIRING = [one for one in CASES if one.values[1].fires]


def replayed(case):
    return replay(read(json.loads(json.dumps(case.document))))


def fired(rule, whole):
    """Return (name of the step, frame, finding) wherever the rule spoke up."""
    first = whole.parts[0].part.key
    found = []
    for part in whole.parts:
        for frame in part.frames:
            name = frame.key if part.part.key == first else f"{part.part.key}/{frame.key}"
            found += [(name, frame, one) for one in frame.findings if one.code == rule.code]
    return found


def all_said(whole):
    return [
        f"{part.part.key}/{frame.key} {frame.status} {one.level} {one.code}: {one.text()}"
        for part in whole.parts
        for frame in part.frames
        for one in frame.findings
    ]


@RULES
def test_a_rule_says_what_it_is_about_and_where_it_comes_from(rule):
    subject, what = rule.code.split(".")
    assert type(rule).__module__.rsplit(".", 1)[-1] == what
    assert subject in SUBJECTS
    assert rule.title
    assert rule.help.endswith(".")
    assert rule.source
    assert rule.level in (Level.CAUTION, Level.NOTE)


@RULES
def test_a_rule_has_an_example_that_makes_it_speak_and_one_that_leaves_it_silent(rule):
    assert [one for one in rule.examples if one.fires]
    assert [one for one in rule.examples if not one.fires]
    titles = [one.title for one in rule.examples]
    assert len(titles) == len(set(titles))


@pytest.mark.parametrize(("rule", "case"), CASES)
def test_a_rule_speaks_up_where_its_example_says(rule, case):
    whole = replayed(case)
    assert whole.is_complete != case.stops, all_said(whole)
    assert [name for name, _, _ in fired(rule, whole)] == list(case.fires), all_said(whole)
    assert {one.level for _, _, one in fired(rule, whole)} <= {rule.level}


@pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda system: system.id)
@pytest.mark.parametrize(("rule", "case"), FIRING)
def test_all_a_rule_says_can_be_said_in_either_units(rule, case, units):
    for _, frame, one in fired(rule, replayed(case)):
        mend = one.mending(frame.key)
        texts = [one.text(units), *([mend.label.text(units)] if mend else [])]
        assert not [text for text in texts if not text.strip() or "{" in text or "None" in text]


@pytest.mark.parametrize(("rule", "case"), FIRING)
def test_a_mend_makes_its_finding_go_away_and_stops_nothing(rule, case):
    whole = replayed(case)
    for name, frame, one in fired(rule, whole):
        if not one.can_be_mended:
            continue
        mended = mending.mended(case.document, frame.part.key, one.mending(frame.key))
        after = replay(read(mended))
        assert after.is_complete, all_said(after)
        assert name not in [step for step, _, _ in fired(rule, after)], all_said(after)


@pytest.mark.parametrize(("rule", "case"), FIRING)
def test_a_rule_says_the_same_twice(rule, case):
    first, second = replayed(case), replayed(case)
    assert list(rule.look(first)) == list(rule.look(second))


@pytest.mark.parametrize(("rule", "case"), FIRING)
def test_a_finding_silenced_with_a_reason_stays_and_is_not_counted(rule, case):
    document = json.loads(json.dumps(case.document))
    for part in document["parts"]:
        for one in part["steps"]:
            one["silenced"] = {rule.code: "It is meant so."}
    found = fired(rule, replay(read(document)))
    assert found
    for _, frame, one in found:
        assert one.silenced == "It is meant so."
        assert one not in frame.of_level(one.level)


# -- all of them together ----------------------------------------------------------------------------

ENGINE = Path(procedures.engine.__file__).parent


def codes_of_single_steps():
    """Return the codes of all findings written down outside the rules; `{self.id}` is every operation."""
    codes = set()
    for path in sorted(ENGINE.rglob("*.py")):
        if path.parent.name != "rules":
            found = re.findall(r'(?:stop|caution|note)\(\s*f?"([a-z_{}.]+\.[a-z_]+)"', path.read_text())
            codes |= {one.replace("{self.id}", kind) for one in found for kind in catalogue()}
    return codes


def test_no_rule_has_the_code_of_a_finding_of_a_single_step():
    single = codes_of_single_steps()
    assert "shape.curved_metal" in single
    assert "punch.near_end" in single
    assert not set(rulebook()) & single


@RULES
def test_what_gives_way_to_a_rule_is_there(rule):
    assert set(rule.instead_of) <= codes_of_single_steps()


def test_every_file_of_the_folder_holds_a_rule():
    files = {one.stem for one in (ENGINE / "rules").glob("*.py")} - {"__init__"}
    assert files == {code.split(".")[1] for code in rulebook()}


def runs(count, operations):
    """A bar with so many runs, each worked by these operations in turn."""
    steps = [operation(number) for number in range(count) for operation in operations]
    return trial(*steps, length=60.0 * count, section=flat(30, 8))


def punched(number):
    return step("punch", where=[at(60.0 * number + 30, "start")], size=6, heats=2)


def planed(number):
    where = {"on": "bar", "datum": "start", "offset": 60.0 * number, "length": 60}
    return step("draw_out", where=where, target=flat(29.9, 7.99), heats=1)


def calls_of_rules(document):
    """Return how many functions are called to judge a document once it is replayed: the same every time."""
    whole = replay(read(document))
    bare = replace(
        whole,
        parts=tuple(
            replace(part, frames=tuple(one.by_itself() for one in part.frames), flags={})
            for part in whole.parts
        ),
    )
    calls = 0

    def count(frame, event, argument):
        nonlocal calls
        calls += event == "call"

    sys.setprofile(count)
    try:
        judged(bare)
    finally:
        sys.setprofile(None)
    return calls


@pytest.mark.parametrize(
    "operations", [(planed,), (punched, planed)], ids=["nothing to say", "a hole closed at every other step"]
)
def test_rules_cost_as_much_for_each_step_of_a_long_procedure_as_of_a_short_one(operations):
    short, long = (calls_of_rules(runs(count, operations)) / count for count in (20, 80))
    assert long < 1.2 * short
