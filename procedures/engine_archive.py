"""The engine as one archive, for the Python on a phone: the same modules that the site runs."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from calculators import units

_PROJECT = Path(__file__).resolve().parents[1]
_PACKED = ("calculators", "procedures/__init__.py", "procedures/engine", "procedures/replanning.py")
_LEFT_OUT = {  # only a site serves the schema
    f"procedures/engine/{name}.py" for name in ("schema", "schema_rules", "originals_schema")
}
_UNITS = "calculators/units.py"
_LONG_AGO = (1980, 1, 1, 0, 0, 0)  # no date of ours, so that the same code is the same archive


@cache
def engine_archive() -> bytes:
    """Return a zip of the calculators, the engine and what re-plans with them, the same for the same code."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for file in sorted(_files()):
            name = file.relative_to(_PROJECT).as_posix()
            if name not in _LEFT_OUT:
                text = file.read_text() + (_factors() if name == _UNITS else "")
                archive.writestr(zipfile.ZipInfo(name, _LONG_AGO), text, zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def _factors() -> str:
    """Return what pint says, to be written under the units module: pint itself is not on the phone."""
    return f"""

_FACTORS = {units.factors()!r}
_LINE = {units.fahrenheit_line()!r}


def factor(unit):
    return _FACTORS[unit]


def fahrenheit_line():
    return _LINE
"""


def _files() -> Iterator[Path]:
    for name in _PACKED:
        place = _PROJECT / name
        yield from place.rglob("*.py") if place.is_dir() else (place,)
