"""`manage.py replay_all` finds every published figure that the engine of today would change."""

import json

import pytest
from django.core.management import call_command

from procedures import frozen
from procedures.models import FrozenReport, Revision

from .showing import published

pytestmark = pytest.mark.django_db


def altered(revision, **changes):
    """Alter frozen values of the last step, as if an older engine had reckoned them so."""
    held = frozen.unpack(revision.frozen.packed)
    held["parts"][0]["steps"][1].update(changes)
    FrozenReport.objects.filter(revision=revision).update(packed=frozen.pack(held))
    return held


def run(capsys, *options):
    """What the command prints, and its exit code."""
    try:
        call_command("replay_all", *options)
        code = 0
    except SystemExit as exit_:
        code = exit_.code
    return capsys.readouterr().out, code


def test_same_figures_are_no_news(capsys):
    published()
    published()
    text, code = run(capsys)
    assert (text.strip(), code) == ("2 revisions replayed; 0 figures would change.", 0)


def test_altered_figure_is_told_with_its_path_before_and_after(capsys):
    hook = published()
    mass = frozen.unpack(hook.latest.frozen.packed)["parts"][0]["steps"][1]["mass"]
    altered(hook.latest, mass=1.25)
    text, code = run(capsys)
    assert code == 1
    assert f"{hook.slug}, revision 1: A hook" in text
    assert f"  parts.0.steps.1.mass: 1.25 -> {mass}" in text
    assert "1 figures would change" in text


def test_json_holds_all_that_changed(capsys):
    hook = published()
    altered(hook.latest, status="stopped", heats=7, instruction="Otherwise worded.", groups={"arms": ["a"]})
    text, code = run(capsys, "--json")
    told = json.loads(text)
    assert (told["format"], told["revisions"], code) == ("forgesite.replay-all", 1, 1)
    (one,) = told["changed"]
    assert {figure["path"].rpartition(".")[2]: figure["before"] for figure in one["figures"]} == {
        "status": "stopped",
        "heats": 7,
        "arms": ["a"],
    }
    assert [word["before"] for word in one["words"]] == ["Otherwise worded."]


def test_segment_that_is_there_no_more_and_one_that_is_new_are_told(capsys):
    hook = published()
    branches = frozen.unpack(hook.latest.frozen.packed)["parts"][0]["steps"][1]["branches"]
    branches[0]["segments"].append({"length": 3.0})
    altered(hook.latest, branches=branches)
    text, code = run(capsys)
    assert code == 1
    assert '{"length": 3.0} -> null' in text


def test_other_wording_alone_is_no_fault(capsys):
    altered(published().latest, instruction="Otherwise worded.")
    text, code = run(capsys)
    assert "1 sentences are worded otherwise." in text
    assert code == 0


def test_name_that_a_later_report_adds_changes_nothing(capsys):
    hook = published()
    held = frozen.unpack(hook.latest.frozen.packed)
    del held["parts"][0]["steps"][1]["ledger"]["measured"]
    FrozenReport.objects.update(packed=frozen.pack(held))
    assert run(capsys)[1] == 0


def test_revision_without_kept_figures_is_held_by_its_digest(capsys):
    published()
    FrozenReport.objects.all().delete()
    assert run(capsys)[1] == 0
    Revision.objects.update(frames_digest="0" * 64)
    text, code = run(capsys)
    assert "only their digest" in text
    assert code == 1


def test_document_that_reads_no_more_is_told(capsys):
    hook = published()
    Revision.objects.update(document={**hook.latest.document, "version": 99})
    text, code = run(capsys)
    assert "It reads no more. version: Version 99" in text
    assert code == 1
