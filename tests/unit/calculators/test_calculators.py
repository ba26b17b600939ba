"""What a formula's file says for its page, what is typed for it, and its working in inches."""

from math import isclose

import pytest

from calculators.formula import GROUPS, SHARE, Limits, check_bar
from calculators.formula_words import words_of
from calculators.formulary import all_formulas, by_group, nearest, of_operation, search
from calculators.formulas.bar_mass import BarMass
from calculators.formulas.draw_out_length import DrawOutLength
from calculators.restated import in_inches, inch_unit
from calculators.sections import Section
from calculators.typed import TypedError
from calculators.typed_given import LONGEST, read_given, settled, takes
from calculators.wording import INCH, METRIC

EVERY = pytest.mark.parametrize("kind", all_formulas().values(), ids=lambda kind: kind.id)
POWERS = {"mm": 1, "mm²": 2, "mm³": 3}
LENGTH = Limits("Length", "mm", above=0)
AREA = Limits("Section", "mm²", above=0, of="area")


def example(kind, units=METRIC):
    typed = {name: one.example[units is INCH] for name, one in kind.inputs() if one.example[0]}
    limits = dict(kind.inputs())
    return kind(**{name: read_given(limits[name], text, units) for name, text in typed.items()})


@EVERY
def test_file_says_all_that_its_page_needs(kind):
    said = words_of(kind)
    assert kind.group in GROUPS
    assert kind.words
    assert kind.result
    assert said.gist
    assert said.law
    assert said.valid.startswith("Valid ")
    for name, limits in kind.inputs():
        assert said.inputs[name]
        assert hasattr(kind, name) or all(limits.example)
        if limits.choices:
            assert getattr(kind, name) in [value for _, value in limits.choices.values()]


@EVERY
@pytest.mark.parametrize("units", [METRIC, INCH], ids=lambda units: units.id)
def test_example_is_answered_without_a_fault(kind, units):
    formula = example(kind, units)
    assert formula.answer().value == formula.answer().value
    figure = formula.figure()
    if figure:
        assert figure.told
        assert len(set(figure.spots())) > 2


@EVERY
def test_sum_that_holds_in_any_unit_does(kind):
    formula = example(kind)
    if not kind.any_unit:
        with pytest.raises(ValueError, match="house units only"):
            in_inches(formula)
        return
    house, inches = formula.answer(), in_inches(formula).answer()
    for one, other in zip((house, *house.further), (inches, *inches.further), strict=True):
        assert isclose(one.value / 25.4 ** POWERS.get(one.unit, 0), other.value, rel_tol=1e-9, abs_tol=1e-12)


def test_formulas_stand_under_their_groups_once():
    assert list(by_group()) == list(GROUPS)
    assert sum(len(kinds) for kinds in by_group().values()) == len(all_formulas())


def test_operation_finds_its_formulas():
    assert DrawOutLength in of_operation("draw_out")
    assert of_operation("levitate") == []


def test_search_goes_by_the_beginnings_of_words():
    assert "temper_colour" not in [kind.id for kind in search("ring")]
    assert search("tyre")[0].id == "hoop_blank"
    assert search("tyre anvil") == []
    assert "tenon" in nearest("tennon")


# -- what is typed -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("limits", "typed", "units", "said"),
    [
        (LENGTH, "  80 ", METRIC, "80 mm"),
        (LENGTH, "3 1/2", INCH, "3 1/2 in"),
        (LENGTH, "3 1/2 in", METRIC, "3 1/2 in"),
        (LENGTH, "0", METRIC, "0"),
        (LENGTH, "rope", METRIC, "rope"),
        (AREA, "1/2 sq", INCH, "1/2 in sq"),
        (AREA, "20 x 50", METRIC, "20 x 50 mm"),
        (AREA, "ø12", METRIC, "ø12 mm"),
        (Limits("Heat", "°C"), "1800", INCH, "1800 F"),
        (Limits("Heat", "°C"), "1000 C", INCH, "1000 C"),
        (Limits("Piece", "kg"), "4", INCH, "4 lb"),
        (Limits("Price", "a kg"), "2.50", METRIC, "2.50 a kg"),
        (Limits("Turns", ""), "1 3/4", INCH, "1 3/4"),
    ],
)
def test_unit_is_said_where_readers_would_differ(limits, typed, units, said):
    assert settled(limits, typed, units) == said
    assert settled(limits, said, METRIC) == settled(limits, said, INCH) == said


def test_what_is_typed_is_read_in_the_readers_units():
    assert read_given(LENGTH, "3", INCH) == pytest.approx(76.2)
    assert read_given(AREA, "20 sq", METRIC) == 400
    assert read_given(Limits("S", "mm", of="modulus"), "20 sq", METRIC) == 5
    assert read_given(Limits("Loss", SHARE), "2 %", METRIC) == pytest.approx(0.02)
    assert read_given(Limits("Price", "a kg"), "1 a lb", METRIC) == pytest.approx(1 / 0.45359237)
    with pytest.raises(TypedError, match="a weight that is not known"):
        read_given(Limits("Price", "a kg"), "1 a stone", METRIC)


def test_choice_that_is_not_offered_is_refused():
    limits = dict(BarMass.inputs())["density"]
    assert read_given(limits, "wrought_iron", METRIC) == 7700
    with pytest.raises(TypedError, match="is not offered"):
        read_given(limits, "7850", METRIC)


def test_no_more_is_read_than_a_line():
    assert len(settled(LENGTH, "9" * 5000, METRIC)) <= LONGEST + 3


@EVERY
def test_every_field_says_what_it_takes(kind):
    for _, limits in kind.inputs():
        for units in (METRIC, INCH):
            assert bool(takes(limits, units)) != bool(limits.choices)


def test_share_out_of_its_limits_is_said_in_per_cent():
    assert Limits("Loss", SHARE, below=1).fault(1.2) == "Loss must be less than 100 %; it is 120 %."


def test_section_without_metal_is_refused():
    with pytest.raises(ValueError, match="holds no metal"):
        check_bar("stock", Section.point())


def test_units_of_length_are_named_in_inches():
    assert [inch_unit(one) for one in ("mm", "mm²", "mm³", "°C")] == ["in", "in²", "in³", "°C"]
