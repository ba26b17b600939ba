"""The demo procedures: complete, and reckoned as they were when they were last looked at.

The reports kept here change only when a number is meant to change. To write them anew:

    for name in coat_hook door_hinge gate_strap hat_bracket pot_stand; do
        python3 manage.py replay procedures/demo/$name.json --json > tests/golden/$name.json
    done
"""

import json
from pathlib import Path

import pytest
from django.core.management import call_command
from jsonschema import Draft202012Validator

from procedures.engine.document import read, write
from procedures.engine.document_text import parse
from procedures.engine.finding import Level
from procedures.engine.replay import replay
from procedures.engine.schema import schema
from procedures.management.commands.load_demo import DEMO
from procedures.models import Procedure
from procedures.report import report

FILES = sorted(DEMO.glob("*.json"))
GOLDEN = Path(__file__).parent
TOLERANCE = 1e-6  # two machines' last figures may differ


@pytest.fixture(params=FILES, ids=lambda file: file.stem)
def file(request) -> Path:
    return request.param


def stored_in(file: Path):
    return parse(file.read_bytes())


def test_there_are_five():
    names = ["coat_hook", "door_hinge", "gate_strap", "hat_bracket", "pot_stand"]
    assert [one.stem for one in FILES] == names


def test_every_step_comes_about_with_nothing_to_warn_of(file):
    for nominal in (False, True):
        replayed = replay(read(stored_in(file)), nominal=nominal)
        assert replayed.is_complete
        assert not [
            one for part in replayed.parts for frame in part.frames for one in frame.of_level(Level.CAUTION)
        ]


def test_document_is_valid_by_the_schema_and_comes_back_the_same(file):
    stored = stored_in(file)
    assert [error.message for error in Draft202012Validator(schema()).iter_errors(stored)] == []
    assert read(write(read(stored))) == read(stored)


def test_report_is_the_one_kept(file):
    kept = json.loads((GOLDEN / file.name).read_bytes())
    same(report(replay(read(stored_in(file)))), kept, file.stem)


def same(found, kept, path: str) -> None:
    """Compare two reports, naming the place where they part."""
    if isinstance(kept, dict):
        assert list(found) == list(kept), path
        for name in kept.keys() - {"findings"}:  # new rules may find more; every number is to stay
            same(found[name], kept[name], f"{path}/{name}")
    elif isinstance(kept, list):
        assert len(found) == len(kept), path
        for index, one in enumerate(kept):
            same(found[index], one, f"{path}/{index}")
    elif isinstance(kept, float):
        assert found == pytest.approx(kept, rel=TOLERANCE, abs=TOLERANCE), path
    else:
        assert found == kept, path


DOCUMENTED = {
    "step": [
        *("number", "key", "operation", "version", "title", "status", "heats", "welding_heats"),
        *("instruction", "check", "findings", "branches", "groups", "joints", "volume", "mass", "ledger"),
    ],
    "branch": ["name", "attached", "length", "volume", "segments", "marks", "features"],
    "segment": ["start", "end", "length", "volume", "path", "twist", "layers"],
    "ledger": [
        *("start", "received", "piece", "scale", "kerf", "slug", "weld", "measured", "offcuts", "balance"),
    ],
}


def test_report_keeps_its_documented_fields_in_order(file):
    step = report(replay(read(stored_in(file))))["parts"][0]["steps"][-1]
    branch = step["branches"][0]
    found = {"step": step, "branch": branch, "segment": branch["segments"][0], "ledger": step["ledger"]}
    for what, names in DOCUMENTED.items():  # more may come between them, none goes
        assert [name for name in found[what] if name in names] == names, what


@pytest.mark.django_db
def test_demo_is_loaded_once_published_and_left_alone_after():
    call_command("load_demo", verbosity=0)
    loaded = list(Procedure.objects.order_by("pk"))
    assert len(loaded) == len(FILES)
    assert all(one.is_public and one.latest.number == 1 for one in loaded)
    assert {one.owner.get_username() for one in loaded} == {"smith"}
    loaded[0].delete()
    call_command("load_demo", verbosity=0)
    assert Procedure.objects.count() == len(FILES) - 1
