"""A shop profile: what it holds, how it is stored, and what it refuses in words."""

import json
from dataclasses import fields, replace

import pytest

from procedures.engine.judging.hearth import HOT_LENGTH
from procedures.planning.figures import FIGURES
from procedures.planning.profile import ProfileError, ShopProfile, default, read


def refused(**given):
    with pytest.raises(ProfileError) as caught:
        read(given)
    return caught.value.field, caught.value.message


def test_a_visitor_has_a_hand_hammer_and_a_coke_fire():
    usual = default()
    assert (usual.used.energy, usual.used.rate) == (25.35, 1.7)  # 1/2 x 1.2 kg x (6.5 m/s)2
    assert usual.reach == 150
    assert usual.hammer_called("power") is None
    assert usual.hammer_called("striker") is None


def test_a_profile_is_stored_as_what_differs_and_read_again():
    own = ShopProfile(name="Ashdown forge", fire="gas", power_energy=162, hammer="power", currency="pound")
    stored = json.loads(json.dumps(own.write()))
    assert stored == {
        "name": "Ashdown forge",
        "fire": "gas",
        "power_energy": 162,
        "hammer": "power",
        "currency": "pound",
    }
    assert read(stored) == own
    assert read({}) == default()


@pytest.mark.parametrize("fire", sorted(HOT_LENGTH))
def test_the_hot_length_of_a_fire_is_the_one_the_checks_reckon_with(fire):
    assert ShopProfile(fire=fire).reach == HOT_LENGTH[fire]


def test_a_student_hits_softer_and_straightens_more():
    student = ShopProfile(skill="student")
    assert (student.blow, student.shaping) == (12.5, 0.6)
    assert replace(student, hand_energy=20.0).blow == 20


def test_every_number_has_limits_that_hold_its_default_and_a_basis():
    numbers = {
        one.name for one in fields(ShopProfile) if not isinstance(getattr(default(), one.name), str | bool)
    }
    assert numbers == set(FIGURES)
    for name, figure in FIGURES.items():
        value = getattr(default(), name)
        assert figure.basis
        assert value is None or figure.least <= value <= figure.most


def test_a_power_hammer_of_no_energy_is_refused_in_words():
    assert refused(power_energy=0) == (
        "power_energy",
        "A power hammer of 0 J strikes nothing: give its energy, or say that there is none.",
    )
    assert "-5 J strikes nothing" in refused(power_energy=-5)[1]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"hand_energy": float("nan")}, "nan is not a number"),
        ({"hand_energy": float("inf")}, "inf is not a number"),
        ({"power_energy": 1e12}, "1e+12 J is more than the most, 20000 J"),
        ({"power_energy": 10**400}, "so large a number J is more than the most"),
        ({"contact": -1}, "-1 W/m²K is less than the least, 0 W/m²K"),
        ({"hand_rate": "fast"}, "a number is needed, not 'fast'"),
        ({"hand_rate": True}, "a number is needed, not 'True'"),
        ({"fire": "bonfire"}, "'bonfire' is no fire: one of average, coke"),
        ({"fire": ["coke"]}, "is no fire"),
        ({"striker": "yes"}, "Say yes or no"),
        ({"name": 5}, "The name is words"),
        ({"name": "x" * 61}, "61 characters long; at most 60"),
        ({"currency": "p\n"}, "control characters"),
        ({"stop": 1000, "start": 900}, "1000 °C is not below 900 °C"),
        ({"fire_heat": 1100}, "A fire of 1100 °C does not heat a bar to 1180 °C"),
        ({"hammer": "power"}, "no energy is given"),
        ({"hammer": "striker"}, "the shop has none"),
        ({"anvil": 1}, "has no figure called 'anvil'"),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason(given, said):
    field, message = refused(**given)
    assert said in message
    assert field in given or field in {"power_energy", "striker"}


def test_what_is_no_object_is_refused():
    with pytest.raises(ProfileError, match="an object of named figures"):
        read([1])
