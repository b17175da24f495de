"""One dated file with everything: `python manage.py backup --to /somewhere/else --keep 30`."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from jobs.backup.archive import BackupError, last_good_backup, make_backup
from jobs.queries.copies import missing_pictures


class Command(BaseCommand):
    help = "Copy the database, papers, photos and settings into one dated file, while the program runs."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--to", type=Path, default=settings.DATA_DIR / "backups", help="the folder for it"
        )
        parser.add_argument("--keep", type=int, help="keep only so many of the newest copies there")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            made = make_backup(options["to"], keep=options["keep"])
        except BackupError as trouble:
            raise CommandError(str(trouble)) from trouble
        self.stdout.write(f"{made} ({made.stat().st_size:,} bytes), checked.")
        if missing := missing_pictures(last_good_backup()):
            self.stderr.write(
                f"Photos MISSING from it: {len(missing)}. "
                "Their files are gone or damaged; an earlier copy may still hold them."
            )
            self.stderr.write("\n".join(f"  {picture}" for picture in missing))
