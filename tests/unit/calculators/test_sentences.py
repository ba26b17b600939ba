"""Sentences that hold values and are said in either system."""

import pickle

import pytest

from calculators.sections import Section
from calculators.wording import INCH, METRIC, Sentence, say

NB = "\N{NARROW NO-BREAK SPACE}"
DRAW = say("Draw to {target:section}, {length:length} long.", target=Section.square(12), length=166.66)


def test_sentence_is_said_in_the_reader_s_units():
    assert str(DRAW).replace(NB, " ") == "Draw to □12 mm, 166.7 mm long."
    assert DRAW.text(INCH).replace(NB, " ") == "Draw to □15/32 in, 6 1/2 in long."
    assert METRIC.text(DRAW.template, DRAW.values) == DRAW.text()


def test_field_without_a_kind_is_text():
    assert (
        str(say("The {part} is {n:count} times as long.", part="tail", n=3.0))
        == "The tail is 3 times as long."
    )


def test_sentence_within_a_sentence_follows_the_units():
    whole = say("{first} {then}", first=DRAW, then="Then bend it.")
    assert whole.text(INCH).replace(NB, " ") == "Draw to □15/32 in, 6 1/2 in long. Then bend it."


def test_braces_in_a_value_are_only_text():
    assert str(say("Called {name}.", name="{length:length}")) == "Called {length:length}."


def test_sentence_is_comparable_hashable_and_picklable():
    again = say(DRAW.template, target=Section.square(12), length=166.66)
    assert again == DRAW
    assert hash(again) == hash(DRAW)
    assert again != say(DRAW.template, target=Section.square(12), length=166.67)
    assert pickle.loads(pickle.dumps(DRAW)) == DRAW  # noqa: S301
    assert isinstance(DRAW, Sentence)


WRONG = [
    ("Draw to {target:section}.", {}, "no value for 'target'"),
    ("Draw it out.", {"length": 3}, "no place for length"),
    ("{length:lenght}", {"length": 3}, "the kind 'lenght'"),
    ("{length:length}", {"length": "60"}, "cannot say '60' as length"),
    ("{length:length}", {"length": True}, "cannot say True as length"),
    ("{length:length}", {"length": float("nan")}, "cannot say nan as length"),
    ("{length:length}", {"length": float("inf")}, "cannot say inf as length"),
    ("{length:length}", {"length": 10**400}, "as length"),
    ("{target:section}", {"target": 12}, "cannot say 12 as section"),
    ("{name}", {"name": 1.5}, "cannot say 1.5 as text"),
    ("{name}", {"name": None}, "cannot say None as text"),
    ("{0}", {}, "without a plain name"),
    ("{}", {}, "without a plain name"),
    ("{a.b}", {"a": 1}, "without a plain name"),
    ("{a[0]}", {"a": "x"}, "without a plain name"),
]


@pytest.mark.parametrize(("template", "values", "reason"), WRONG)
def test_wrong_sentence_fails_where_it_is_made(template, values, reason):
    with pytest.raises(ValueError) as failure:  # noqa: PT011  the message is checked below
        say(template, **values)
    assert reason in str(failure.value)
