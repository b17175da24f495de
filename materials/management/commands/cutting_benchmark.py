"""How good are the cutting plans? `python manage.py cutting_benchmark INSTANCES --out PLANS --seconds 10`."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from materials.cutting.benchmark import run


class Command(BaseCommand):
    help = "Solve every published cutting instance (*.json) of a folder and compare with the best known."
    requires_system_checks = ()  # it needs no database and no settings

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("instances", type=Path, help="the folder of instances")
        parser.add_argument("--out", type=Path, required=True, help="the folder for the plans, one a file")
        parser.add_argument("--seconds", type=float, default=10.0, help="time for each instance")

    def handle(self, *args: Any, **options: Any) -> None:
        folder: Path = options["instances"]
        if not any(folder.glob("*.json")):
            raise CommandError(f"There is no *.json in {folder}.")
        if options["seconds"] <= 0:
            raise CommandError("Give it some time: --seconds must be over nothing.")
        run(folder, options["out"], options["seconds"], self.tell)

    def tell(self, line: str) -> None:
        """Print a line at once, so that a long run shows how far it is."""
        self.stdout.write(line)
        self.stdout.flush()
