"""Every operation says all that a smith and a form need, and every finding where its rule comes from."""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path

import pytest

import procedures.engine
from procedures.engine.catalogue import catalogue
from procedures.engine.operation import FAMILIES
from procedures.engine.parameters.params import Choice

ENGINE = Path(procedures.engine.__file__).parent
OPERATIONS = pytest.mark.parametrize("kind", catalogue().values(), ids=lambda kind: kind.id)

# What findings may be about beside the operation itself.
SHARED = {
    "group",
    "holding",
    "joint",
    "material",
    "name",
    "part",
    "place",
    "scale",
    "shape",
    "step",
    "thin",
    "weld",
}
# No rule of the trade stands behind a document that names what is not there, or a step half filled in.
WITHOUT_RULE = {"name", "part", "place", "step"}
FILLED_IN = {
    "mark_out.name_twice",
    "open_split.angles_count",
    "split.group_named_as_arm",
    "split.shares_count",
}
OWN = "{self.id}"
BRACKETS = re.compile(r"<[^<>]*>")


def findings():
    """Yield (file, line, level, code, whether it has a source) for every finding written down."""
    for path in sorted(ENGINE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            called = node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
            if called in ("stop", "caution", "note") and path.name != "finding.py":
                sources = [one.value for one in node.keywords if one.arg == "source"]
                sourced = any(ast.unparse(one) not in ("''", '""') for one in sources)
                yield path, node.lineno, called, code_of(node.args[0]), sourced


def code_of(node):
    """Return the code as written, "" where it is not; what is shared may write f"{self.id}.what"."""
    if isinstance(node, ast.JoinedStr):
        return ast.unparse(node).strip("f'\"")
    return node.value if isinstance(node, ast.Constant) else ""


FINDINGS = [one for one in findings() if one[3]]


def place(path, line):
    return f"{path.relative_to(ENGINE)}:{line}"


@OPERATIONS
def test_an_operation_is_in_the_file_of_its_name(kind):
    assert kind.__module__.rsplit(".", 1)[-1] == kind.id


def test_every_file_of_the_folder_holds_an_operation():
    files = {one.stem for one in (ENGINE / "operations").glob("*.py")} - {"__init__"}
    assert files == set(catalogue())


@OPERATIONS
def test_an_operation_has_an_example_that_works_and_one_that_is_refused(kind):
    assert [one for one in kind.examples if one.after]
    assert [one for one in kind.examples if one.refused]
    assert not [one for one in kind.examples if one.after and one.refused]
    titles = [one.title for one in kind.examples]
    assert len(titles) == len(set(titles))


@OPERATIONS
def test_an_operation_that_moves_metal_shows_what_scale_does(kind):
    if kind.family == "move":
        scaled = [one for one in kind.examples if one.heats * one.scale or one.welding_heats * one.weld_scale]
        assert scaled, "no example with scale on"


@OPERATIONS
def test_an_operation_says_what_a_smith_needs_of_it(kind):
    assert kind.title
    assert kind.help
    assert kind.family in FAMILIES
    assert kind.tools
    assert kind.safety, "every job can hurt somebody"
    assert kind.period
    assert kind.modern
    student, practised = kind.usual_heats
    assert student >= practised >= 0
    if kind.heat is not None:
        low, high = kind.heat
        assert 20 < low < high < 1500


@OPERATIONS
def test_nothing_is_left_to_fill_in(kind):
    """What `manage.py new_operation` leaves in <brackets> is for its author to say."""
    tree = ast.parse((ENGINE / "operations" / f"{kind.id}.py").read_text())
    texts = [one for one in ast.walk(tree) if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    assert [f"line {one.lineno}: {one.value}" for one in texts if BRACKETS.search(one.value)] == []


@OPERATIONS
def test_the_first_line_of_its_file_says_what_an_operation_does(kind):
    first = sys.modules[kind.__module__].__doc__.partition("\n")[0]
    title, _, does = first.partition(": ")
    assert title, first
    assert does.endswith("."), first


@OPERATIONS
def test_an_operation_says_its_safety_in_whole_sentences(kind):
    assert all(line[0].isupper() and line.endswith(".") for line in kind.safety)


@OPERATIONS
def test_a_parameter_has_a_label_and_one_default_that_it_takes(kind):
    for name, param in kind.params().items():
        assert param.label, name
        default = kind.default(name)
        if default is not None:
            assert param.read(param.write(default)) == default, name
        if isinstance(param, Choice):
            assert len(param.choices) > 1, name
    for names in kind.one_of:
        assert set(names) <= set(kind.params())


def test_no_two_operations_are_called_the_same():
    titles = [kind.title for kind in catalogue().values()]
    assert len(titles) == len(set(titles))


def test_a_code_has_one_level_and_one_home():
    said = {}
    for path, line, level, code, _ in FINDINGS:
        said.setdefault(code, {}).setdefault((level, path), place(path, line))
    assert not {code: list(uses.values()) for code, uses in said.items() if len(uses) > 1}


def test_a_code_begins_with_the_operation_or_a_shared_subject():
    for path, line, _, code, _ in FINDINGS:
        if code.startswith(OWN):
            code = code.replace(OWN, "punch")
        subject, what = code.split(".")
        assert what.replace("_", "").isalpha(), place(path, line)
        assert subject in SHARED | set(catalogue()), place(path, line)
        if path.parent.name == "operations":
            assert subject in SHARED | {path.stem}, place(path, line)


def test_a_finding_says_where_its_rule_comes_from():
    without = [
        place(path, line)
        for path, line, _, code, sourced in FINDINGS
        if not sourced and code not in FILLED_IN and code.split(".")[0] not in WITHOUT_RULE
    ]
    assert not without


def test_a_stop_that_examples_expect_is_one_that_is_written_down():
    codes = {code for _, _, level, code, _ in FINDINGS if level == "stop"}
    codes |= {code.replace(OWN, kind) for code in codes if code.startswith(OWN) for kind in catalogue()}
    expected = {code for kind in catalogue().values() for one in kind.examples for code in one.refused}
    assert expected <= codes | {"step.incomplete"}
