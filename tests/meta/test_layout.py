"""What the repository holds, and what it must not hold."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
VISIBLE = {
    *("README.md", "DEVELOPERS.md", "manage.py", "requirements.txt"),
    *("forgesite", "procedures", "calculators", "templates", "static", "tests"),
}
# Spelled in pieces, so that this file does not find itself.
FORBIDDEN = {
    "work left behind": r"\b(TO" + r"DO|FIX" + r"ME|XX" + r"X|HA" + r"CK)\b|NotImplemented" + "Error",
    "a path of one machine": r"(?<![\w./-])/(?:work|tmp|root|home|Users|farm)/",
    "a registry's host": r"pypi\.or" + r"g|pythonho" + r"sted|registry\.npmj" + r"s|deb\.debia" + "n",
}
TEXTS = ("py", "md", "html", "css", "js", "txt", "ini", "toml", "json", "svg", "importlinter", "run")


def committed_files() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return [ROOT / name for name in listed.stdout.split("\0") if name]


def test_top_level_holds_only_what_belongs_there():
    top = {file.relative_to(ROOT).parts[0] for file in committed_files()}
    assert {name for name in top if not name.startswith(".")} <= VISIBLE


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_committed_text_holds(what):
    pattern = re.compile(FORBIDDEN[what])
    found = [
        f"{file.relative_to(ROOT)}:{number}: {line.strip()[:120]}"
        for file in committed_files()
        if file.name.endswith(TEXTS) and file.exists()
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]
    assert not found, "\n".join(found)


def test_templates_hold_no_inline_style_or_script():
    """The content policy would refuse them; the import map, which has a nonce, is the one exception."""
    script = r"<script(?![^>]*\bsrc=)(?![^>]*type=\"importmap\")"
    inline = re.compile(script + r"|<style|\sstyle=|\son(?:click|change|submit|load|input)=", re.IGNORECASE)
    found = [
        f"{file.relative_to(ROOT)}:{number}: {line.strip()[:120]}"
        for file in committed_files()
        if file.suffix == ".html" and file.exists() and "print" not in file.relative_to(ROOT).parts
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)
        if inline.search(line)
    ]
    assert not found, "\n".join(found)
