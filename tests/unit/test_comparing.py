"""Which step of one version is which of another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedures.comparing import differing, likeness, meant, pair_parts, pair_steps


def step(key, operation="draw_out", **params):
    return {"key": key, "operation": operation, "params": params}


def told(old, new):
    """The pairs in short: the key before and after, what became of it, and whether it moved."""
    return [
        (one.old and one.old["key"], one.new and one.new["key"], one.state, one.moved)
        for one in pair_steps(old, new)
    ]


A, B, C = step("a", length=1), step("b", length=2), step("c", "bend", angle=3)


def test_same_steps_are_the_same():
    assert told([A, B, C], [A, B, C]) == [
        ("a", "a", "same", False),
        ("b", "b", "same", False),
        ("c", "c", "same", False),
    ]


def test_changed_parameter_is_a_change_of_the_step():
    assert told([A, B], [A, step("b", length=9)])[1] == ("b", "b", "changed", False)


def test_removed_step_stands_where_it_stood():
    assert told([A, B, C], [A, C]) == [
        ("a", "a", "same", False),
        ("b", None, "removed", False),
        ("c", "c", "same", False),
    ]


def test_added_step_stands_where_it_stands():
    new = step("n", "punch", at=1)
    assert told([A, B], [A, new, B])[1] == (None, "n", "added", False)


def test_one_step_moved_is_one_move():
    assert [one[3] for one in told([A, B, C], [C, A, B])] == [True, False, False]
    assert [one[3] for one in told([A, B, C], [B, C, A])] == [False, False, True]


def test_step_under_another_key_is_known_by_its_likeness():
    assert told([step("a", x=1, y=2)], [step("z", x=1, y=9)]) == [("a", "z", "changed", False)]
    assert [one[2] for one in told([step("a", x=1, y=2)], [step("z", x=8, y=9)])] == ["added", "removed"] or [
        one[2] for one in told([step("a", x=1, y=2)], [step("z", x=8, y=9)])
    ] == ["removed", "added"]


def test_same_key_for_two_operations_is_two_steps_where_each_has_a_match():
    """Two people who each add a step give it the same key."""
    mine, theirs = step("s3", "punch", at=5), step("s3", "twist", turns=2)
    found = told([A, mine], [A, theirs, step("s4", "punch", at=5)])
    assert ("s3", "s4", "same", False) in found
    assert (None, "s3", "added", False) in found


def test_same_key_for_another_operation_is_a_step_exchanged():
    assert told([step("a", "bend", angle=1)], [step("a", "twist", turns=2)]) == [("a", "a", "changed", False)]


def test_likest_step_is_taken_first():
    old = [step("a", x=1, y=1, z=1)]
    new = [step("p", x=1, y=1, z=2), step("q", x=1, y=1, z=1)]
    assert ("a", "q", "same", False) in told(old, new)


def test_what_is_empty_is_as_if_it_were_not_there():
    assert meant(A | {"note": "", "heats": 0, "photos": [], "version": 2}) == meant(A)
    assert meant(A | {"heats": 1}) != meant(A)
    assert differing({}, {"quantity": 1, "material": "mild_steel"}, ("quantity", "material")) == ()


def test_likeness_is_the_share_in_common():
    assert likeness(step("a"), step("b")) == 1.0
    assert likeness(step("a", x=1, y=2), step("b", x=1, y=3)) == 0.5
    assert likeness(step("a", x=1), step("b", y=1)) == 0.0


def test_parts_are_paired_by_their_keys():
    bar, ring, rod = ({"key": key, "name": key, "steps": [A]} for key in ("bar", "ring", "rod"))
    pairs = pair_parts({"parts": [bar, ring]}, {"parts": [rod, bar | {"name": "Hook"}]})
    assert [(one.old and one.old["key"], one.new and one.new["key"]) for one in pairs] == [
        (None, "rod"),
        ("bar", "bar"),
        ("ring", None),
    ]
    assert pairs[1].bar == ("name",)
    assert [one.state for one in pairs[2].steps] == ["removed"]


KEYS = st.lists(st.sampled_from("abcdefgh"), unique=True)
OPERATIONS = st.sampled_from(("draw_out", "bend", "punch"))


@st.composite
def lists(draw):
    return [step(key, draw(OPERATIONS), x=draw(st.integers(0, 2))) for key in draw(KEYS)]


@given(lists(), lists())
@pytest.mark.filterwarnings("error")
def test_every_step_of_both_is_told_once_and_in_the_order_of_the_new_one(old, new):
    pairs = list(pair_steps(old, new))
    assert [one.new["key"] for one in pairs if one.new] == [one["key"] for one in new]
    assert sorted(one.old["key"] for one in pairs if one.old) == sorted(one["key"] for one in old)
    stayed = [old.index(one.old) for one in pairs if one.old and not one.moved]
    assert stayed == sorted(stayed)


@given(lists())
def test_a_list_is_the_same_as_itself(steps):
    assert all(one.is_same for one in pair_steps(steps, steps))
