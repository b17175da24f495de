"""The records of this room whose history is told."""

from __future__ import annotations

from django.urls import reverse

from jobs.models import Change
from jobs.told import SEES_PRICES, Parts, Told, register
from quotes.models import Invoice, Quote, QuoteLine

CLIENT = "The client"


def register_all() -> None:
    """Called when the room is ready."""
    register(
        Told(Change, "Change", back=_changes_of_job, nobody=CLIENT),
        Told(Quote, "Quote", SEES_PRICES, parts=_revisions_and_lines, back=_page_of_quote, nobody=CLIENT),
        Told(QuoteLine, "Line", SEES_PRICES, back=lambda line: _page_of_quote(line.quote)),
        Told(Invoice, "Invoice", SEES_PRICES),
    )


def _changes_of_job(change: Change) -> str:
    return f"{reverse('quotes:of_job', args=[change.job_id])}#changes"


def _page_of_quote(quote: Quote) -> str:
    return reverse("quotes:desk" if quote.is_draft else "quotes:sheet", args=[quote.pk])


def _revisions_and_lines(quote: Quote) -> Parts:
    """A quote with its other revisions, their lines, and the change it prices."""
    return {
        "quote": Quote.objects.filter(number=quote.number).values_list("pk", flat=True),
        "quoteline": QuoteLine.objects.filter(quote__number=quote.number).values_list("pk", flat=True),
        "change": [quote.change_id] if quote.change_id else [],
    }
