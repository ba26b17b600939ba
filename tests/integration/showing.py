"""People and published procedures for the tests of what is shown."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import get_user_model

from procedures import actions, editing
from procedures.models import Course, Procedure
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out


def person(name: str = "alice"):
    """The account of this name, made when it is first asked for."""
    users = get_user_model().objects
    return users.filter(username=name).first() or users.create_user(name, f"{name}@example.org", "a password")


def a_hook(**more: Any) -> dict[str, Any]:
    """A document of two steps with a mark, heats, tongs, a note and a photo that is not there."""
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])
    drawn = drawn_out(side=12, length=60, heats=2) | {"tongs": "flat-jaw tongs", "note": "Turn it **often**."}
    return a_document(a_part(marked, drawn), **({"title": "A hook", "summary": "To hang a coat on."} | more))


def a_draft(stored: dict[str, Any] | None = None, owner: str = "alice") -> Procedure:
    """A procedure that only its owner reads."""
    return actions.create_procedure(document=stored or a_hook(), by=person(owner))


def published(stored: dict[str, Any] | None = None, owner: str = "alice") -> Procedure:
    """A procedure that everybody reads."""
    procedure = a_draft(stored, owner)
    actions.publish(procedure=procedure, by=person(owner))
    procedure.refresh_from_db()
    return procedure


def retitled(procedure: Procedure, title: str) -> None:
    """Change the title in the draft, after it was published."""
    base = editing.details_digest(procedure.document)
    actions.edit_details(procedure=procedure, details={"title": title}, base=base, by=procedure.owner)


def taught(course: Course) -> Procedure:
    """The one procedure of a class."""
    return course.assignments.get().procedure
