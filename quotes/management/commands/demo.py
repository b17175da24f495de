"""Invented jobs to look round with: `python manage.py demo`."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from jobs.models import Person, Workshop
from quotes.demo.load import load_demo
from quotes.demo.workshop import OWNER_EMAIL, PASSWORD


class Command(BaseCommand):
    help = "Load an invented workshop with three jobs, unless there is a workshop already."

    def handle(self, *args: Any, **options: Any) -> None:
        if not Workshop.objects.exists():
            load_demo(timezone.localdate())
        if Person.objects.filter(email=OWNER_EMAIL).exists():
            self.stdout.write(f"Demo workshop. Log in as {OWNER_EMAIL} with the password {PASSWORD}")
        else:
            self.stdout.write("There is a workshop here already; nothing was changed.")
