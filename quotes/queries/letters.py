"""Which letters went out, or wait, or failed?"""

from __future__ import annotations

from django.db.models import QuerySet

from jobs.models import Outbox
from quotes.models import Invoice, Quote

MOST_SHOWN = 100


def newest_letters() -> QuerySet[Outbox]:
    """The newest letters of all jobs, without their text; one query."""
    return Outbox.objects.select_related("job").defer("text", "html")[:MOST_SHOWN]


def letters_with_invoice(invoice: Invoice) -> QuerySet[Outbox]:
    """The invoice and its reminders as sent to the client; one query."""
    return _about(f"invoice {invoice.pk} ")


def letters_with_quote(quote: Quote) -> QuerySet[Outbox]:
    """The letters a quote went out with; one query."""
    return _about(f"quote {quote.pk} letter ")


def _about(key: str) -> QuerySet[Outbox]:
    return Outbox.objects.filter(key__startswith=key).defer("text", "html")
