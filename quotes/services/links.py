"""How is a client let in, for how long, and how is the door shut again?"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from jobs.models import Person
from quotes.enums import LinkStep
from quotes.models import ClientLink, Knock, LinkEvent, Quote

TOKEN_BYTES = 24  # 192 bits
DAYS_OPEN = 180
KNOCKS_A_MINUTE = 90


class TooManyKnocksError(Exception):
    """One address asks more often than a person reads."""


@dataclass(frozen=True)
class Caller:
    """From where and with what somebody came to the link."""

    address: str = ""
    browser: str = ""


def hash_of(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def make_link(*, quote: Quote, person: Person) -> str:
    """A new secret link; links made before are withdrawn. The token is told once and only its hash kept."""
    now = timezone.now()
    _shut(quote, person)
    token = secrets.token_urlsafe(TOKEN_BYTES)
    link = ClientLink.objects.create(
        quote=quote, token_hash=hash_of(token), made_by=person, expires_at=now + timedelta(days=DAYS_OPEN)
    )
    note(quote=quote, link=link, step=LinkStep.MADE, detail=f"by {person.name}")
    return token


@transaction.atomic
def withdraw_links(*, quote: Quote, person: Person) -> int:
    """Shut every link of a quote; how many were open."""
    return _shut(quote, person)


def _shut(quote: Quote, person: Person) -> int:
    """Quotes are locked before their links, as an answer locks them: the other way about they would wait for
    each other, and a link that was to be shut stayed open.
    """
    list(Quote.objects.select_for_update().filter(number=quote.number).order_by("pk").values("pk"))
    open_links = ClientLink.objects.select_for_update().filter(
        quote__number=quote.number, withdrawn_at=None, expires_at__gt=timezone.now()
    )
    for link in open_links:
        link.withdrawn_at = timezone.now()
        link.save(update_fields=["withdrawn_at"])
        note(quote=link.quote, link=link, step=LinkStep.WITHDRAWN, detail=f"by {person.name}")
    return len(open_links)


def note(
    *,
    quote: Quote,
    step: LinkStep,
    link: ClientLink | None = None,
    caller: Caller | None = None,
    detail: str = "",
) -> LinkEvent:
    """Write one step into a quote's trail of evidence."""
    who = caller or Caller()
    return LinkEvent.objects.create(
        quote=quote,
        link=link,
        step=step,
        address=who.address[:60],
        browser=who.browser[:300],
        detail=detail[:300],
    )


@transaction.atomic
def knock(address: str) -> None:
    """Count a call at the door; refuses an address that calls more often than a person reads."""
    minute = timezone.now().replace(second=0, microsecond=0)
    row, _ = Knock.objects.get_or_create(address=address[:60], minute=minute)
    Knock.objects.filter(pk=row.pk).update(count=F("count") + 1)
    if row.count >= KNOCKS_A_MINUTE:
        raise TooManyKnocksError
    if row.count == 0:
        Knock.objects.filter(minute__lt=minute - timedelta(hours=1)).delete()
