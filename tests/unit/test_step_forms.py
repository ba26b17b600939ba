"""Fields made from declared parameters: every kind has one, and what is shown reads back."""

import pytest
from django.core.exceptions import ValidationError
from django.http import QueryDict
from hypothesis import given
from hypothesis import strategies as st

from calculators.sections import Section
from calculators.wording import INCH, METRIC
from procedures.engine.catalogue import catalogue
from procedures.engine.parameters import params, place_params
from procedures.engine.parameters.params import Param
from procedures.forms import Offer, StepForm, with_row_added, with_row_removed
from procedures.forms.kinds import FIELDS
from procedures.forms.step import ENTRIES
from procedures.forms.typed import angles_field, length_field, names_field, number_field, section_field

BOTH = pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda one: one.id)


def kinds(base: type[Param]) -> set[str]:
    return {base.kind}.union(*(kinds(one) for one in base.__subclasses__()))


def test_every_kind_of_parameter_has_a_field():
    assert params
    assert place_params
    assert kinds(Param) - {""} == FIELDS.keys() | ENTRIES.keys()


@pytest.mark.parametrize("operation", catalogue().values(), ids=lambda one: one.id)
def test_every_operation_has_a_form(operation):
    form = StepForm({"key": "s1", "operation": operation.id, "params": {}}, operation, Offer(METRIC))
    assert [entry.name for entry in form.entries] == list(operation.params())
    assert "<" in form.as_p()


@BOTH
@given(st.floats(0.01, 99_000))
def test_length_left_as_shown_is_the_length_stored(units, stored):
    field = length_field(units, stored)
    assert field.clean(field.shown) == stored


@BOTH
@given(st.floats(0.5, 20_000))
def test_length_shown_reads_as_nearly_the_same(units, stored):
    shown = length_field(units, stored).shown
    read = length_field(units, None).clean(shown)
    parts = 32 if stored <= 12.7 else 16 if stored <= 152.4 else 8  # as fine as a rule is read at that length
    assert read == pytest.approx(stored, abs=0.006 if units is METRIC else 0.51 * 25.4 / parts)


@BOTH
@pytest.mark.parametrize(
    "section",
    [
        Section.square(12),
        Section.round(12.7),
        Section.flat(30, 8),
        Section.hexagon(20),
        Section.octagon(14),
        Section.half_round(20),
        Section.triangle(20),
        Section.tube(20, 2),
        Section.rounded_flat(30, 8, 2),
        Section.chamfered_flat(30, 8, 1),
        Section.point(),
        Section.edge(20),
    ],
    ids=str,
)
def test_section_shown_reads_as_the_same_shape(units, section):
    shown = section_field(units, section.to_json()).shown
    read = Section.from_json(section_field(units, None).clean(shown))
    assert read.shape == section.shape
    assert read.width == pytest.approx(section.width, abs=0.5)  # half a 1/32 in


def test_stored_value_that_does_not_read_is_shown_as_it_is():
    assert section_field(METRIC, {"shape": "blob"}).shown == '{"shape": "blob"}'
    assert length_field(METRIC, "long").shown == "long"
    assert length_field(METRIC, "long").clean("long") == "long"


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        (number_field(METRIC, None, "%"), "12,5 %", 12.5),
        (number_field(METRIC, None), "−3", -3),
        (number_field(METRIC, None, "°C"), "1150", 1150),
        (number_field(INCH, None, "°C"), "2102", 1150),
        (number_field(INCH, None, "°C"), "1150 C", 1150),
        (names_field(None), "left, right arm ,", ["left", "right arm"]),
        (angles_field(None), "30 -45; 22.5", [30, -45, 22.5]),
        (angles_field(None), "30, −45", [30, -45]),
        (length_field(METRIC, None), "  ", None),
    ],
)
def test_typed_text_is_read(field, text, value):
    assert field.clean(text) == pytest.approx(value) if value is not None else field.clean(text) is None


def test_one_angle_or_two_is_not_guessed():
    with pytest.raises(ValidationError, match="one number or several"):
        angles_field(None).clean("22,5")


ROWS = "count=3&m-0-name=A&m-1-name=B&m-2-name=C&m-0-on=x&m-1-on=y&m-2-on=z".replace("count", "m-count")


def test_row_is_added_at_the_end():
    assert with_row_added(QueryDict(ROWS), "m")["m-count"] == "4"


def test_rows_after_one_removed_move_up():
    less = with_row_removed(QueryDict(ROWS), "m", 1)
    assert (less["m-count"], less["m-0-name"], less["m-1-name"], less["m-1-on"]) == ("2", "A", "C", "z")


@pytest.mark.parametrize("count", ["", "many", "-1", "9999999", "٣"])
def test_nonsense_count_of_rows_is_one(count):
    operation = catalogue()["mark_out"]
    data = QueryDict(mutable=True)
    data["param-marks-count"] = count
    form = StepForm({"key": "s1", "operation": "mark_out", "params": {}}, operation, Offer(METRIC), data)
    assert "param-marks-0-name" in form.fields
    assert "param-marks-1-name" not in form.fields
