"""Send the letters that wait; meant for a timer every minute."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from jobs.services.outbox import send_waiting


class Command(BaseCommand):
    help = "Send the letters that wait in the outbox; a letter that fails is kept and tried again later."

    def handle(self, *args: Any, **options: Any) -> None:
        sent, failed = send_waiting()
        if sent or failed:
            self.stdout.write(f"{sent} sent, {failed} failed")
