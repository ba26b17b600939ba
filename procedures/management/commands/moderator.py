"""Say who looks after the site."""

from argparse import ArgumentParser
from typing import Any

from django.contrib.auth.models import User
from django.core.management.base import BaseCommand, CommandError

from procedures import actions


class Command(BaseCommand):
    help = "Let somebody look after the site: hide, warn and block. It stands in the moderators' log."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="the name they sign in by")
        parser.add_argument("--remove", action="store_true", help="let them do so no longer")

    def handle(self, *args: Any, **options: Any) -> None:
        person = User.objects.filter(username=options["name"]).first()
        if person is None:
            raise CommandError(f"Nobody here is called {options['name']}.")
        changed = actions.name_moderator(person=person, remove=options["remove"], by=None)
        state = "no moderator" if options["remove"] else "a moderator"
        self.stdout.write(f"{person} is {state}{' now' if changed else ' already'}.")
