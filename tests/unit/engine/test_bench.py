"""Parts that steps bring in: in which order they are made, and how many of them there are."""

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay

from .documents import a_document, a_part, a_step


def a_weld(part="rod", **more):
    dressed = {"shape": "square", "side": 20}
    return a_step("weld_lap", on="bar", part=part, zone=30, dressed=dressed, **more)


def replayed(*parts, nominal=True):
    return replay(read(a_document(*parts)), nominal=nominal)


def some(key, quantity, *steps):
    return {**a_part(*steps, key=key), "quantity": quantity}


def codes(frame):
    return [one.code for one in frame.of_level("stop")]


def test_a_part_is_finished_before_the_step_that_brings_it_in_wherever_it_stands():
    for parts in ((a_part(a_weld()), a_part(key="rod")), (a_part(key="rod"), a_part(a_weld()))):
        assert replayed(*parts).part("bar").final.root.length == pytest.approx(600)


def test_parts_that_wait_for_each_other_are_refused():
    rod = a_part({**a_weld("bar"), "params": {**a_weld("bar")["params"], "on": "rod"}}, key="rod")
    frames = replayed(a_part(a_weld()), rod).part("bar").frames
    assert codes(frames[0]) == ["part.not_finished"]


def test_a_part_that_is_not_there_is_refused_with_those_that_are():
    (frame,) = replayed(a_part(a_weld("rood")), a_part(key="rod")).part("bar").frames
    assert codes(frame) == ["part.unknown"]
    assert "Parts: bar, rod." in frame.findings[0].text()


def test_more_of_a_part_than_are_made_is_refused_with_both_numbers():
    first, second = replayed(a_part(a_weld(), a_weld()), a_part(key="rod")).part("bar").frames
    assert first.status == "done"
    assert codes(second) == ["part.used_up"]
    (finding,) = second.findings
    assert finding.field == "part"
    assert finding.text().startswith("By this step 2 of part rod are needed, and 1 made.")


def test_two_of_a_part_can_be_used_where_two_are_made():
    assert replayed(a_part(a_weld(), a_weld()), some("rod", 2)).is_complete


@pytest.mark.parametrize(("made", "complete"), [(5, False), (6, True)])
def test_every_piece_of_a_part_takes_its_own(made, complete):
    assert replayed(some("bar", 3, a_weld(), a_weld()), some("rod", made)).is_complete is complete


def test_a_part_is_shared_by_all_parts_that_take_it():
    post = {**a_weld(), "params": {**a_weld()["params"], "on": "post"}}
    parts = (a_part(a_weld()), a_part(post, key="post"), some("rod", 1))
    assert [codes(one.frames[0]) for one in replayed(*parts).parts[:2]] == [[], ["part.used_up"]]
