"""Make anew what procedures are found by: after an upgrade that finds more in them, or for those without."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from procedures import actions
from procedures.engine.parameters.fields import DocumentError
from procedures.models import Procedure


class Command(BaseCommand):
    help = "Make anew what every published procedure is found by."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--missing", action="store_true", help="only of those that are not found yet")

    def handle(self, *args: Any, **options: Any) -> None:
        shown = (Procedure.Status.PUBLIC, Procedure.Status.GUILD)
        wanted = Procedure.objects.filter(status__in=shown, latest__isnull=False, hidden=None)
        if options["missing"]:
            wanted = wanted.filter(facts=None)
        done = 0
        for procedure in wanted.select_related("latest").defer("document").iterator():
            try:
                actions.note_facts(procedure)
                done += 1
            except DocumentError as error:
                self.stderr.write(f"{procedure.slug}: {error}")
        if options["verbosity"] > 0:
            self.stdout.write(f"{done} procedures are found by what they are now.")
