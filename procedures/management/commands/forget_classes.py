"""Delete the classes whose time is up, with what their students sent."""

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from procedures import actions


class Command(BaseCommand):
    help = "Delete classes so many days after their end as their teachers said; run it daily."

    def handle(self, *args: Any, **options: Any) -> None:
        count = actions.forget_courses(now=timezone.now())
        if count or options["verbosity"] > 1:
            self.stdout.write(f"{count} class{'es' * (count != 1)} forgotten.")
