"""Compiles the search for sheet plans and keeps it on disk, so that the first plan need not wait."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from materials.cutting.panels import wait_until_ready


class Command(BaseCommand):
    help = "Get the compiled search for sheet plans ready; some seconds the first time, at once afterwards."

    def handle(self, *args: Any, **options: Any) -> None:
        ready = wait_until_ready()
        self.stdout.write("Ready." if ready else "Not to be had here: sheets are planned by filling alone.")
