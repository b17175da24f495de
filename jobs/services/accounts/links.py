"""A link by which somebody chooses a password: for a new person, or one who forgot."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime, timedelta

from django.contrib.auth.password_validation import validate_password
from django.db import transaction

from jobs import history
from jobs.models import AccountLink, Person
from jobs.services.accounts.sign_ins import end_all_sign_ins

TOKEN_BYTES = 24  # 192 bits
VALID = timedelta(days=3)
CLOCK_MAY_BE_OUT_BY = timedelta(minutes=10)


class LinkUsedUpError(Exception):
    """The link was used, has run out, or never was."""


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def make_link(*, person: Person, by: Person | None, now: datetime) -> str:
    """A new secret for the person's link; earlier links of theirs no longer work. It is shown once."""
    AccountLink.objects.filter(person=person, used_at=None).update(used_at=now)
    token = secrets.token_urlsafe(TOKEN_BYTES)
    AccountLink.objects.create(person=person, token_sha256=_hash(token), made_at=now, expires_at=now + VALID)
    history.record(person=by, thing=person, action="made a password link")
    return token


def person_of_link(token: str, now: datetime) -> Person:
    """Whose link it is, while it works. Raises LinkUsedUpError."""
    link = AccountLink.objects.select_related("person").filter(token_sha256=_hash(token)).first()
    if link is None or link.used_at or not link.person.is_active or not _stands(link, now):
        raise LinkUsedUpError
    return link.person


def _stands(link: AccountLink, now: datetime) -> bool:
    """Within its days; one made at a time to come says the clock was put back, and opens nothing."""
    return link.made_at <= now + CLOCK_MAY_BE_OUT_BY and now < link.expires_at


@transaction.atomic
def choose_password(*, token: str, password: str, now: datetime) -> Person:
    """The person has the new password, the link is used up, and every browser of theirs is out.

    Raises LinkUsedUpError, or ValidationError for a password that does not meet the rules.
    """
    person = person_of_link(token, now)
    validate_password(password, person)
    used = AccountLink.objects.filter(token_sha256=_hash(token), used_at=None).update(used_at=now)
    if not used:
        raise LinkUsedUpError
    person.set_password(password)
    person.save(update_fields=["password"])
    end_all_sign_ins(person=person, by=person)
    history.record(person=person, thing=person, action="chose a password")
    return person


@transaction.atomic
def change_own_password(*, person: Person, password: str, here: str | None) -> None:
    """The person has the new password, and every browser of theirs but the one here is out."""
    person.set_password(password)
    person.save(update_fields=["password"])
    end_all_sign_ins(person=person, by=person, but=here)
    history.record(person=person, thing=person, action="changed the password")
