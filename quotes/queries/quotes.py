"""Which quote does the address name, and which belong to a job?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Sum
from django.db.models.fields.json import KT
from django.shortcuts import get_object_or_404

from jobs.enums import JobState
from jobs.models import BudgetEntry, Change, Job
from jobs.money import ZERO
from quotes.enums import QuoteState
from quotes.models import Quote, QuoteLine

WORKED_ON = frozenset({JobState.BENCH, JobState.HANDED_OVER, JobState.CLOSED})
"""What is agreed for such a job is changed by change orders, not cancelled."""


@dataclass(frozen=True)
class OfJob:
    """A job's quotes, newest first, its register of changes, and what the contract comes to."""

    job: Job
    quotes: tuple[Quote, ...]
    changes: tuple[ChangeRow, ...]
    contract_sum: Decimal
    offered: Mapping[int, Decimal]

    @property
    def rows(self) -> list[tuple[Quote, Decimal | None]]:
        """Each quote with the price it went out at, without tax; none while it is a draft."""
        return [(quote, self.offered.get(quote.pk)) for quote in self.quotes]

    @property
    def is_contract(self) -> bool:
        """Whether there is something agreed that a change can change."""
        return any(quote.state == QuoteState.ACCEPTED for quote in self.quotes)

    @property
    def may_be_cancelled(self) -> bool:
        """Whether the contract can still end without work on it."""
        return self.is_contract and self.job.state not in WORKED_ON


@dataclass(frozen=True)
class Agreed:
    """What the quote or one change put into the budget."""

    price: Decimal
    days: int
    mass_kg: Decimal


@dataclass(frozen=True)
class ChangeRow:
    """A change in the log; once agreed its effect on price, days and mass, and the contract sum after it."""

    change: Change
    quote: Quote | None
    effect: Decimal | None
    contract_sum_after: Decimal | None
    days: int = 0
    mass_kg: Decimal = ZERO


def quote_for(pk: int) -> Quote:
    """The quote with its job and client, or 404."""
    return get_object_or_404(
        Quote.objects.select_related("job__client", "change", "document", "decision"), pk=pk
    )


def line_for(pk: int) -> QuoteLine:
    """The line with its quote and job, or 404."""
    return get_object_or_404(QuoteLine.objects.select_related("quote__job__client", "phase"), pk=pk)


def is_agreed(job: Job) -> bool:
    """Whether the client's yes to anything of this job stands."""
    return Quote.objects.filter(job=job, state=QuoteState.ACCEPTED).exists()


def quotes_of_job(job_pk: int) -> OfJob:
    """Quotes, changes and contract sum of a job: five queries, however many there are."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_pk)
    all_quotes = list(
        job.quotes.select_related("document")
        .annotate(offered=KT("snapshot__paper__without_tax"))
        .defer("document__content", "snapshot")
        .order_by("-pk")
    )
    entries = BudgetEntry.objects.filter(phase__job=job).order_by().values("change")
    sums = entries.annotate(price=Sum("price"), days=Sum("days"), mass_kg=Sum("mass_kg"))
    agreed: dict[int | None, Agreed] = {
        entry["change"]: Agreed(entry["price"], entry["days"], entry["mass_kg"]) for entry in sums
    }
    return OfJob(
        job=job,
        quotes=tuple(quote for quote in all_quotes if quote.change_id is None),
        changes=_log(list(job.changes.all()), all_quotes, agreed),
        contract_sum=sum((each.price for each in agreed.values()), ZERO),
        offered={quote.pk: Decimal(quote.offered) for quote in all_quotes if quote.offered},
    )


def _log(
    changes: Sequence[Change], quotes: Sequence[Quote], agreed: dict[int | None, Agreed]
) -> tuple[ChangeRow, ...]:
    latest = {quote.change_id: quote for quote in reversed(quotes)}
    running = agreed[None].price if None in agreed else ZERO
    rows = []
    for change in changes:
        added, order = agreed.get(change.pk), latest.get(change.pk)
        if added is None:
            rows.append(ChangeRow(change, order, None, None))
            continue
        running += added.price
        rows.append(ChangeRow(change, order, added.price, running, added.days, added.mass_kg))
    return tuple(rows)
