"""Changes of a stored document, without a database."""

import pytest

from procedures import editing
from procedures.editing import NoSuchPlace, TooMany
from procedures.engine.document import MOST_PARTS, MOST_STEPS, read
from tests.unit.engine.documents import a_document, a_part, drawn_out


def keys(document, part="bar"):
    return [one["key"] for one in editing.part_of(document, part)["steps"]]


@pytest.fixture
def document():
    return a_document(a_part(drawn_out(18), drawn_out(16), drawn_out(14)))


def test_nothing_is_changed_in_place(document):
    before = editing.digest(document)
    editing.with_step(document, "bar", "s1", lambda one: {**one, "note": "New."})
    editing.with_step_moved(document, "bar", "s1", 2)
    editing.without_step(document, "bar", "s1")
    editing.with_step_twice(document, "bar", "s1")
    editing.with_part(document, "bar", lambda one: {**one, "name": "New"})
    assert editing.digest(document) == before


@pytest.mark.parametrize(
    ("key", "index", "after"),
    [
        ("s1", 2, "s2 s3 s1"),
        ("s3", 0, "s3 s1 s2"),
        ("s2", 1, "s1 s2 s3"),
        ("s1", 9, "s2 s3 s1"),
        ("s3", -4, "s3 s1 s2"),
    ],
)
def test_step_is_moved(document, key, index, after):
    assert keys(editing.with_step_moved(document, "bar", key, index)) == after.split()


def test_copy_stands_after_its_step_under_a_free_key(document):
    changed, key = editing.with_step_twice(document, "bar", "s1")
    assert key == "s4"
    assert keys(changed) == ["s1", "s4", "s2", "s3"]


@pytest.mark.parametrize(
    ("wanted", "taken", "key"),
    [
        ("s1", [], "s1"),
        ("s1", ["s1"], "s2"),
        ("s1", ["s1", "s2", "s3"], "s4"),
        ("hook", ["hook"], "hook-2"),
        ("hook", ["hook", "hook-2"], "hook-3"),
        ("a" * 40, ["a" * 40], "a" * 34 + "-2"),
    ],
)
def test_free_key(wanted, taken, key):
    assert editing.free_key(wanted, taken) == key


@pytest.mark.parametrize(
    ("name", "key"),
    [("Left arm", "left-arm"), ("Öse", "ose"), ("½ / ¾", "1-2-3-4"), ("Ω", "part"), ("  -x- ", "x")],
)
def test_key_of_a_name_reads_as_a_key(name, key):
    assert editing.key_from(name) == key
    stock = {"section": {"shape": "square", "side": 12}, "length": 100}
    read(editing.new_document("Title", editing.new_part({}, name, stock, "mild_steel")))


@pytest.mark.parametrize(("key", "beside"), [("s1", "s2"), ("s2", "s1"), ("s3", "s2")])
def test_neighbour_is_the_step_before_or_else_after(document, key, beside):
    assert editing.neighbour(document, "bar", key) == beside


def test_step_alone_has_no_neighbour():
    assert editing.neighbour(a_document(a_part(drawn_out())), "bar", "s1") == ""


@pytest.mark.parametrize(
    "change",
    [
        lambda one: editing.step_of(one, "bar", "s9"),
        lambda one: editing.step_of(one, "ring", "s1"),
        lambda one: editing.without_step(one, "bar", "s9"),
        lambda one: editing.with_step_moved(one, "bar", "s9", 0),
        lambda one: editing.with_step_twice(one, "bar", "s9"),
        lambda one: editing.with_step_after(one, "bar", {"key": "s4"}, "s9"),
        lambda one: editing.with_part(one, "ring", dict),
        lambda one: editing.without_part(one, "ring"),
        lambda one: editing.neighbour(one, "bar", "s9"),
    ],
)
def test_what_is_not_there_is_named(document, change):
    with pytest.raises(NoSuchPlace, match="There is no"):
        change(document)


def test_no_more_parts_and_steps_than_a_document_holds(document):
    document["parts"] = [a_part(key=f"p{number}") for number in range(MOST_PARTS)]
    with pytest.raises(TooMany, match=str(MOST_PARTS)):
        editing.with_part_added(document, a_part(key="more"))
    document["parts"][0]["steps"] = [{"key": f"s{number}"} for number in range(MOST_STEPS)]
    with pytest.raises(TooMany, match=str(MOST_STEPS)):
        editing.with_step_after(document, "p1", {"key": "more"}, None)


def test_mend_takes_the_place_of_what_excludes_it():
    params = {"where": {"on": "bar"}, "target": {"shape": "square", "side": 9}, "hold": "width"}
    groups = (("target", "final_length", "reduction"),)
    assert editing.mended(params, {"final_length": 80}, groups) == {
        "where": {"on": "bar"},
        "hold": "width",
        "final_length": 80,
    }
    assert editing.mended(params, {"hold": None}, groups) == {
        "where": {"on": "bar"},
        "target": {"shape": "square", "side": 9},
    }


def test_digest_does_not_hang_on_the_order_of_fields():
    assert editing.digest({"a": 1, "b": [1, {"c": 2, "d": 3}]}) == editing.digest(
        {"b": [1, {"d": 3, "c": 2}], "a": 1}
    )
    assert editing.digest([1, 2]) != editing.digest([2, 1])
