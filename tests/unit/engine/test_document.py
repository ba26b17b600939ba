"""Reading a stored document: what is whole comes back the same, and a fault is refused with its path."""

import json

import pytest

from procedures.engine.document import DocumentError, read, write

from .documents import a_document, a_part, a_step, drawn_out


def changed(path, value):
    """Return a good document with the value at a path such as "parts/0/name" exchanged."""
    document = a_document(a_part(drawn_out()), scale={"forging": 0.05}, credits=["A. Smith"])
    *way, last = [int(one) if one.isdigit() else one for one in path.split("/")]
    place = document
    for one in way:
        place = place[one]
    place[last] = value
    return document


def test_a_document_comes_back_as_it_was():
    document = read(a_document(a_part(drawn_out(heats=2)), summary="Two\nlines", scale={"welding": 0.1}))
    assert read(json.loads(json.dumps(write(document)))) == document


@pytest.mark.parametrize(
    ("path", "value", "fault", "words"),
    [
        ("format", "something.else", "format", "not a forgesite.procedure"),
        ("version", 2, "version", "Version 2 is not known"),
        ("version", "1", "version", "not known"),
        ("title", "", "title", "must not be empty"),
        ("title", "x" * 121, "title", "at most 120"),
        ("title", "a\x00b", "title", "Control characters"),
        ("title", 7, "title", "Words are needed"),
        ("level", "master", "level", "beginner, intermediate, advanced"),
        ("licence", "mine", "licence", "CC-BY-4.0"),
        ("credits", "A. Smith", "credits", "list"),
        ("scale", {"fire": "dragon"}, "scale/fire", "not one of"),
        ("scale", {"forging": -1}, "scale/forging", "at least 0"),
        ("surprise", 1, "surprise", "no field"),
        ("parts", [], "parts", "at least one part"),
        ("parts/0/key", "A Bar", "parts/0/key", "small letters"),
        ("parts/0/quantity", 0, "parts/0/quantity", "at least 1"),
        ("parts/0/quantity", 1.5, "parts/0/quantity", "whole number"),
        ("parts/0/material", "unobtainium", "parts/0/material", "mild_steel"),
        ("parts/0/stock/length", -5, "parts/0/stock/length", "more than 0"),
        ("parts/0/stock/length", float("inf"), "parts/0/stock/length", "ordinary number"),
        ("parts/0/stock/length", float("nan"), "parts/0/stock/length", "ordinary number"),
        ("parts/0/stock/length", True, "parts/0/stock/length", "number"),
        ("parts/0/stock/section", {"shape": "square", "side": 0}, "parts/0/stock/section", "side"),
        ("parts/0/stock/section", {"shape": "star"}, "parts/0/stock/section", "star"),
        ("parts/0/stock/section", "20 sq", "parts/0/stock/section", "object"),
        ("parts/0/steps/0/operation", "enchant", "parts/0/steps/0/operation", "enchant"),
        ("parts/0/steps/0/version", 99, "parts/0/steps/0/version", "newer"),
        ("parts/0/steps/0/heats", -1, "parts/0/steps/0/heats", "at least 0"),
        ("parts/0/steps/0/params", [], "parts/0/steps/0/params", "object"),
        ("parts/0/steps/0/params/target", None, "parts/0/steps/0/params/target", "Give one of"),
        ("parts/0/steps/0/params/final_length", 90, "parts/0/steps/0/params/final_length", "only one of"),
        ("parts/0/steps/0/params/colour", "red", "parts/0/steps/0/params/colour", "no parameter"),
        ("parts/0/steps/0/params/where/on", "", "parts/0/steps/0/params/where", "name"),
        ("parts/0/steps/0/params/where/length", -4, "parts/0/steps/0/params/where/length", "at least 0"),
        ("parts/0/steps/0/params/where/datum", "left", "parts/0/steps/0/params/where/datum", "one of"),
        (
            "parts/0/steps/0/photos",
            [{"digest": "x", "alt": ""}],
            "parts/0/steps/0/photos/0/digest",
            "SHA-256",
        ),
    ],
)
def test_a_fault_is_refused_with_its_path(path, value, fault, words):
    with pytest.raises(DocumentError) as refused:
        read(changed(path, value))
    assert refused.value.path == fault
    assert words in refused.value.message


@pytest.mark.parametrize("stored", [None, [], "text", 3, {}])
def test_what_is_no_document_at_all_is_refused(stored):
    with pytest.raises(DocumentError):
        read(stored)


def test_ten_thousand_steps_are_refused_by_number_before_any_is_read():
    steps = [a_step("enchant")] * 10_000
    with pytest.raises(DocumentError, match="There are 10000 steps; at most 1000"):
        read(a_document({**a_part(), "steps": steps}))


def test_two_steps_of_one_key_are_refused():
    part = a_part(drawn_out(), drawn_out(11))
    part["steps"][1]["key"] = "s1"
    with pytest.raises(DocumentError, match="twice"):
        read(a_document(part))


def test_a_draft_keeps_steps_that_do_not_read_yet():
    part = a_part(a_step("draw_out"), a_step("enchant"))
    document = read(a_document(part), draft=True)
    assert [one.operation for one in document.parts[0].steps] == ["draw_out", "enchant"]
