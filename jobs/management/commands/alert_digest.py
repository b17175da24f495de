"""Queue the week's letter about jobs forecast past their budget; run it daily, it writes once a week."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from jobs.services.alerts import queue_alert_digest


class Command(BaseCommand):
    help = "Queue a letter to the owners about jobs whose forecast passes their budget; at most once a week."

    def handle(self, *args: Any, **options: Any) -> None:
        letters = queue_alert_digest(today=timezone.localdate())
        self.stdout.write(f"Letters for this week: {len(letters)}" if letters else "No job passes its budget")
