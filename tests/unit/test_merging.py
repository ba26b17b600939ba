"""What one side changed since a common base, taken over by the other without losing what is its own."""

import json

from hypothesis import given
from hypothesis import strategies as st

from procedures.comparing import meant
from procedures.merging import changes, merged, taken


def step(key, operation="draw_out", note="", **params):
    return {"key": key, "operation": operation, "params": params} | ({"note": note} if note else {})


def document(*steps, **bar):
    return {
        "title": "Hook",
        "parts": [{"key": "bar", "name": "Bar", "stock": {"length": 300}, "steps": list(steps), **bar}],
    }


def keys(doc):
    return [one["key"] for one in doc["parts"][0]["steps"]]


def the_step(doc, key):
    return next(one for one in doc["parts"][0]["steps"] if one["key"] == key)


A, B, C = step("a", x=1, y=1), step("b", "bend", angle=2), step("c", "punch", at=3)
BASE = document(A, B, C)


def only(theirs, mine=BASE, base=BASE):
    (one,) = changes(base, theirs, mine)
    return one


def test_nothing_changed_is_no_change():
    assert changes(BASE, BASE, document(B)) == []


def test_changed_step_is_taken_over_and_my_other_steps_stay():
    theirs = document(step("a", x=9, y=1), B, C)
    mine = document(A, B, step("c", "punch", at=7))
    change = only(theirs, mine)
    assert (change.kind, change.state, change.name) == ("changed", "open", "changed/bar/a")
    new = taken(mine, change)
    assert the_step(new, "a")["params"] == {"x": 9, "y": 1}
    assert the_step(new, "c")["params"] == {"at": 7}


def test_what_each_changed_of_one_step_is_joined():
    theirs, mine = (
        document(step("a", x=9, y=1), B, C),
        document(step("a", "draw_out", "Mine.", x=1, y=8), B, C),
    )
    change = only(theirs, mine)
    assert change.state == "open"
    assert meant(the_step(taken(mine, change), "a")) == meant(step("a", "draw_out", "Mine.", x=9, y=8))


def test_same_value_changed_by_both_is_a_conflict_and_theirs_is_taken():
    theirs, mine = (
        document(step("a", x=9, y=1), B, C),
        document(step("a", "draw_out", "Mine.", x=5, y=1), B, C),
    )
    change = only(theirs, mine)
    assert (change.state, change.clashes) == ("conflict", ("x",))
    assert meant(the_step(taken(mine, change), "a")) == meant(step("a", "draw_out", "Mine.", x=9, y=1))


def test_same_change_made_by_both_is_had():
    theirs = document(step("a", x=9, y=1), B, C)
    assert only(theirs, theirs).state == "had"
    assert only(theirs, document(step("a", "draw_out", "And more.", x=9, y=1), B, C)).state == "had"


def test_changed_step_that_i_took_out_is_a_conflict_and_comes_back():
    theirs = document(A, step("b", "bend", angle=9), C)
    change = only(theirs, document(A, C))
    assert change.state == "conflict"
    assert keys(taken(document(A, C), change)) == ["a", "b", "c"]


def test_added_step_comes_after_the_one_it_follows_under_a_free_key():
    theirs = document(A, step("n", "twist", turns=1), B, C)
    mine = document(A, B, C, step("n", "scroll", turns=2))
    change = only(theirs, mine)
    assert (change.kind, change.state, change.after) == ("added", "open", "a")
    new = taken(mine, change)
    assert [one["operation"] for one in new["parts"][0]["steps"]] == [
        *("draw_out", "twist", "bend", "punch", "scroll"),
    ]
    assert len(set(keys(new))) == 5
    assert only(theirs, new).state == "had"


def test_added_first_step_comes_first():
    change = only(document(step("n", "twist", turns=1), A, B, C))
    assert keys(taken(BASE, change)) == ["n", "a", "b", "c"]


def test_removed_step_goes_and_one_that_i_changed_is_a_conflict():
    theirs = document(A, C)
    assert keys(taken(BASE, only(theirs))) == ["a", "c"]
    assert only(theirs, document(A, step("b", "bend", angle=7), C)).state == "conflict"
    assert only(theirs, document(A, C)).state == "had"


def test_moved_step_moves():
    change = only(document(C, A, B))
    assert (change.kind, change.step, change.after) == ("moved", "c", None)
    new = taken(BASE, change)
    assert keys(new) == ["c", "a", "b"]
    assert only(document(C, A, B), new).state == "had"


def test_bar_is_taken_over_and_my_name_of_it_stays():
    theirs, mine = document(A, B, C, stock={"length": 350}), document(A, B, C, name="Mine")
    change = only(theirs, mine)
    assert (change.kind, change.state) == ("bar", "open")
    part = taken(mine, change)["parts"][0]
    assert (part["name"], part["stock"]) == ("Mine", {"length": 350})
    assert only(theirs, document(A, B, C, stock={"length": 400})).clashes == ("stock",)


def test_part_that_came_and_part_that_went():
    ring = {"key": "ring", "name": "Ring", "stock": {"length": 100}, "steps": []}
    two = {**BASE, "parts": [*BASE["parts"], ring]}
    came = only(two)
    assert (came.kind, came.state) == ("part added", "open")
    assert taken(BASE, came)["parts"][1] == ring
    went = only(BASE, two, two)
    assert (went.kind, went.state) == ("part removed", "open")
    assert taken(two, went)["parts"] == BASE["parts"]
    altered = {**two, "parts": [*BASE["parts"], ring | {"name": "Mine"}]}
    assert only(BASE, altered, two).state == "conflict"


def test_joining_tells_each_clash_and_keeps_my_key():
    joined, clashes = merged(step("a", x=1), step("z", x=2), step("m", x=3))
    assert (joined["key"], joined["params"], clashes) == ("m", {"x": 2}, ("x",))


STEPS = st.lists(
    st.builds(
        step,
        st.sampled_from("abcdef"),
        st.sampled_from(("draw_out", "bend")),
        x=st.integers(0, 2),
        y=st.integers(0, 1),
    ),
    unique_by=lambda one: one["key"],
    max_size=6,
)


@given(STEPS, STEPS)
def test_all_changes_taken_over_by_an_untouched_copy_make_it_the_same(base, theirs):
    """Order aside, since each move is told against the steps as they stood."""
    old, new = document(*base), document(*theirs)
    copy = old
    for _ in range(20):
        left = [one for one in changes(old, new, copy) if one.state != "had" and one.kind != "moved"]
        if not left:
            break
        copy = taken(copy, left[0])
    made, wanted = (
        sorted(json.dumps(meant(one), sort_keys=True) for one in steps)
        for steps in (copy["parts"][0]["steps"], theirs)
    )
    assert made == wanted
