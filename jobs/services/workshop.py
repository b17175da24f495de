"""Change the workshop's rules, and its dated rates of tax and labour."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from typing import Any, TypeVar

from django.db import transaction

from jobs.history import record, snapshot
from jobs.models import LabourRate, Person, TaxRate, Workshop
from jobs.versions import save_edit

Rate = TypeVar("Rate", TaxRate, LabourRate)
UNSPOKEN = ("logo", "calendar_key")  # a picture is no text, and a secret is not written down twice


@transaction.atomic
def edit_workshop(
    workshop: Workshop, *, person: Person, version: int, details: Mapping[str, Any]
) -> Workshop:
    """The workshop has these details; refused (`StaleError`) when somebody else saved first."""
    return save_edit(workshop, version=version, details=details, person=person, unspoken=UNSPOKEN)


@transaction.atomic
def save_tax_rate(rate: TaxRate, *, person: Person, details: Mapping[str, Any], version: int = 0) -> TaxRate:
    """The rate is kept. At most one rate is the one new quotes start with.

    A known rate is refused (`StaleError`) when somebody else saved first.
    """
    kept = _save_rate(rate, person=person, details=details, version=version)
    if kept.is_default:
        _no_longer_default(kept, person)
    return kept


def _no_longer_default(rate: TaxRate, person: Person) -> None:
    for other in TaxRate.objects.select_for_update().exclude(pk=rate.pk).filter(is_default=True):
        other.is_default = False
        other.save(update_fields=["is_default"])
        before, after = {"is_default": "True"}, {"is_default": "False"}
        record(person=person, thing=other, action="no longer first", before=before, after=after)


@transaction.atomic
def save_labour_rate(
    rate: LabourRate, *, person: Person, details: Mapping[str, Any], version: int = 0
) -> LabourRate:
    """The trade's rate from that day on is kept; a known one as `save_tax_rate` keeps it."""
    return _save_rate(rate, person=person, details=details, version=version)


def _save_rate(rate: Rate, *, person: Person, details: Mapping[str, Any], version: int) -> Rate:
    if rate.pk:
        return save_edit(rate, version=version, details=details, person=person)
    for name, value in details.items():
        setattr(rate, name, value)
    rate.full_clean()
    rate.save(force_insert=True)
    record(person=person, thing=rate, action="added", after=snapshot(rate, details))
    return rate


@transaction.atomic
def renew_calendar(*, person: Person) -> Workshop:
    """The calendar has a new secret address; the old one leads nowhere from now on."""
    workshop = Workshop.objects.select_for_update().defer("logo").get(pk=1)
    workshop.calendar_key = secrets.token_urlsafe(24)
    workshop.save(update_fields=["calendar_key"])
    record(person=person, thing=workshop, action="gave the calendar a new address")
    return workshop
