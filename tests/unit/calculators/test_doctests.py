"""The examples in the calculators' docstrings hold."""

import doctest
from importlib import import_module
from pkgutil import walk_packages

import pytest

import calculators

MODULES = [
    module.name
    for module in walk_packages(calculators.__path__, "calculators.")
    if module.name.split(".")[1] not in ("forms", "views", "urls", "apps")  # these need Django
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_hold(name):
    results = doctest.testmod(import_module(name))
    assert results.failed == 0


def test_every_formula_has_an_example():
    for name in MODULES:
        if name.startswith("calculators.formulas."):
            assert doctest.testmod(import_module(name)).attempted > 0, name
