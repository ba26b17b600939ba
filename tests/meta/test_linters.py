"""Style, types and import rules, run as tests so that `pytest` alone runs everything."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
BIN = Path(sys.executable).parent


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(("ruff", "check", "."), id="ruff check"),
        pytest.param(("ruff", "format", "--check", "."), id="ruff format"),
        pytest.param(("mypy", "--config-file", ".mypy.ini"), id="mypy"),
        pytest.param(("lint-imports", "--no-cache", ".importlinter"), id="import rules"),
    ],
)
def test_linter_finds_nothing(command):
    program = [BIN / command[0], *command[1:]]
    done = subprocess.run(program, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.fail(done.stdout + done.stderr, pytrace=False)
