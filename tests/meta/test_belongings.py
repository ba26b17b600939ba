"""Everything that names a person has a decision: what becomes of it when the person goes."""

from collections.abc import Iterator

import pytest
from django.apps import apps
from django.contrib.auth import get_user_model
from django.db.models import CASCADE, SET_NULL, Field

from procedures.exchange import account

HOW = (
    "Say in procedures/exchange/belongings/ (a file for each room, see procedures/exchange/account.py) what "
    "becomes of this field when the person it names deletes their account: deleted, unnamed or handed over."
)


def fields_that_name_a_person() -> Iterator[tuple[str, Field]]:
    """Each field of any model, those Django makes by itself too, that leads to an account."""
    for model in apps.get_models(include_auto_created=True):
        for field in model._meta.get_fields():
            if isinstance(field, Field) and field.remote_field and field.related_model is get_user_model():
                yield f"{model._meta.label}.{field.name}", field


FIELDS = dict(fields_that_name_a_person())
DECISIONS = [(name, fate) for room in account.rooms() for name, fate in room.fields.items()]


@pytest.mark.parametrize("name", FIELDS)
def test_field_that_names_a_person_has_one_decision(name):
    found = [fate for decided, fate in DECISIONS if decided == name]
    assert len(found) == 1, f"{name}: {len(found)} decisions. {HOW}"


@pytest.mark.parametrize(("name", "fate"), DECISIONS)
def test_decision_is_of_a_field_and_what_the_database_does(name, fate):
    assert name in FIELDS, f"{name} is no field, or names nobody"
    on_delete = FIELDS[name].remote_field.on_delete
    if fate == "unnamed":
        assert on_delete is SET_NULL
    if fate == "deleted":
        assert on_delete is CASCADE


def test_room_that_erases_is_told_of():
    assert [room.title for room in account.rooms() if not room.title] == []
