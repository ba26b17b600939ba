"""How a package is laid out: a zip of one procedure, of several in a folder each, or of a whole account.

    manifest.json            what is in it, by whom, under which licence, with the digest of every file
    README.txt               the same in plain words
    procedure.json           the document, as its JSON Schema tells
    figures.json             the replay report of it (`procedures.report`): what every step comes to
    photos/DIGEST.jpg        the widest file of each photo that is kept
    revisions/N.json         what was published before, where that was wished

The last four stand in a folder of their own, SLUG/, where there are several procedures.
"""

from __future__ import annotations

import re

FORMAT = "forgesite.package"
VERSION = 1
MANIFEST = "manifest.json"
README = "README.txt"
DOCUMENT = "procedure.json"
FIGURES = "figures.json"
MEGA = 1024 * 1024  # bytes

# What is taken in at most; nothing that was ever made here comes near it.
LARGEST_PACKAGE = 200 * MEGA
MOST_UNPACKED = 400 * MEGA
LARGEST_FILE = 60 * MEGA  # figures of a thousand steps
LARGEST_DOCUMENT = 5 * MEGA
LARGEST_PHOTO = 20 * MEGA
MOST_FILES = 5000
MOST_PROCEDURES = 200
MOST_PHOTOS = 400
MOST_STEPS = 6000  # of all procedures together: each is replayed
MOST_RATIO = 250  # unpacked to packed: figures of like steps come to 100, a bomb to 1000
SMALL = MEGA  # files below it may be packed as tightly as they are
LONGEST_NAME = 200  # characters of a file's name

FOLDER = re.compile(r"(?:[a-z0-9][a-z0-9_-]{0,99}/)?", re.ASCII)
PHOTO = re.compile(r"photos/([0-9a-f]{64})\.jpg", re.ASCII)
REVISION = re.compile(r"revisions/([0-9]{1,6})\.json", re.ASCII)


class PackageRefused(ValueError):
    """A package that is not taken in; says why in a sentence."""


def photo_name(digest: str) -> str:
    """Return the name of a photo's file in its folder."""
    return f"photos/{digest}.jpg"


def revision_name(number: int) -> str:
    """Return the name of a revision's file in its folder."""
    return f"revisions/{number}.json"
