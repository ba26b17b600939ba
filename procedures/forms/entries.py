"""From a declared parameter to the fields of a form, and back to its stored value.

An entry is one parameter in a form. It knows no operation, only kinds of parameter; step.py says which entry
is made for which kind.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from django import forms
from django.forms.boundfield import BoundField

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.parameters.params import Length, Param, ParamError
from procedures.engine.pieces.piece import Piece

from .kinds import FIELDS
from .typed import TypedField


@dataclass(frozen=True)
class Offer:
    """What a form may offer: the reader's units, the piece before the step, and the other parts."""

    units: UnitSystem
    piece: Piece | None = None
    parts: tuple[tuple[str, str], ...] = ()

    def places(self) -> list[tuple[str, str]]:
        """Return (name, label) of every branch and group there is before the step."""
        if self.piece is None:
            return []
        branches = [(one.name, one.name) for one in self.piece.branches]
        groups = [
            (name, f"each of {name} ({len(members)})")
            for name, members in self.piece.groups.items()
            if name not in {one for one, _ in branches}
        ]
        return branches + groups

    def marks(self) -> list[str]:
        """Return the names of all marks there are before the step."""
        found = self.piece.branches if self.piece else ()
        return list(dict.fromkeys(mark.name for branch in found for mark in branch.marks))


class Entry:
    """One parameter with one field. `name` is the parameter's, `prefix` the field's."""

    template: ClassVar[str] = "procedures/author/_line.html"
    # Whether it begins with what it comes to: of several that exclude each other, one is taken up there.
    takes_up: bool = False

    def __init__(
        self,
        name: str,
        param: Param,
        offer: Offer,
        stored: Any,
        *,
        default: Any = None,
        solved: Any = None,
        prefix: str = "",
    ) -> None:
        self.name = name
        self.param = param
        self.offer = offer
        self.stored = stored
        self.default = None if default is None else param.write(default)
        self.solved = solved  # what it comes to, where it is not given
        self.prefix = prefix or f"param-{name}"
        self.form: forms.Form | None = None
        self.findings: Sequence[Any] = ()  # what the checks say of it, put here by who shows the form

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.name}>"

    @property
    def label(self) -> str:
        """The label of the parameter."""
        return self.param.label

    @property
    def help(self) -> str:
        """The help of the parameter."""
        return retold(self.param.help, self.offer.units)

    @property
    def is_optional(self) -> bool:
        """Whether it may be left out for good."""
        return not self.param.required and self.default is None

    @property
    def after_id(self) -> str:
        """The id of the place where faults and findings about it are shown."""
        return f"after-{self.prefix}"

    def fields(self, data: Mapping[str, Any] | None) -> dict[str, forms.Field]:
        """Return its fields by name; `data` is what was posted, where the number of fields depends on it."""
        given = (self.stored, self.solved if self.takes_up else None, self.default)
        value = next((one for one in given if one is not None), None)
        field = FIELDS[self.param.kind](self, value)
        if isinstance(field, TypedField):
            field.widget.attrs["placeholder"] = " "  # lets the style sheet see that it is empty
        return {self.prefix: field}

    def value(self, cleaned: Mapping[str, Any]) -> Any:
        """Return the stored value of what was cleaned, or None for not given. Raises ParamError."""
        return cleaned.get(self.prefix)

    def read(self, cleaned: Mapping[str, Any]) -> Any:
        """Return the value to store, or None for not given; what says the same stays as it was stored.

        Raises ParamError for a new value that the parameter does not take.
        """
        value = self.value(cleaned)
        if value in (None, "") or value == self.stored:
            return self.stored if value not in (None, "") else None
        if self.stored is None and value == self.default:
            return None
        check_limits(self.param, value, self.offer.units)
        written = self.param.write(self.param.read(value))
        return self.stored if written == self._stored_written() else written

    def _stored_written(self) -> Any:
        try:
            return self.param.write(self.param.read(self.stored))
        except ParamError:
            return None

    def ignored(self, posted: Mapping[str, Any]) -> list[str]:
        """Return the fields whose text says nothing here, so that no fault is found in them."""
        return []

    def field_at(self, path: tuple[str | int, ...]) -> str:
        """Return the name of the field that a fault at this path inside the value is about."""
        return self.prefix

    @property
    def bound(self) -> list[BoundField]:
        """Its fields in the form."""
        assert self.form is not None
        return [self.form[name] for name in self.names]

    @property
    def names(self) -> list[str]:
        """The names of its fields."""
        return [self.prefix]

    @property
    def line(self) -> BoundField:
        """Its first field in the form."""
        return self.bound[0]

    @property
    def unit(self) -> str:
        """The unit said after the field."""
        return getattr(self.line.field, "unit", "")

    @property
    def is_size(self) -> bool:
        """Whether it is typed in the face that sizes are read in."""
        return self.param.kind in ("length", "section", "angle", "number")

    @property
    def solved_text(self) -> str:
        """What it comes to where it is not given, as text; "" where that is not known."""
        if self.solved is None:
            return ""
        return str(getattr(FIELDS[self.param.kind](self, self.solved), "shown", ""))

    @property
    def wrong(self) -> list[str]:
        """The names of the fields that something is wrong with."""
        return [field.name for field in self.bound if field.errors]

    @property
    def words(self) -> str:
        """The value it starts with, in words, to set two versions side by side."""
        return words_of(self.bound)

    @property
    def faults(self) -> list[str]:
        """What is wrong with what was typed."""
        return [str(error) for field in self.bound for error in field.errors]


def words_of(fields: Sequence[BoundField]) -> str:
    """Return what fields start with, in words."""
    said = []
    for one in fields:
        value = one.initial
        if isinstance(one.field, forms.ChoiceField):
            value = dict(list(one.field.choices)).get(value, value)  # type: ignore[arg-type]
        elif isinstance(one.field, forms.BooleanField):
            value = "yes" if value else "no"
        elif value and getattr(one.field, "unit", ""):
            value = f"{value} {one.field.unit}"  # type: ignore[attr-defined]
        said.append(str(value or ""))
    return ", ".join(one for one in said if one)


def check_limits(param: Param, value: Any, units: UnitSystem) -> None:
    """Raise ParamError for a length beyond the parameter's limits, in the reader's units."""
    if not isinstance(param, Length) or not isinstance(value, int | float):
        return
    for is_within, words, limit in (
        (param.least is None or value >= param.least, "at least", param.least),
        (param.above is None or value > param.above, "more than", param.above),
        (param.most is None or value <= param.most, "at most", param.most),
    ):
        if not is_within:
            allowed = units.length(limit or 0.0)
            raise ParamError(f"{param.label} must be {words} {allowed}, not {units.length(value)}.")
