"""The JSON Schema of the document: on the command line, on the site, and what it refuses."""

import copy
import io
import json

import pytest
from django.core.management import call_command
from jsonschema import Draft202012Validator

from procedures.engine.document import read
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.schema import schema

VALIDATOR = Draft202012Validator(schema())
SQUARE = {"shape": "square", "side": 12}
LAST = {"on": "bar", "datum": "end", "length": 60}


def a_document() -> dict:
    steps = [
        {
            "key": "s1",
            "operation": "mark_out",
            "params": {"marks": [{"name": "A", "on": "bar", "datum": "end", "offset": 100}]},
        },
        {
            "key": "s2",
            "operation": "draw_out",
            "version": 1,
            "params": {"where": LAST, "target": SQUARE},
            "heats": 2,
            "tongs": "flat-jaw",
            "note": "Turn it.\nTurn it again.",
            "photos": [{"digest": "a" * 64, "alt": "the bar"}],
            "heated": {"on": "bar", "datum": "end", "length": 80},
        },
    ]
    part = {
        "key": "bar",
        "name": "Bar",
        "quantity": 2,
        "stock": {"section": {"shape": "square", "side": 20}, "length": 300},
        "steps": steps,
    }
    return {
        "format": "forgesite.procedure",
        "version": 1,
        "title": "A trial",
        "credits": ["alice"],
        "scale": {"fire": "coke", "forging": 0.05},
        "parts": [part],
    }


def mutated(path: str, value) -> dict:
    """The document with the value at a path changed, or taken out where the value is `...`."""
    stored = copy.deepcopy(a_document())
    *way, last = (int(one) if one.isdigit() else one for one in path.split("/"))
    place = stored
    for one in way:
        place = place[one]
    if value is ...:
        del place[last]
    else:
        place[last] = value
    return stored


FAULTS = [
    ("format", "something.else"),
    ("format", ...),
    ("version", 2),
    ("title", ""),
    ("title", "   "),
    ("title", "two\nlines"),
    ("title", "x" * 121),
    ("title", 7),
    ("level", "wizard"),
    ("licence", "all mine"),
    ("credits", "alice"),
    ("credits/0", ""),
    ("scale/fire", "dragon"),
    ("scale/forging", -0.1),
    ("scale/forging", 6),
    ("scale/colour", "red"),
    ("parts", []),
    ("parts", [None]),
    ("parts/0/key", "Not A Key"),
    ("parts/0/key", "x" * 41),
    ("parts/0/name", ...),
    ("parts/0/quantity", 0),
    ("parts/0/quantity", 1.5),
    ("parts/0/quantity", True),
    ("parts/0/material", "mithril"),
    ("parts/0/stock/length", 0),
    ("parts/0/stock/length", -300),
    ("parts/0/stock/length", 1e9),
    ("parts/0/stock/length", "300"),
    ("parts/0/stock/section", {"shape": "square"}),
    ("parts/0/stock/section", {"shape": "square", "side": -12}),
    ("parts/0/stock/section", {"shape": "square", "side": 12, "radius": 1}),
    ("parts/0/stock/section", {"shape": "star", "side": 12}),
    ("parts/0/stock/section", "20 sq"),
    ("parts/0/stock/section", {"shape": "blend", "width": -1}),
    ("parts/0/steps/0/operation", "levitate"),
    ("parts/0/steps/0/operation", ...),
    ("parts/0/steps/0/key", ...),
    ("parts/0/steps/0/params/marks", []),
    ("parts/0/steps/0/params/marks/0/name", ""),
    ("parts/0/steps/0/params/marks/0/on", ...),
    ("parts/0/steps/0/params/marks/0/datum", "middle"),
    ("parts/0/steps/0/params/marks/0/offset", -1),
    ("parts/0/steps/0/params/marks/0/datum", "mark"),
    ("parts/0/steps/1/params", ...),
    ("parts/0/steps/1/params", []),
    ("parts/0/steps/1/params/where", ...),
    ("parts/0/steps/1/params/where", None),
    ("parts/0/steps/1/params/where/datum", "between"),
    ("parts/0/steps/1/params/where/length", "60"),
    ("parts/0/steps/1/params/where/side", "left"),
    ("parts/0/steps/1/params/target", ...),
    ("parts/0/steps/1/params/final_length", 100),
    ("parts/0/steps/1/params/hold", "breath"),
    ("parts/0/steps/1/params/wish", 3),
    ("parts/0/steps/1/version", 2),
    ("parts/0/steps/1/version", 0),
    ("parts/0/steps/1/heats", -1),
    ("parts/0/steps/1/heats", 201),
    ("parts/0/steps/1/heats", 1.5),
    ("parts/0/steps/1/tongs", 5),
    ("parts/0/steps/1/note", "bell \a"),
    ("parts/0/steps/1/photos/0/digest", "A" * 64),
    ("parts/0/steps/1/photos/0/alt", ...),
    ("parts/0/steps/1/heated", {"datum": "end"}),
    ("parts/0/steps/1/colour", "red"),
    ("colour", "red"),
]


def test_schema_is_itself_valid_and_takes_the_document():
    Draft202012Validator.check_schema(schema())
    read(a_document())
    assert [error.message for error in VALIDATOR.iter_errors(a_document())] == []


@pytest.mark.parametrize(("path", "value"), FAULTS)
def test_what_the_reader_refuses_the_schema_refuses_too(path, value):
    stored = mutated(path, value)
    with pytest.raises(DocumentError) as refusal:
        read(stored)
    assert refusal.value.path.split("/")[0] == path.split("/")[0]
    assert not VALIDATOR.is_valid(stored)


def test_none_is_the_same_as_left_out_for_what_may_be_left_out():
    stored = mutated("parts/0/steps/1/params/final_length", None)
    read(stored)
    assert VALIDATOR.is_valid(stored)


def test_command_prints_the_schema_without_a_database():
    said = io.StringIO()
    call_command("schema", stdout=said)
    assert json.loads(said.getvalue()) == schema()


def test_site_serves_the_schema(client):
    response = client.get("/schema/procedure-1.json")
    assert response.status_code == 200
    assert response["Content-Type"] == "application/json"
    assert "max-age" in response["Cache-Control"]
    assert response.json() == schema()
