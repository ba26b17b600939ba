"""Replay a procedure's document and print every step; needs no database.

Exit code 0 when the document could be replayed, even when a step of it is stopped (that is in the output:
"complete" and each step's "status"); 2 when there is no document to replay, with one line `path: message`.
"""

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from procedures.engine.document import read
from procedures.engine.document_text import LARGEST, parse
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay
from procedures.report import lines, report


class Command(BaseCommand):
    help = "Replay a procedure's document and print every step: sizes, marks, mass, ledger and findings."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", help="the document (JSON), or - for standard input")
        parser.add_argument("--json", action="store_true", help="print the report as JSON")
        parser.add_argument("--nominal", action="store_true", help="leave scale out of the reckoning")
        parser.add_argument(
            "--estimate",
            choices=("low", "typical", "high"),
            default="typical",
            help="how much scale to reckon with (typical)",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            document = read(parse(_bytes_of(options["file"])))
        except DocumentError as error:
            self._refuse(f"{error.path}: {error.message}")
        except OSError as error:
            self._refuse(f"{options['file']}: {error.strerror or 'It cannot be read'}.")
        replayed = replay(document, nominal=options["nominal"], estimate=options["estimate"])
        if options["json"]:
            self.stdout.write(json.dumps(report(replayed), ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n".join(lines(replayed)))

    def _refuse(self, line: str) -> NoReturn:
        self.stderr.write(line)  # by itself: a CommandError would put its own name before the path
        sys.exit(2)


def _bytes_of(name: str) -> bytes:
    """Return what is in the file, or enough of it to see that it is too large."""
    if name == "-":
        return sys.stdin.buffer.read(LARGEST + 1)
    with Path(name).open("rb") as opened:
        return opened.read(LARGEST + 1)
