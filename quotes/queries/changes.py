"""What was asked for besides the contract, and how does it stand?"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q, QuerySet, Sum
from django.http import Http404
from django.shortcuts import get_object_or_404

from jobs.models import BudgetEntry, Change
from jobs.money import ZERO
from quotes.enums import QuoteState
from quotes.models import ChangeNote, Quote, QuoteLine


@dataclass(frozen=True)
class ChangePage:
    """A change with what was noted, its newest change order, and what it added once agreed."""

    change: Change
    note: ChangeNote | None
    order: Quote | None
    effect: Decimal | None
    days: int
    mass_kg: Decimal


def change_page(pk: int) -> ChangePage:
    """A change and all that hangs on it: four queries."""
    change = get_object_or_404(Change.objects.select_related("job__client", "raised_by"), pk=pk)
    entries = BudgetEntry.objects.filter(change=change)
    added = entries.aggregate(price=Sum("price"), days=Sum("days"), mass_kg=Sum("mass_kg"))
    return ChangePage(
        change=change,
        note=ChangeNote.objects.filter(change=change).select_related("photo").first(),
        order=change.quotes.defer("snapshot").order_by("-revision").first(),
        effect=added["price"],
        days=added["days"] or 0,
        mass_kg=added["mass_kg"] or ZERO,
    )


def agreed_lines(job_id: int) -> QuerySet[QuoteLine]:
    """The lines of a job's contract, extras chosen among them, by the quote or order they were agreed in."""
    agreed = QuoteLine.objects.filter(quote__job=job_id, quote__state=QuoteState.ACCEPTED, omits=None)
    return agreed.filter(Q(optional=False) | Q(chosen=True)).select_related("phase", "quote")


def photo_of_change(pk: int) -> int:
    """Which picture is with a change, or 404."""
    note = ChangeNote.objects.filter(change=pk).exclude(photo=None).first()
    if note is None or note.photo_id is None:
        raise Http404
    return note.photo_id
