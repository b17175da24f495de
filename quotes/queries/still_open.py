"""What of a job's quotes, changes and invoices is not finished?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from django.urls import reverse

from jobs.enums import ChangeState
from jobs.models import Job
from jobs.still_open import Open
from jobs.templatetags.figures import day, money
from quotes.enums import InvoiceState, QuoteState
from quotes.models import Invoice, Quote
from quotes.queries.invoices import account_of, owed_of


def not_paid_or_answered(job: Job) -> Iterable[Open]:
    """What is not invoiced, issued, paid or answered yet: a dozen queries, however much there is."""
    yield from _not_invoiced(job)
    yield from _not_paid(job)
    yield from _not_answered(job)


def _not_invoiced(job: Job) -> Iterator[Open]:
    left = account_of(job).left_sum
    if left > 0:
        words = f"{money(left)} of the contract, without tax, is not invoiced."
        yield Open(words, reverse("quotes:invoices_of_job", args=[job.pk]))


def _not_paid(job: Job) -> Iterator[Open]:
    unsettled = (InvoiceState.DRAFT, InvoiceState.ISSUED, InvoiceState.PART_PAID)
    for owed in owed_of(Invoice.objects.filter(job=job, state__in=unsettled).order_by("pk")):
        invoice = owed.invoice
        kind = "Credit note" if invoice.is_credit_note else "Invoice"
        if invoice.state == InvoiceState.DRAFT:
            yield Open(f"{kind} “{invoice.title}” is a draft.", invoice.get_absolute_url())
        elif owed.open > 0:
            words = f"{kind} {invoice} is not paid: {money(owed.open)} open, due {day(invoice.due_on)}."
            yield Open(words, invoice.get_absolute_url())


def _not_answered(job: Job) -> Iterator[Open]:
    waiting = Quote.objects.filter(
        job=job, change=None, state__in=(QuoteState.DRAFT, QuoteState.ISSUED)
    ).defer("snapshot")
    for quote in waiting.order_by("pk"):
        words = "is a draft" if quote.is_draft else "is issued and not answered"
        yield Open(f"Quote {quote} {words}.", quote.get_absolute_url())
    for change in job.changes.filter(state__in=(ChangeState.DRAFT, ChangeState.ISSUED)).order_by("number"):
        words = (
            "is not priced and agreed" if change.state == ChangeState.DRAFT else "is issued and not answered"
        )
        yield Open(f"{change}, {words}.", reverse("quotes:change", args=[change.pk]))
