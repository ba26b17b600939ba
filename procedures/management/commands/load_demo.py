"""Load the demo: accounts to try the site with, and procedures to read."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from procedures import actions
from procedures.engine.document import read, write
from procedures.engine.document_text import parse
from procedures.models import Procedure

from ._demo_guild import gather
from ._demo_keeping import put_together
from ._demo_shops import count_blows, keep_shops
from ._demo_talk import tell

DEMO = Path(__file__).resolve().parents[2] / "demo"
DEMO_ACCOUNTS = ("smith", "apprentice")
TALKED_OF = "coat_hook.json"
ON_A_SHELF = "pot_stand.json"


class Command(BaseCommand):
    help = "Load the demo into a database that has no accounts yet; any other is left as it is."

    def handle(self, *args: Any, **options: Any) -> None:
        if get_user_model().objects.exists():
            if options["verbosity"] > 0:
                self.stdout.write("There are accounts already: only an empty database gets the demo.")
            return
        if not settings.DEMO_PASSWORD:
            raise CommandError("FORGESITE_DEMO_PASSWORD must say what password the demo accounts get.")
        with transaction.atomic():
            owner, apprentice = [
                get_user_model().objects.create_user(name, f"{name}@example.org", settings.DEMO_PASSWORD)
                for name in DEMO_ACCOUNTS
            ]
            keep_shops(owner, apprentice)
            loaded: dict[str, Procedure] = {}
            for file in sorted(DEMO.glob("*.json"), reverse=True):  # lists show the last first
                stored = write(read(parse(file.read_bytes())))
                made = actions.create_procedure(document=stored, by=owner)
                actions.publish(procedure=made, by=owner)
                made.refresh_from_db()
                if file.name == TALKED_OF:
                    tell(made, owner, apprentice)
                    count_blows(apprentice)
                loaded[file.name] = made
            gather(owner, apprentice, hook=loaded[TALKED_OF], shelved=loaded[ON_A_SHELF])
            put_together(owner, apprentice, loaded)
        self.stdout.write("The demo is loaded.")


def accounts_with_demo_password() -> list[str]:
    """User names of the demo accounts whose password is still the generated one."""
    accounts = get_user_model().objects.filter(username__in=DEMO_ACCOUNTS, is_active=True)
    return [user.get_username() for user in accounts if user.check_password(settings.DEMO_PASSWORD)]
