"""Tokens for the workshop's own scripts: made, shown once, looked up, ended."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction

from jobs import history
from jobs.models import ApiToken, Person

SCOPES = {
    "read": "read jobs, phases and hours",
    "hours": "log hours",
    "costs": "log costs",
}
USE_NOTED_EVERY = timedelta(minutes=5)


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def make_token(*, person: Person, name: str, scopes: Sequence[str], now: datetime) -> str:
    """A new token that acts as the person within the scopes, shown this once. Refused without a scope."""
    unknown = set(scopes) - SCOPES.keys()
    if unknown or not scopes:
        raise ValidationError("Say what the token may do.")
    token = f"kerf_{secrets.token_urlsafe(32)}"
    made = ApiToken(
        person=person, name=name.strip(), token_sha256=_hash(token), scopes=sorted(scopes), made_at=now
    )
    made.full_clean()
    made.save(force_insert=True)
    history.record(person=person, thing=person, action=f"made a token for {made.name}"[:40])
    return token


def token_of(given: str, now: datetime) -> ApiToken | None:
    """The token that was shown, while it and its person are good; its use is noted now and then."""
    token = ApiToken.objects.select_related("person").filter(token_sha256=_hash(given)).first()
    if token is None or not token.person.is_active:
        return None
    if token.last_used_at is None or now - token.last_used_at > USE_NOTED_EVERY:
        ApiToken.objects.filter(pk=token.pk).update(last_used_at=now)
    return token


@transaction.atomic
def end_token(*, token: ApiToken, by: Person) -> None:
    """The token opens nothing any more."""
    history.record(person=by, thing=token.person, action=f"ended the token for {token.name}"[:40])
    token.delete()
