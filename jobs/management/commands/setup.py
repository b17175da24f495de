"""Start with an empty workshop: `python manage.py setup` asks what it must know."""

from __future__ import annotations

import getpass
import os
from argparse import ArgumentParser
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, fields
from decimal import Decimal, InvalidOperation
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from jobs.models import Person
from jobs.services.setup import AlreadySetUpError, NewWorkshop, refuse_if_set_up, set_up_workshop

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
USUAL = {field.name: field.default for field in fields(NewWorkshop) if field.default is not MISSING}


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
        self.asks = not options["no_questions"]
        try:
            refuse_if_set_up()
            answers = {name: self._answer(name, options[name]) for name in QUESTIONS}
            answers["password"] = self._password()
            owner = self._set_up(answers)
        except AlreadySetUpError as refused:
            raise CommandError(str(refused)) from refused
        except EOFError as ended:
            raise CommandError("The answers ended too soon. Nothing was set up.") from ended
        self.stdout.write(f"Ready. Log in as {owner.email}.")

    def _set_up(self, answers: dict[str, Any]) -> Person:
        """Whatever is amiss is asked again, the other answers stay."""
        while True:
            try:
                return set_up_workshop(NewWorkshop(**answers), today=timezone.localdate())
            except ValidationError as refused:
                amiss = refused.message_dict
                if not self.asks or not amiss.keys() <= answers.keys():
                    raise CommandError(_in_words(amiss)) from refused
            for name, words in amiss.items():
                self.stdout.write(" ".join(words))
                answers[name] = self._password() if name == "password" else self._ask(name)

    def _answer(self, name: str, given: str | None) -> Any:
        """As given on the command line; else as typed; else the usual."""
        if given is not None:
            try:
                return _read(name, given)
            except ValueError as fault:
                if not self.asks:
                    raise CommandError(f"{QUESTIONS[name]}: {fault}") from fault
                self.stdout.write(str(fault))
        if self.asks:
            return self._ask(name)
        if name not in USUAL:
            raise CommandError(f"{QUESTIONS[name]} is missing: give --{name.replace('_', '-')}.")
        return USUAL[name]

    def _ask(self, name: str) -> Any:
        """Until there is an answer that can be meant."""
        usual = f" [{USUAL[name]}]" if name in USUAL else ""
        while True:
            typed = input(f"{QUESTIONS[name]}{usual}: ").strip()
            if not typed and name in USUAL:
                return USUAL[name]
            try:
                return _read(name, typed)
            except ValueError as fault:
                self.stdout.write(str(fault))

    def _password(self) -> str:
        if not self.asks:
            return os.environ.get("KERFBOOK_OWNER_PASSWORD", "")
        while True:
            first = getpass.getpass("A password of 12 characters or more: ")
            if getpass.getpass("Once more: ") == first:
                return first
            self.stdout.write("The two passwords differ.")


def _read(name: str, given: str) -> str | Decimal:
    """The answer as it is kept; ValueError with words where there is none."""
    if not given:
        raise ValueError("This cannot be left out.")
    if name not in DECIMALS:
        return given
    bare = given.removesuffix("%").strip() if name == "tax_percent" else given
    try:
        figure = Decimal(bare.replace(",", "."))
    except InvalidOperation:
        raise ValueError(f"“{given}” is not a number.") from None
    if not figure.is_finite():
        raise ValueError(f"“{given}” is not a number.")
    return figure


def _in_words(amiss: Mapping[str, Sequence[str]]) -> str:
    return "\n".join(f"{QUESTIONS.get(name, name)}: {' '.join(words)}" for name, words in amiss.items())
