"""Print the JSON Schema of a procedure's document; needs no database."""

import json
from typing import Any

from django.core.management.base import BaseCommand

from procedures.engine.schema import schema


class Command(BaseCommand):
    help = "Print the JSON Schema (draft 2020-12) of a procedure's document."
    requires_system_checks: list[str] = []

    def handle(self, *args: Any, **options: Any) -> None:
        self.stdout.write(json.dumps(schema(), ensure_ascii=False, indent=2))
