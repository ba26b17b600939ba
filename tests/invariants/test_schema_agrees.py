"""The published schema and the reader of documents agree: what reads is valid, whatever is in it."""

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from procedures.engine.catalogue import catalogue
from procedures.engine.document import read, write
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.schema import schema

from .procedures_at_random import documents
from .test_laws import lawful

VALIDATOR = Draft202012Validator(schema())


def reads(stored) -> bool:
    try:
        read(stored)
    except DocumentError:
        return False
    return True


@lawful
@given(documents())
def test_what_reads_is_valid_by_the_schema(stored):
    if reads(stored):
        assert [error.message for error in VALIDATOR.iter_errors(stored)] == []
        assert VALIDATOR.is_valid(write(read(stored)))


@pytest.mark.parametrize("operation", list(catalogue()))
def test_every_example_is_valid_by_the_schema(operation):
    for example in catalogue()[operation].examples:
        stock = example.before.stock
        steps = [*example.first, (operation, example.params)]
        stored = {
            "format": "forgesite.procedure",
            "version": 1,
            "title": example.title,
            "parts": [
                {
                    "key": "bar",
                    "name": "Bar",
                    "material": example.before.material.id,
                    "stock": {"section": stock.section.to_json(), "length": stock.length},
                    "steps": [
                        {"key": f"s{number}", "operation": name, "params": dict(params)}
                        for number, (name, params) in enumerate(steps)
                    ],
                }
            ],
        }
        assert reads(stored), example.title
        assert [error.message for error in VALIDATOR.iter_errors(stored)] == [], example.title
