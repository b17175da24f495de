"""A link to choose a new password with: `python manage.py password_link o@example.org`."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.urls import reverse
from django.utils import timezone

from jobs.models import Person
from jobs.services.accounts.links import make_link


class Command(BaseCommand):
    help = "Print a link by which a person can choose a new password, once, within three days."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("email")

    def handle(self, *args: Any, **options: Any) -> None:
        person = Person.objects.filter(email__iexact=options["email"], is_active=True).first()
        if person is None:
            raise CommandError(f"Nobody active here has the e-mail {options['email']}.")
        token = make_link(person=person, by=None, now=timezone.now())
        self.stdout.write(settings.SITE_URL + reverse("choose-password", args=[token]))
