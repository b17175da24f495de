"""Add people, say what they may do and what an hour of theirs costs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from jobs.enums import Role
from jobs.history import record, snapshot
from jobs.models import Person, PersonRate
from jobs.refusals import RefusedError
from jobs.services.accounts.sign_ins import end_all_sign_ins
from jobs.versions import save_edit


class LastOwnerError(RefusedError):
    """Without an owner nobody could open the workshop's pages again."""


@transaction.atomic
def add_person(*, by: Person, details: Mapping[str, Any]) -> Person:
    """There is somebody more; they cannot log in before they chose a password by their link."""
    person = Person(**details)
    person.set_unusable_password()
    person.full_clean(exclude={"password"})
    person.save()
    record(person=by, thing=person, action="added", after=snapshot(person, details))
    return person


@transaction.atomic
def edit_person(person: Person, *, by: Person, version: int, details: Mapping[str, Any]) -> Person:
    """The person has these details. Whoever may log in no more is out of every browser at once.

    Refused (`LastOwnerError`) where no other owner is left who chose a password and so can log in, and
    (`StaleError`) when somebody else saved first.
    """
    owners = list(Person.objects.select_for_update().filter(role=Role.OWNER, is_active=True))
    others = [owner for owner in owners if owner != person and owner.has_usable_password()]
    stays_owner = details["role"] == Role.OWNER and details["is_active"]
    if person in owners and not stays_owner and not others:
        raise LastOwnerError(
            "The workshop needs an owner who may log in. "
            "Make somebody else one first, and let them choose their password."
        )
    stored = save_edit(person, version=version, details=details, person=by)
    if not stored.is_active:
        end_all_sign_ins(person=stored, by=by)
    return stored


@transaction.atomic
def add_person_rate(person: Person, *, by: Person, details: Mapping[str, Any]) -> PersonRate:
    """From that day on an hour costs that much. Hours already booked keep the rate of their day."""
    rate = PersonRate(person=person, **details)
    rate.full_clean()
    rate.save()
    record(person=by, thing=rate, action="added", after=snapshot(rate, details))
    return rate
