"""Replay every published revision with the engine that is here, and tell what would come out otherwise.

To be run before a release is deployed. Exit code 1 where a figure would change, 0 where none would; other
wording alone changes no figure. What `--json` prints:

    {"format": "forgesite.replay-all", "version": 1, "revisions": how many were replayed,
     "changed": [{"slug", "revision", "title", "fault" (why it reads no more, or null),
                  "unkept" (true where only the digest of its figures was kept, so that all that is known is
                  that something differs),
                  "figures": [{"path", "before", "after"}], "words": [the same]}]}

A path is that of the report (`procedures/report.py`): "parts.0.steps.2.mass".
"""

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterator
from typing import Any

from django.core.management.base import BaseCommand

from procedures import editing, frozen
from procedures.engine.document import read
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay
from procedures.models import Revision
from procedures.report import report

Fields = dict[str, Any]


class Command(BaseCommand):
    help = "Replay every published revision and report each figure that differs from the one published."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="print what differs as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        revisions = Revision.objects.select_related("procedure", "frozen").defer("procedure__document")
        count, changed = 0, []
        for revision in revisions.order_by("procedure_id", "number").iterator(chunk_size=20):
            count += 1
            found = compared(revision)
            if found:
                changed.append(found)
                if not options["json"]:
                    self.stdout.write("\n".join(lines(found)))
        figures = sum(len(one["figures"]) for one in changed)
        if options["json"]:
            told = {"format": "forgesite.replay-all", "version": 1, "revisions": count, "changed": changed}
            self.stdout.write(json.dumps(told, ensure_ascii=False, indent=2))
        else:
            self.stdout.write(f"{count} revisions replayed; {figures} figures would change.")
        if any(one["figures"] or one["fault"] or one["unkept"] for one in changed):
            sys.exit(1)


def compared(revision: Revision) -> Fields | None:
    """Return what of a revision would come out otherwise, or None."""
    told: Fields = {
        "slug": revision.procedure.slug,
        "revision": revision.number,
        "title": revision.title,
        "fault": None,
        "unkept": False,
        "figures": [],
        "words": [],
    }
    try:
        today = report(replay(read(revision.document, draft=True)))
    except DocumentError as error:
        return told | {"fault": f"{error.path}: {error.message}"}
    held = getattr(revision, "frozen", None)
    if held is None:
        return told | {"unkept": True} if editing.digest(today) != revision.frames_digest else None
    for one in frozen.differences(frozen.unpack(held.packed), today):
        where = told["figures" if one.is_figure else "words"]
        where.append({"path": one.path, "before": one.before, "after": one.after})
    return told if told["figures"] or told["words"] else None


def lines(told: Fields) -> Iterator[str]:
    """Yield what differs as lines of text."""
    yield f"{told['slug']}, revision {told['revision']}: {told['title']}"
    if told["fault"]:
        yield f"  It reads no more. {told['fault']}"
    if told["unkept"]:
        yield "  Something differs; its figures were not kept, only their digest."
    for one in told["figures"]:
        before, after = (json.dumps(one[name], ensure_ascii=False) for name in ("before", "after"))
        yield f"  {one['path']}: {before} -> {after}"
    if told["words"]:
        yield f"  {len(told['words'])} sentences are worded otherwise."
