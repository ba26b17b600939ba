"""Write procedures into a package: their latest revision, or the draft where there is none.

Exit code 0 when it was written; 2, with one line saying why, when it was not.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from procedures.exchange.packing import packed
from procedures.exchange.writing import Packed, write_package
from procedures.models import Procedure


class Command(BaseCommand):
    help = "Write procedures with their photos into a zip, which `import` takes in on another site."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", help="the zip to write; one that is there is not written over")
        parser.add_argument("slug", nargs="+", help="a procedure, by the name in its address")
        parser.add_argument("--draft", action="store_true", help="the drafts, not what is published")
        parser.add_argument("--revisions", action="store_true", help="with all revisions beside them")

    def handle(self, *args: Any, **options: Any) -> None:
        slugs = list(dict.fromkeys(options["slug"]))
        found = {
            one.slug: one
            for one in Procedure.objects.filter(slug__in=slugs).select_related("latest", "owner")
        }
        if missing := [slug for slug in slugs if slug not in found]:
            self._refuse(f"There is no procedure {missing[0]!r}.")
        chosen = (self._packed(found[slug], **options) for slug in slugs)
        try:
            with Path(options["file"]).open("xb") as file:
                manifest = write_package(file, chosen, folders=len(slugs) > 1)
        except OSError as error:
            self._refuse(f"{options['file']}: {error.strerror or 'It cannot be written'}.")
        count = len(manifest.procedures)
        self.stdout.write(f"{count} procedure{'s' * (count != 1)}, {len(manifest.files) + 1} files.")

    def _packed(self, procedure: Procedure, *, draft: bool, revisions: bool, **_: Any) -> Packed:
        older = procedure.revisions.all() if revisions else ()
        return packed(procedure, None if draft else procedure.latest, older=older)

    def _refuse(self, line: str) -> NoReturn:
        self.stderr.write(line)  # by itself: a CommandError would put its own name before it
        sys.exit(2)
