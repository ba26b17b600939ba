"""The filters and tags of the templates."""

import json
from pathlib import Path

import pytest
from django.utils.safestring import mark_safe

from procedures.templatetags.fractions import fractions
from procedures.templatetags.modules import import_map, module_paths

ROOT = Path(__file__).resolve().parents[2]


def frac(text):
    return f'<span class="frac">{text}</span>'


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("13/16", frac("13/16")),
        ("11 13/16 in", f"11 {frac('13/16')} in"),
        ("1/2 × 1/4 in", f"{frac('1/2')} × {frac('1/4')} in"),
        ("□3/8 to □3/16", f"□{frac('3/8')} to □{frac('3/16')}"),
        ("300 mm", "300 mm"),
        ("", ""),
    ],
)
def test_only_the_fraction_is_set_as_one(text, shown):
    assert fractions(text) == shown


@pytest.mark.parametrize("text", ["3/5/2031", "2031/05/03", "1234/5"])
def test_dates_and_long_numbers_are_no_fractions(text):
    assert fractions(text) == text


def test_typed_markup_is_escaped():
    assert fractions("<b>1/2</b>") == f"&lt;b&gt;{frac('1/2')}&lt;/b&gt;"


def test_markup_of_our_own_is_kept():
    assert fractions(mark_safe("<b>1/2</b>")) == f"<b>{frac('1/2')}</b>"


def test_import_map_names_every_module_by_its_file():
    names = json.loads(import_map())["imports"]
    files = {
        path.relative_to(ROOT / "static/js").with_suffix("").as_posix()
        for path in (ROOT / "static/js").rglob("*.js")
    }
    assert "theme" in files
    libraries = {name for name in names if name.startswith("vendor/")}
    assert {f"forgesite/{name}" for name in files} == names.keys() - libraries
    assert "vendor/three/three" in libraries
    assert len(module_paths()) == len(files) + len(libraries)
