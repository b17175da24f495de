"""Searches for better cutting plans; started by the web pages, not by hand."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from materials.services.plan_search import search_run


class Command(BaseCommand):
    help = "Search for better plans of one run, until their time is up or they are proven or stopped."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("run", type=uuid.UUID)

    def handle(self, *args: Any, **options: Any) -> None:
        count = search_run(options["run"])
        self.stdout.write(f"{count} searched")
