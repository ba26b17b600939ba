"""The worked line on every calculator's page, read again as a sum: it gives the number that it stands beside.

Lines that are words, or a formula still with letters in it, are not read; that most are read is tested too.
"""

import ast
import math
import operator
import re

import pytest

from calculators.formulary import all_formulas

from .test_calculator_examples import opened

SHOWN = 1e-3  # of the value: the numbers put in are rounded to four figures
POWERS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
SIGNS = {"×": "*", "÷": "/", "−": "-", "\u202f": "", "\u00a0": " ", "π": "pi", "½": "0.5"}
OPERATORS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


def value_of(node):
    """Return the value of a sum of numbers, roots and logarithms; raises ValueError for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return node.value
    if isinstance(node, ast.Name) and node.id == "pi":
        return math.pi
    if isinstance(node, ast.BinOp) and type(node.op) in OPERATORS:
        return OPERATORS[type(node.op)](value_of(node.left), value_of(node.right))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -value_of(node.operand)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and len(node.args) == 1:
        return {"sqrt": math.sqrt, "ln": math.log, "arctan": arctan}[node.func.id](value_of(node.args[0]))
    raise ValueError(ast.dump(node))


def arctan(ratio):
    return math.degrees(math.atan(ratio))


def read(working, first):
    """Return what a worked line comes to, or None; one that begins with a sign goes on from the answer."""
    for sign, plain in SIGNS.items():
        working = working.replace(sign, plain)
    working = re.sub(r"√(\d[\d.]*)", r"sqrt(\1)", working).replace("√", "sqrt").replace("^", "**")
    working = re.sub(r"[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+", lambda one: f"**({one[0].translate(POWERS)})", working)
    working = re.sub(r"(\d)pi", r"\1*pi", working)
    working = re.sub(r"arctan ([\d.]+)$", r"arctan(\1)", working)
    if working.lstrip().startswith(("*", "/")):
        working = f"{first!r} {working}"
    try:
        return value_of(ast.parse(working.strip(), mode="eval").body)
    except (SyntaxError, ValueError, KeyError):
        return None


def lines(kind):
    answer = opened(kind)
    for one in (answer, *answer.further):
        found = read(one.working, answer.value)
        if found is not None:
            yield one, found * (100 if one.unit == "%" else 1)


@pytest.mark.parametrize("kind", all_formulas().values(), ids=lambda kind: kind.id)
def test_worked_line_gives_the_number_it_stands_beside(kind):
    for one, found in lines(kind):
        assert found == pytest.approx(one.value, rel=SHOWN), one.working


def test_nearly_every_line_is_read():
    answers = [one for kind in all_formulas().values() for one in (opened(kind), *opened(kind).further)]
    count = sum(1 for kind in all_formulas().values() for _ in lines(kind))
    assert count > 0.8 * len(answers)
