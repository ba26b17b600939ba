"""Send mail of what is new to who wants it."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand
from django.utils import timezone

from procedures import actions


class Command(BaseCommand):
    help = "Send each person the mail of what is new that they asked for; run it daily."

    def handle(self, *args: Any, **options: Any) -> None:
        count = actions.send_digests(now=timezone.now(), address=settings.ADDRESS)
        if count or options["verbosity"] > 1:
            self.stdout.write(f"{count} mail{'s' * (count != 1)} sent.")
