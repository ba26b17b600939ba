"""The base of a formula: limits, answers, citations, and registering by being a file."""

import dataclasses
import types
from dataclasses import replace
from math import inf, nan

import pytest

from calculators import formulary
from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.formulary import all_formulas, formula
from calculators.formulas.taper_length import TaperLength
from calculators.materials import MATERIALS
from calculators.sections import Section
from calculators.sources import SOURCES


class Doubling(Formula):
    """Twice a number, for these tests."""

    id = "doubling"
    title = "Twice"
    source = Cite("DERIVED")

    value: float = given("Value", "mm", above=0, at_most=10)
    share: float = given("Share", "", at_least=0, below=1, default=0.5)

    def answer(self):
        """Return twice the value."""
        return Answer(2 * self.value, "mm", f"2 × {self.value:g}")


OUT_OF_LIMITS = [
    ({"value": 0}, "value", "Value must be more than 0 mm; it is 0 mm."),
    ({"value": -3}, "value", "Value must be more than 0 mm; it is -3 mm."),
    ({"value": 10.5}, "value", "Value must be at most 10 mm; it is 10.5 mm."),
    ({"value": nan}, "value", "Value must be a finite number"),
    ({"value": inf}, "value", "Value must be a finite number"),
    ({"value": 10**400}, "value", "Value must be a finite number"),
    ({"value": "3"}, "value", "Value must be a number; it is '3'."),
    ({"value": None}, "value", "Value must be a number; it is None."),
    ({"value": True}, "value", "Value must be a number; it is True."),
    ({"value": 3, "share": -0.1}, "share", "Share must be at least 0; it is -0.1."),
    ({"value": 3, "share": 1}, "share", "Share must be less than 1; it is 1."),
]


@pytest.mark.parametrize(("values", "field", "reason"), OUT_OF_LIMITS)
def test_input_out_of_its_limits_is_refused_by_its_label(values, field, reason):
    with pytest.raises(GivenError) as refusal:
        Doubling(**values)
    assert reason in str(refusal.value)
    assert refusal.value.field == field


@pytest.mark.parametrize("bar", [12, "12 sq", None])
def test_section_is_asked_for_where_a_section_is_needed(bar):
    square = Section.square(12)
    with pytest.raises(GivenError, match="Bar must be a section"):
        TaperLength(stock=bar, used=40, start=square, end=square)


def test_formula_answers_with_its_working():
    answer = Doubling(value=3).answer()
    assert (answer.value, answer.unit, answer.working) == (6, "mm", "2 × 3")


def test_formula_is_frozen_and_equal_by_its_inputs():
    assert Doubling(value=3) == Doubling(value=3, share=0.5)
    with pytest.raises(dataclasses.FrozenInstanceError):
        Doubling(value=3).value = 4


def test_inputs_are_listed_in_order_with_their_limits():
    assert [(name, limits.label, limits.unit) for name, limits in Doubling.inputs()] == [
        ("value", "Value", "mm"),
        ("share", "Share", ""),
    ]


def test_formula_without_an_answer_cannot_be_made():
    class Mute(Formula):
        """No answer."""

    with pytest.raises(TypeError):
        Mute()


def test_further_value_is_found_by_its_label():
    answer = Answer(1, "mm", "", further=(Answer(2, "mm", "", "low"),))
    assert answer["low"].value == 2
    with pytest.raises(KeyError):
        answer["high"]


def test_citation_of_an_unknown_source_is_refused():
    with pytest.raises(KeyError, match="NOBODY"):
        Cite("NOBODY")


def test_citation_says_where_in_the_source():
    assert (
        str(Cite("MACHINERY", page=1421)) == "Industrial Press, Machinery's Handbook, 31st edition, page 1421"
    )
    assert str(Cite("ILGEN", "article 111")).endswith("1912, article 111")


def test_every_source_says_how_far_it_was_followed():
    assert {source.standing for source in SOURCES.values()} == {
        "read",
        "quoted",
        "memory",
        "derived",
        "practice",
    }


def test_every_formula_is_a_file_of_its_name_with_a_title_and_a_source():
    found = all_formulas()
    assert {"bar_mass", "taper_length", "heat_colour"} <= set(found)
    for name, each in found.items():
        assert each.id == name
        assert each.title
        assert each.source.key in SOURCES
        assert formula(name) is each


@pytest.mark.parametrize("each", all_formulas().values(), ids=lambda each: each.id)
def test_every_formula_says_its_inputs_its_validity_and_an_example(each):
    for part in ("Args:", "Returns:", "Valid ", "Raises:", ">>>"):
        assert part in each.__doc__
    for name, _ in each.inputs():
        assert f"        {name}: " in each.__doc__


def test_unknown_formula_is_a_key_error():
    with pytest.raises(KeyError):
        formula("perpetual_motion")


def test_file_without_a_formula_of_its_name_is_refused(monkeypatch):
    stray = types.SimpleNamespace(name="stray")
    monkeypatch.setattr(formulary, "iter_modules", lambda _: [stray])
    monkeypatch.setattr(formulary, "import_module", lambda _: types.SimpleNamespace())
    with pytest.raises(TypeError, match=r"formulas/stray\.py must hold one formula"):
        all_formulas.__wrapped__()


@pytest.mark.parametrize("material", MATERIALS.values(), ids=lambda material: material.id)
def test_material_is_worked_below_its_welding_heat_and_burns_above_it(material):
    assert 7500 < material.density < 7900
    assert (
        material.forging[0]
        < material.forging[1]
        <= material.welding[0]
        < material.welding[1]
        < material.burns_at
    )
    assert material.density_source.source.standing in ("read", "quoted")
    assert material.mass(1e9) == pytest.approx(material.density)


def test_material_says_what_it_forbids():
    mild, high = MATERIALS["mild_steel"], MATERIALS["high_carbon"]
    assert mild.hardening is None
    assert any("harden" in one for one in mild.forbids)
    assert high.hardening == pytest.approx((780, 820))
    assert not any("case-harden" in one for one in high.forbids)
    for material in MATERIALS.values():
        assert material.magnetic_source.source.standing in ("quoted", "memory")
        low, high = material.hardening or material.normalising
        assert material.magnetic_to < low < high < material.burns_at


def test_treating_heats_go_evenly_with_the_carbon():
    assert MATERIALS["wrought_iron"].normalising == (890, 920)
    between = replace(MATERIALS["mild_steel"], carbon=0.6)
    assert between.normalising == pytest.approx((825, 845))
