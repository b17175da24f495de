"""Take a copy back into an empty place: `python manage.py restore kerfbook-20260302-180000.zip`."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from jobs.backup.archive import BackupError, restore_backup


class Command(BaseCommand):
    help = "Restore a copy into an empty database and photo folder, and prove that it is equal."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("copy", type=Path, help="the file that backup wrote")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        try:
            back = restore_backup(options["copy"])
        except BackupError as trouble:
            raise CommandError(str(trouble)) from trouble
        self.stdout.write(
            f"{back.rows} rows, {len(back.facts.papers)} papers and {back.photos} photos are back; "
            "row counts, contents, ledger sums and the papers' hashes are equal to the copy's."
        )
        if back.missing_photos:
            self.stderr.write(
                f"Photos MISSING: {len(back.missing_photos)}. "
                "They were gone or damaged before the copy was made; the next backup names them."
            )
