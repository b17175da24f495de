"""How does an empty Kerfbook become a workshop?"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import models, transaction

from jobs.enums import Role
from jobs.history import record
from jobs.models import LabourRate, Person, PersonRate, TaxRate, Workshop

USUAL_STAGES = [
    {"title": "Deposit on acceptance", "percent": "40"},
    {"title": "When the first phase is done", "percent": "40"},
    {"title": "On handover", "percent": "20"},
]


class AlreadySetUpError(Exception):
    """There is a workshop already; its pages change it."""


@dataclass(frozen=True)
class NewWorkshop:
    """What must be known before the first job: who, in which money, at which tax and hourly rates."""

    workshop_name: str
    owner_name: str
    owner_email: str
    password: str
    currency: str = "GBP"
    locale: str = "en_GB"
    time_zone: str = "Europe/London"
    tax_name: str = "VAT"
    tax_percent: Decimal = Decimal(20)
    cost_rate: Decimal = Decimal(20)
    charge_rate: Decimal = Decimal(38)


@transaction.atomic
def set_up_workshop(new: NewWorkshop, *, today: date) -> Person:
    """Afterwards there is a workshop with a tax rate, an owner, and a trade rate to quote at.

    Refused where there is a workshop already, and (`ValidationError`) where an answer cannot be meant, by
    the name of that answer.
    """
    refuse_if_set_up()
    workshop = Workshop(
        pk=1,
        name=new.workshop_name.strip(),
        email=new.owner_email.strip().lower(),
        currency=new.currency,
        locale=new.locale,
        time_zone=new.time_zone,
        payment_stages=USUAL_STAGES,
        not_registered_for_tax=not new.tax_percent,
        labour_at_charge_rate=True,  # it was just asked for
    )
    _check(workshop, {"name": "workshop_name", "email": "owner_email"})
    workshop.save(force_insert=True)
    _add_tax(new, today)
    _add_trade(new, today)
    owner = _add_owner(new, today)
    record(person=owner, thing=workshop, action="set up")
    record(person=owner, thing=owner, action="added")
    return owner


def refuse_if_set_up() -> None:
    """Refuses where there is a workshop already."""
    if Workshop.objects.exists():
        raise AlreadySetUpError("There is a workshop here already. Log in and change it under Workshop.")


def _check(thing: models.Model, answers: Mapping[str, str], exclude: Collection[str] = ()) -> None:
    """What is amiss with a field is said of the answer that it comes from."""
    try:
        thing.full_clean(exclude=exclude)
    except ValidationError as refused:
        amiss = {answers.get(name, name): errors for name, errors in refused.error_dict.items()}
        raise ValidationError(amiss) from refused


def _add_tax(new: NewWorkshop, today: date) -> None:
    charges = bool(new.tax_percent)
    rate = TaxRate(
        name=new.tax_name,
        category="S" if charges else "O",  # whoever charges none is taken not to be registered
        percent=new.tax_percent,
        reason="" if charges else "Not registered for tax",
        from_date=today,
        is_default=True,
    )
    _check(rate, {"name": "tax_name", "percent": "tax_percent"})
    rate.save()


def _add_trade(new: NewWorkshop, today: date) -> None:
    """What the owner's hours cost is all that is known of the trade's so far."""
    rate = LabourRate(
        name="Bench work", from_date=today, cost_rate=new.cost_rate, charge_rate=new.charge_rate
    )
    _check(rate, {})
    rate.save()


def _add_owner(new: NewWorkshop, today: date) -> Person:
    unsaved = Person(email=new.owner_email.strip().lower(), name=new.owner_name.strip(), role=Role.OWNER)
    _check(unsaved, {"name": "owner_name", "email": "owner_email"}, exclude=["password"])
    try:
        validate_password(new.password, unsaved)
    except ValidationError as refused:
        raise ValidationError({"password": refused.messages}) from refused
    owner = Person.objects.create_person(
        email=unsaved.email, name=unsaved.name, role=Role.OWNER, password=new.password
    )
    rate = PersonRate(person=owner, from_date=today, cost_rate=new.cost_rate, charge_rate=new.charge_rate)
    _check(rate, {})
    rate.save()
    return owner
