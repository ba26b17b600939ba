# ruff: noqa: N999  the command is called so
"""Take in a package of procedures as drafts of an account: all of it or nothing.

Exit code 0 when it was taken in; 2, with one line saying why, when it was not.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.contrib.auth import get_user_model
from django.core.management.base import BaseCommand

from procedures import actions
from procedures.actions import Refused


class Command(BaseCommand):
    help = "Take in the procedures of a zip, as `export` writes it, as drafts of an account."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", help="the zip")
        parser.add_argument("--owner", required=True, help="the name of the account that they belong to then")

    def handle(self, *args: Any, **options: Any) -> None:
        owner = get_user_model().objects.filter(username=options["owner"], is_active=True).first()
        if owner is None:
            self._refuse(f"There is no account called {options['owner']!r}.")
        try:
            with Path(options["file"]).open("rb") as file:
                made = actions.take_in_package(file=file, by=owner)
        except OSError as error:
            self._refuse(f"{options['file']}: {error.strerror or 'It cannot be read'}.")
        except Refused as refusal:
            self._refuse(f"{options['file']}: {refusal}")
        for one in made:
            self.stdout.write(f"{one.procedure.slug}: {one.procedure.title}")
            for line in one.said:
                self.stdout.write(f"  {line}")

    def _refuse(self, line: str) -> NoReturn:
        self.stderr.write(line)  # by itself: a CommandError would put its own name before it
        sys.exit(2)
