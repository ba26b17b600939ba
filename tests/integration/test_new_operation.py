"""`manage.py new_operation`: what it refuses, and that what it makes passes only once it is filled in."""

import io
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command

from procedures.management.commands import new_operation

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("calculators", "procedures", "forgesite", "templates", "tests", "manage.py", ".pytest.ini")
NAME = "stretch_out"


@pytest.fixture
def folder(monkeypatch, tmp_path):
    """The folder of the operations: an empty one."""
    monkeypatch.setattr(new_operation, "FOLDER", tmp_path)
    return tmp_path


def made(name: str) -> str:
    said = io.StringIO()
    call_command("new_operation", name, stdout=said)
    return said.getvalue()


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("Draw Out", "cannot be an id"),
        ("drawOut", "cannot be an id"),
        ("", "cannot be an id"),
        ("_draw", "cannot be an id"),
        ("draw__out", "cannot be an id"),
        ("draw_2", "cannot be an id"),
        ("dräw", "cannot be an id"),
        ("../draw", "cannot be an id"),
        ("a" * 41, "cannot be an id"),
        ("import", "a word of Python itself"),
        ("print", "a word of Python itself"),
        ("draw_out", "There is an operation called draw_out already: Draw out."),
    ],
)
def test_bad_name_is_refused_in_one_line(folder, capsys, name, why):
    with pytest.raises(SystemExit) as end:
        made(name)
    assert end.value.code == 2
    said = capsys.readouterr().err.strip()
    assert why in said
    assert "\n" not in said
    assert list(folder.iterdir()) == []


def test_file_that_is_there_is_kept(folder, capsys):
    (folder / f"{NAME}.py").write_text("mine")
    with pytest.raises(SystemExit):
        made(NAME)
    assert f"There is a file {NAME}.py" in capsys.readouterr().err
    assert (folder / f"{NAME}.py").read_text() == "mine"


def test_file_says_what_is_next_and_is_in_the_house_style(folder):
    said = made(NAME)
    assert f"python3 manage.py test tests/spec -k {NAME}" in said
    assert f"/operations/{NAME}/" in said
    file = folder / f"{NAME}.py"
    compile(file.read_text(), str(file), "exec")
    for command in (("ruff", "check"), ("ruff", "format", "--check")):
        program = [
            Path(sys.executable).parent / command[0],
            *command[1:],
            "--config",
            ROOT / ".ruff.toml",
            file,
        ]
        done = subprocess.run(program, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr


# -- in a copy of the house --------------------------------------------------------------------------


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A copy of the project with a new operation in it."""
    copy = tmp_path_factory.mktemp("house")
    ignored = shutil.ignore_patterns("__pycache__", "browser", "golden", "printing", "validation", "meta")
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, copy / name, ignore=ignored)
        else:
            shutil.copy(source, copy / name)
    python(copy, "django", "new_operation", NAME)
    return copy


def python(house: Path, module: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"DJANGO_SETTINGS_MODULE": "tests.settings", "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", module, *arguments]
    return subprocess.run(command, cwd=house, env=environment, capture_output=True, text=True, check=False)


def spec(house: Path) -> tuple[int, set[str]]:
    """The exit code of the spec tests of the new operation, and the names of those that failed."""
    done = python(house, "pytest", "-q", "-p", "no:cacheprovider", "tests/spec", "-k", NAME)
    assert "error" not in done.stdout.rpartition("\n")[2].lower(), done.stdout[-2000:]
    return done.returncode, set(re.findall(r"FAILED \S+::(\w+)", done.stdout))


def test_its_tests_fail_until_it_is_filled_in_and_pass_then(house):
    code, failed = spec(house)
    assert code == 1
    assert failed == {
        "test_nothing_is_left_to_fill_in",
        "test_an_operation_says_its_safety_in_whole_sentences",
        "test_a_working_example_comes_out_as_it_says",
    }

    file = house / "procedures" / "engine" / "operations" / f"{NAME}.py"
    words_only = re.sub(r"<([^<>\n]*)>", r"\1", file.read_text())
    file.write_text(words_only)
    assert spec(house) == (1, {"test_a_working_example_comes_out_as_it_says"})

    file.write_text(
        words_only.replace(
            'Result(length=0, worked=0, section=Section.square(15), marks={"A": 0})',
            # 60 × 20² / 15² = 106.67; A: 240 + 30 × 20² / 15² = 293.33
            'Result(length=346.7, worked=106.7, section=Section.square(15), marks={"A": 293.3})',
        ).replace("Result(worked=0)", "Result(worked=104.5)")  # 60 × 19.8² / 15² = 104.54
    )
    assert spec(house) == (0, set())
