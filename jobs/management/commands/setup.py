"""Start with an empty workshop: `python manage.py setup` asks what it must know."""

from __future__ import annotations

import getpass
import os
from argparse import ArgumentParser
from dataclasses import fields
from decimal import Decimal, InvalidOperation
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from jobs.services.setup import AlreadySetUpError, NewWorkshop, set_up_workshop

QUESTIONS = {
    "workshop_name": "Name of the workshop",
    "owner_name": "Your name",
    "owner_email": "Your e-mail, for logging in",
    "currency": "Currency (ISO 4217 code)",
    "locale": "Way of writing numbers and dates (locale)",
    "time_zone": "Time zone",
    "tax_name": "Name of the tax on your work",
    "tax_percent": "Its rate in per cent (0 if you are not registered for it)",
    "cost_rate": "What an hour of yours costs the workshop",
    "charge_rate": "What you charge for an hour",
}
DECIMALS = {"tax_percent", "cost_rate", "charge_rate"}


class Command(BaseCommand):
    help = "Set up an empty workshop: the owner, name, currency, tax and rates. Asks for what is not given."

    def add_arguments(self, parser: ArgumentParser) -> None:
        for name, question in QUESTIONS.items():
            parser.add_argument(f"--{name.replace('_', '-')}", dest=name, help=question)
        parser.add_argument(
            "--no-questions",
            action="store_true",
            help="take the usual for what is not given; the password is read from KERFBOOK_OWNER_PASSWORD",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            answers = {name: self._answer(name, options) for name in QUESTIONS}
            new = NewWorkshop(**answers, password=self._password(options))
            owner = set_up_workshop(new, today=timezone.localdate())
        except AlreadySetUpError as refused:
            raise CommandError(str(refused)) from refused
        except ValidationError as refused:
            raise CommandError(_in_words(refused)) from refused
        self.stdout.write(f"Ready. Log in as {owner.email}.")

    def _answer(self, name: str, options: dict[str, Any]) -> Any:
        usual = {field.name: field.default for field in fields(NewWorkshop)}[name]
        has_usual = isinstance(usual, (str, Decimal))
        given = options[name]
        if given is None and not options["no_questions"]:
            given = input(f"{QUESTIONS[name]}{f' [{usual}]' if has_usual else ''}: ").strip() or None
        if given is None:
            if not has_usual:
                raise CommandError(f"{QUESTIONS[name]} is missing: give --{name.replace('_', '-')}.")
            return usual
        return _decimal(name, given) if name in DECIMALS else given

    def _password(self, options: dict[str, Any]) -> str:
        if options["no_questions"]:
            return os.environ.get("KERFBOOK_OWNER_PASSWORD", "")
        first = getpass.getpass("A password of 12 characters or more: ")
        if getpass.getpass("Once more: ") != first:
            raise CommandError("The two passwords differ. Nothing was set up.")
        return first


def _decimal(name: str, given: str) -> Decimal:
    try:
        return Decimal(given.replace(",", "."))
    except InvalidOperation:
        raise CommandError(f"{QUESTIONS[name]}: “{given}” is not a number.") from None


def _in_words(refused: ValidationError) -> str:
    if hasattr(refused, "error_dict"):
        lines = [f"{name}: {' '.join(words)}" for name, words in refused.message_dict.items()]
        return "\n".join(lines)
    return " ".join(refused.messages)
