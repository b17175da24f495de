"""Send the letters that wait: once, or again and again for as long as it runs (`--every 20`)."""

from __future__ import annotations

import time
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.db import close_old_connections

from jobs.services.outbox import send_waiting


class Command(BaseCommand):
    help = "Send the letters that wait in the outbox; a letter that fails is kept and tried again later."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--every", type=int, metavar="SECONDS", help="go on, looking every so often")

    def handle(self, *args: Any, **options: Any) -> None:
        self._send()
        while options["every"]:
            time.sleep(options["every"])
            close_old_connections()
            self._send()

    def _send(self) -> None:
        sent, failed = send_waiting()
        if sent or failed:
            self.stdout.write(f"{sent} sent, {failed} failed")
