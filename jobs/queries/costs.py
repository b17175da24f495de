"""What was spent on a job, with the papers for it?"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse

from jobs.enums import CostKind, CostSource
from jobs.exports import Cell, Table
from jobs.models import CostEntry, Job, Person
from jobs.queries.bench import change_words
from jobs.queries.jobs import get_job_for
from jobs.receipts import matching_url
from jobs.services.costs import may_reverse

HEADS = (
    "Day", "Phase", "Change", "Kind", "What for", "Supplier", "Net", "Tax", "Entered by", "Source", "Receipt",
)  # fmt: skip


@dataclass(frozen=True)
class CostRow:
    """A line of the cost ledger."""

    entry: CostEntry
    change: str
    is_reversed: bool
    can_reverse: bool
    match_url: str


@dataclass(frozen=True)
class CostsPage:
    """The costs of a job, newest first, and what they come to by kind."""

    job: Job
    rows: tuple[CostRow, ...]
    by_kind: tuple[tuple[str, Decimal], ...]
    net: Decimal
    tax: Decimal
    is_all: bool


def get_cost_for(viewer: Person, pk: int) -> CostEntry:
    """The cost; a maker is told of those alone that they typed themselves."""
    return get_object_or_404(_told_to(viewer).select_related("phase__job", "person"), pk=pk)


def costs_page(viewer: Person, pk: int) -> CostsPage:
    """Two queries. A maker sees what they typed themselves, others everything."""
    job = get_job_for(viewer, pk)
    entries = _told_to(viewer).filter(phase__job=job)
    found = entries.select_related("phase", "change", "person", "photo", "reversed_by", "reverses")
    rows = tuple(_row(entry, viewer) for entry in found.order_by("-on_date", "-pk"))
    return CostsPage(
        job=job,
        rows=rows,
        by_kind=_by_kind(rows),
        net=sum((row.entry.net for row in rows), Decimal(0)),
        tax=sum((row.entry.tax for row in rows), Decimal(0)),
        is_all=viewer.sees_prices,
    )


def costs_table(page: CostsPage) -> Table:
    """The page as a table."""
    return Table(f"Costs {page.job.number}", HEADS, [_cells(row) for row in page.rows])


def _told_to(viewer: Person) -> QuerySet[CostEntry]:
    """What a maker takes from stock or receives stands under their name too, at prices not theirs to see."""
    costs = CostEntry.objects.all()
    return costs if viewer.sees_prices else costs.filter(person=viewer, source=CostSource.HAND)


def _row(entry: CostEntry, viewer: Person) -> CostRow:
    is_reversed = hasattr(entry, "reversed_by")
    can = may_reverse(viewer, entry)
    stands = not is_reversed and entry.reverses is None
    return CostRow(
        entry, change_words(entry.change), is_reversed, can and stands, _match_url(entry, viewer, stands)
    )


def _match_url(entry: CostEntry, viewer: Person, stands: bool) -> str:
    """Where the owner says which order a receipt is for."""
    is_receipt = stands and entry.source == CostSource.HAND and entry.net > 0
    return (
        reverse(matching_url(), args=[entry.pk]) if is_receipt and viewer.is_owner and matching_url() else ""
    )


def _by_kind(rows: tuple[CostRow, ...]) -> tuple[tuple[str, Decimal], ...]:
    sums: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        sums[row.entry.kind] += row.entry.net
    return tuple((kind.label, sums[kind]) for kind in CostKind if sums[kind])


def _cells(row: CostRow) -> list[Cell]:
    entry = row.entry
    return [
        entry.on_date,
        entry.phase.title,
        row.change,
        entry.get_kind_display(),
        entry.description,
        entry.supplier,
        entry.net,
        entry.tax,
        entry.person.name,
        entry.source_ref or entry.get_source_display(),
        "yes" if entry.photo else "",
    ]
