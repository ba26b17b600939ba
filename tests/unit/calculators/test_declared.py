"""What is made from what its class declares: by name, once, and equal by its values."""

from copy import copy
from dataclasses import FrozenInstanceError

import pytest

from calculators.declared import Declaration, Declared


class Bar(Declared):
    """A bar, for these tests."""

    width = Declaration("Width")
    thickness = Declaration("Thickness", 8.0)


class Rod(Bar):
    """A bar that says otherwise of one attribute and has one more."""

    width = Declaration("Across", 12.0)
    length = Declaration("Length", None)


def test_what_is_left_out_has_its_default():
    assert (Bar(width=30).width, Bar(width=30).thickness) == (30, 8)


def test_what_its_bases_declare_comes_first():
    assert [*Rod.declared] == ["width", "thickness", "length"]
    assert Rod.declared["width"].about == "Across"
    assert [*Bar.declared] == ["width", "thickness"]


def test_class_shows_its_defaults_and_nothing_else():
    assert Rod.width == 12
    assert not hasattr(Bar, "width")


@pytest.mark.parametrize(
    ("given", "reason"),
    [({}, "Bar needs width"), ({"width": 1, "depth": 2, "wall": 3}, "Bar has no depth, wall")],
)
def test_what_is_missing_or_strange_is_refused_by_name(given, reason):
    with pytest.raises(TypeError, match=reason):
        Bar(**given)


def test_it_never_changes():
    bar = Bar(width=30)
    with pytest.raises(FrozenInstanceError, match="width of Bar"):
        bar.width = 40
    with pytest.raises(FrozenInstanceError, match="width of Bar"):
        del bar.width


def test_it_equals_one_of_the_same_class_and_values():
    assert Bar(width=30) == Bar(width=30, thickness=8) == copy(Bar(width=30))
    assert hash(Bar(width=30)) == hash(Bar(width=30.0))
    assert Bar(width=30) != Bar(width=31)
    assert Bar(width=30) != Rod(width=30)


def test_another_is_made_by_naming_what_differs():
    assert Bar(width=30).but(thickness=5) == Bar(width=30, thickness=5)
    with pytest.raises(TypeError, match="has no depth"):
        Bar(width=30).but(depth=5)


def test_it_shows_its_values():
    assert repr(Rod(width=30)) == "Rod(width=30, thickness=8.0, length=None)"
