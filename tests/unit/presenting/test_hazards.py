"""Safety lines put together: shorter to read, and no hazard left out."""

import pytest

from procedures.engine.catalogue import catalogue
from procedures.presenting.hazards import _ALIKE, by_guarded, put_together
from procedures.presenting.parts import HOT_METAL

KNOWN = {line for kind in catalogue().values() for line in kind.safety} | {HOT_METAL}


@pytest.mark.parametrize("alike", _ALIKE, ids=lambda one: next(iter(one.says)))
def test_what_is_put_together_is_said_by_operations_word_for_word(alike):
    assert set(alike.says) <= KNOWN


@pytest.mark.parametrize("alike", _ALIKE, ids=lambda one: next(iter(one.says)))
def test_every_line_adds_its_own_words(alike):
    lines = list(alike.says)
    (said,) = put_together(lines)
    assert said[0].isupper()
    assert said.endswith(".")
    assert all(words in said for words in alike.says.values())


def test_one_of_its_kind_is_said_as_it_is():
    for alike in _ALIKE:
        for line in alike.says:
            assert put_together([line]) == (line,)


def test_punch_and_drift_are_one_line_in_the_place_of_the_first():
    lines = [
        "The slug is red hot under the anvil.",
        "A punch stuck in the hole is never prised: cool it and knock it back.",
        "Scale flies: wear eye protection.",
        "A drift stuck fast is cooled and knocked out from behind, never prised.",
    ]
    assert put_together(lines) == (
        lines[0],
        "Stuck fast, a punch or a drift is cooled and knocked back out, never prised.",
        lines[2],
    )


def test_nothing_is_left_out_of_the_groups_or_said_twice():
    grouped = [line for _, lines in by_guarded(sorted(KNOWN)) for line in lines]
    assert sorted(grouped) == sorted(put_together(sorted(KNOWN)))
    alone = KNOWN - {line for alike in _ALIKE for line in alike.says}
    assert alone <= set(grouped)


def test_groups_say_what_they_guard():
    groups = dict(by_guarded(KNOWN))
    assert (
        "Galvanised or plated steel never goes in the fire: its fume is poisonous."
        in groups["Eyes and lungs"]
    )
    assert "The slug is red hot under the anvil." in groups["Burns"]
    assert "A collar closes on fingers: tongs only." in groups["Hands and tools"]
    assert len(groups["Not for lifting"]) == 1
