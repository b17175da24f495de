"""Change the workshop's rules, and its dated rates of tax and labour."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.history import record, snapshot
from jobs.models import LabourRate, Person, TaxRate, Workshop
from jobs.versions import save_edit

UNSPOKEN = ("logo", "calendar_key")  # a picture is no text, and a secret is not written down twice


@transaction.atomic
def edit_workshop(
    workshop: Workshop, *, person: Person, version: int, details: Mapping[str, Any]
) -> Workshop:
    """The workshop has these details; refused (`StaleError`) when somebody else saved first."""
    return save_edit(workshop, version=version, details=details, person=person, unspoken=UNSPOKEN)


@transaction.atomic
def save_tax_rate(rate: TaxRate, *, person: Person, details: Mapping[str, Any]) -> TaxRate:
    """The rate is kept. At most one rate is the one new quotes start with."""
    before = snapshot(rate, details) if rate.pk else None
    for name, value in details.items():
        setattr(rate, name, value)
    rate.full_clean()
    if rate.is_default:
        TaxRate.objects.exclude(pk=rate.pk).filter(is_default=True).update(is_default=False)
    rate.save()
    record(person=person, thing=rate, action="kept", before=before, after=snapshot(rate, details))
    return rate


@transaction.atomic
def save_labour_rate(rate: LabourRate, *, person: Person, details: Mapping[str, Any]) -> LabourRate:
    """The trade's rate from that day on is kept."""
    before = snapshot(rate, details) if rate.pk else None
    for name, value in details.items():
        setattr(rate, name, value)
    rate.full_clean()
    rate.save()
    record(person=person, thing=rate, action="kept", before=before, after=snapshot(rate, details))
    return rate


@transaction.atomic
def renew_calendar(*, person: Person) -> Workshop:
    """The calendar has a new secret address; the old one leads nowhere from now on."""
    workshop = Workshop.objects.select_for_update().defer("logo").get(pk=1)
    workshop.calendar_key = secrets.token_urlsafe(24)
    workshop.save(update_fields=["calendar_key"])
    record(person=person, thing=workshop, action="gave the calendar a new address")
    return workshop
