"""An empty Kerfbook becomes a workshop, once."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from io import StringIO

import pytest
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.test import Client as Browser

from jobs.models import LabourRate, Person, TaxRate, Workshop
from jobs.services.setup import AlreadySetUpError, NewWorkshop, set_up_workshop

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 2)
NEW = NewWorkshop("Elm Yard", "Olive Owner", "Olive@Example.org", "planed-and-square-7")


def test_there_is_a_workshop_a_tax_and_an_owner_with_a_rate() -> None:
    owner = set_up_workshop(NEW, today=TODAY)
    assert Workshop.objects.get().name == "Elm Yard"
    assert TaxRate.objects.get().percent == Decimal(20)
    assert owner.email == "olive@example.org"
    assert owner.rates.get().cost_rate == Decimal(20)
    assert LabourRate.objects.get().charge_rate == Decimal(38)
    assert owner.check_password("planed-and-square-7")


def test_a_second_time_is_refused_and_changes_nothing() -> None:
    set_up_workshop(NEW, today=TODAY)
    with pytest.raises(AlreadySetUpError):
        set_up_workshop(NEW, today=TODAY)
    assert Person.objects.count() == 1


def test_a_weak_password_leaves_nothing_behind() -> None:
    with pytest.raises(ValidationError):
        set_up_workshop(NewWorkshop("Elm Yard", "Olive", "o@example.org", "password"), today=TODAY)
    assert not Workshop.objects.exists()


def test_the_command_says_who_can_log_in(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KERFBOOK_OWNER_PASSWORD", "planed-and-square-7")
    said = StringIO()
    words = {"workshop_name": "Elm Yard", "owner_name": "Olive", "owner_email": "o@example.org"}
    call_command("setup", no_questions=True, stdout=said, **words)
    assert "Log in as o@example.org" in said.getvalue()


@pytest.mark.parametrize(
    ("answers", "words"),
    [
        ({"workshop_name": "Elm Yard", "owner_name": "Olive"}, "Your e-mail"),
        ({"workshop_name": "Elm", "owner_name": "O", "owner_email": "no-mail"}, "email"),
        (
            {"workshop_name": "Elm", "owner_name": "O", "owner_email": "o@example.org", "tax_percent": "x"},
            "rate",
        ),
    ],
)
def test_the_command_says_what_is_amiss(answers: dict[str, str], words: str) -> None:
    with pytest.raises(CommandError, match=words):
        call_command("setup", no_questions=True, **answers)
    assert not Workshop.objects.exists()


def test_without_a_workshop_every_page_says_what_to_type() -> None:
    answer = Browser().get("/")
    assert answer.status_code == 503
    assert "manage.py setup" in answer.text
