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


def typed(monkeypatch: pytest.MonkeyPatch, *answers: str, passwords: tuple[str, ...] = ()) -> str:
    """Set up by hand; what is said."""
    words = iter(answers)
    secrets = iter(passwords or ("planed-and-square-7",) * 2)
    monkeypatch.setattr("builtins.input", lambda question: next(words))
    monkeypatch.setattr("getpass.getpass", lambda question: next(secrets))
    said = StringIO()
    call_command("setup", stdout=said)
    return said.getvalue()


USUAL = ("",) * 4  # currency, locale, time zone and the name of the tax


@pytest.mark.parametrize("percent", ["20%", "20 %", "20"])
def test_per_cent_as_people_write_it(monkeypatch: pytest.MonkeyPatch, percent: str) -> None:
    typed(monkeypatch, "Elm Yard", "Olive", "o@example.org", *USUAL, percent, "", "")
    assert TaxRate.objects.get().percent == 20


def test_only_what_is_amiss_is_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """No name and a rate in words are asked again at once, an address that is none after the last answer."""
    said = typed(
        monkeypatch, "", "Elm Yard", "Olive", "no-mail", *USUAL, "twenty", "17.5", "", "", "o@example.org"
    )
    assert "cannot be left out" in said
    assert "“twenty” is not a number." in said
    assert "valid email" in said
    assert (Workshop.objects.get().name, TaxRate.objects.get().percent) == ("Elm Yard", Decimal("17.5"))
    assert Person.objects.get().email == "o@example.org"


def test_a_password_too_short_or_typed_in_two_ways_is_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    good = "planed-and-square-7"
    passwords = (good, "planed", "short", "short", good, good)
    said = typed(monkeypatch, "Elm Yard", "Olive", "o@example.org", *USUAL, "", "", "", passwords=passwords)
    assert "The two passwords differ." in said
    assert "too short" in said
    assert Person.objects.get().check_password(good)


def test_where_there_is_a_workshop_nothing_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    set_up_workshop(NEW, today=TODAY)
    with pytest.raises(CommandError, match="already"):
        typed(monkeypatch)


def test_without_a_workshop_every_page_says_what_to_type() -> None:
    answer = Browser().get("/")
    assert answer.status_code == 503
    assert "manage.py setup" in answer.text
