"""Exported on one site, imported on another that has never seen it: the same figures, byte for byte."""

import json
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command

from procedures import actions
from procedures.engine.document_text import parse
from procedures.management.commands.load_demo import DEMO
from procedures.models import Procedure
from procedures.photos import prepare

from .showing import a_hook, person, published
from .test_packages import a_picture, with_photo

ROOT = Path(__file__).resolve().parents[2]
OURS = {
    "DJANGO_SETTINGS_MODULE",
    "FORGESITE_INSTANCE",
    "SECRET_KEY",
    "ALLOWED_HOSTS",
    "DJANGO_ALLOW_ASYNC_UNSAFE",
}
ACCOUNT = """
from django.contrib.auth import get_user_model
get_user_model().objects.create_user("mairi", password="another password")
"""

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


class Site:
    """Another site: a database and files of its own, worked by its own commands."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def manage(self, *arguments: str, **more) -> subprocess.CompletedProcess[str]:
        kept = {name: value for name, value in os.environ.items() if name not in OURS}
        command = [sys.executable, str(ROOT / "manage.py"), *arguments]
        environment = kept | {"FORGESITE_INSTANCE": str(self.folder)}
        return subprocess.run(command, env=environment, capture_output=True, text=True, check=False, **more)

    def rows(self, query: str) -> list[tuple]:
        with closing(sqlite3.connect(self.folder / "db.sqlite3")) as database:
            return database.execute(query).fetchall()

    def report(self, document: str) -> str:
        return self.manage("replay", "-", "--json", input=document).stdout


@pytest.fixture(scope="module")
def another_site(tmp_path_factory) -> Site:
    site = Site(tmp_path_factory.mktemp("another-site"))
    for arguments in (("migrate", "-v", "0"), ("shell", "-v", "0", "-c", ACCOUNT)):
        done = site.manage(*arguments)
        assert done.returncode == 0, done.stderr
    return site


def test_figures_are_the_same_on_a_site_that_has_never_seen_it(another_site, tmp_path):
    hook = published(parse((DEMO / "gate_strap.json").read_bytes()))
    first = hook.document["parts"][0]
    prepared = prepare(SimpleUploadedFile("strap.png", a_picture()))
    place = {"part": first["key"], "step": first["steps"][0]["key"]}
    actions.attach_photo(procedure=hook, **place, prepared=prepared, alt="It.", caption="", by=hook.owner)
    actions.publish(procedure=hook, note="With a photo", by=hook.owner)
    published(a_hook(title="A ring"))
    file = tmp_path / "both.zip"
    call_command("export", str(file), *Procedure.objects.values_list("slug", flat=True), "--revisions")
    hook.refresh_from_db()

    done = another_site.manage("import", str(file), "--owner", "mairi")
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("Every figure comes out here as in the file.") == 2
    rows = another_site.rows(f"SELECT document FROM procedures_procedure WHERE slug = '{hook.slug}'")  # noqa: S608
    there = another_site.report(rows[0][0])
    here = another_site.report(json.dumps(hook.latest.document))
    assert json.loads(there)["complete"]
    assert there.encode() == here.encode()
    photos = [one for one in (another_site.folder / "media").rglob("*.jpg") if one.stat().st_size]
    assert len(photos) == len(prepared.files)
    assert another_site.rows("SELECT count(*) FROM procedures_adaptation") == [(0,)]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("no-such.zip", "--owner", "mairi"), "no-such.zip: No such file or directory."),
        (("{zip}", "--owner", "nobody"), "There is no account called 'nobody'."),
        (
            ("{text}", "--owner", "mairi"),
            "The zip breaks off: its directory is missing. Nothing was taken in.",
        ),
    ],
)
def test_import_that_cannot_be_says_why_in_a_line(another_site, tmp_path, arguments, said):
    (tmp_path / "text.zip").write_text("no zip")
    hook = published()
    file = tmp_path / "hook.zip"
    call_command("export", str(file), hook.slug)
    named = {"zip": file, "text": tmp_path / "text.zip"}
    done = another_site.manage("import", *(one.format(**named) for one in arguments))
    assert done.returncode == 2
    assert done.stderr.strip().endswith(said)
    assert "Traceback" not in done.stderr


def test_export_writes_over_nothing_and_names_what_is_not_there(tmp_path, capsys):
    hook = published()
    file = tmp_path / "hook.zip"
    file.write_bytes(b"something else")
    for arguments, said in (
        ((file, hook.slug), "File exists"),
        ((tmp_path / "a.zip", "nothing"), "'nothing'"),
    ):
        with pytest.raises(SystemExit) as stopped:
            call_command("export", *map(str, arguments))
        assert stopped.value.code == 2
        assert said in capsys.readouterr().err
    assert file.read_bytes() == b"something else"
    assert not (tmp_path / "a.zip").exists()


def test_export_of_the_draft_is_asked_for(tmp_path, capsys):
    hook = published()
    with_photo(hook)
    call_command("export", str(tmp_path / "public.zip"), hook.slug)
    call_command("export", str(tmp_path / "draft.zip"), hook.slug, "--draft")
    assert capsys.readouterr().out.splitlines() == ["1 procedure, 4 files.", "1 procedure, 5 files."]
    assert person().procedures.get() == hook
