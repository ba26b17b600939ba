"""What a package says of itself in plain words, for who opens it without a site."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from procedures import notices
from procedures.engine.document import LICENCES
from procedures.licences import ASKS

from .manifest import Entry

WIDTH = 100
ABOUT = """\
These are forging procedures, step by step, as open data.

procedure.json is the procedure itself: its bar, its steps and what each is told. Sizes are in millimetres,
masses in kilograms, temperatures in degrees Celsius, angles in degrees.
figures.json is what every step comes to, as the site reckoned it.
photos holds the photos that procedure.json names by their digests (SHA-256).
revisions, where it is there, holds what was published before, by its number.
manifest.json names all files with their digests, who made what, and under which licence.

Any site of the same make takes the file in as it is: New procedure, From a file."""


def readme(entries: Sequence[Entry], more: str = "") -> str:
    """Return the text: what the files are, and whose; `more` tells of what else is in the package."""
    told = [ABOUT, *([more] if more else []), textwrap.fill(notices.WHOLE, WIDTH)]
    told += ["\n".join(_told(one)) for one in entries]
    return "\n\n".join(told) + "\n"


def _told(entry: Entry) -> Iterator[str]:
    version = f"revision {entry.revision}" if entry.revision else "a draft, which is not published"
    where = f"  (in {entry.folder})" if entry.folder else ""
    yield f"{entry.title}, {version}{where}"
    if entry.author:
        yield f"  By {entry.author}"
    yield from (f"  Credit: {one}" for one in entry.credits)
    for one in entry.lineage:
        yield f"  Adapted from {one.title}, revision {one.revision}, by {one.author} ({one.licence})"
    if entry.address:
        yield f"  {entry.address}"
    yield f"  Licence: {LICENCES[entry.licence]} (SPDX: {entry.licence})"
    yield textwrap.fill(ASKS[entry.licence], WIDTH, initial_indent="  ", subsequent_indent="  ")
    if entry.missing:
        yield f"  Photos whose files are missing: {len(entry.missing)}"
