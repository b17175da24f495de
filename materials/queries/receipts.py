"""Which orders can a receipt be for, and what does a price on it say of the catalogue?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from jobs.enums import CostSource
from jobs.models import CostEntry
from jobs.money import round_half_up
from jobs.receipts import OpenOrder
from materials.models import Delivery, Order, Supplier
from materials.queries.orders import COMING, ShownOrder, paid_by, shown_orders
from materials.queries.sold_by import sold_by


@dataclass(frozen=True)
class Choice:
    """A size whose price the receipt may tell, with what the catalogue has."""

    size_id: int
    words: str
    price: Decimal


@dataclass(frozen=True)
class ReceiptPage:
    """A receipt with the delivery it paid for, or the orders it may be for, and the sizes it may price."""

    entry: CostEntry
    delivery: Delivery | None
    theirs: Sequence[ShownOrder]
    others: Sequence[ShownOrder]
    supplier: Supplier | None
    choices: Sequence[Choice]
    said_price: Decimal | None


def open_orders() -> Sequence[OpenOrder]:
    """Orders of which something is to come, by supplier; one query."""
    coming = Order.objects.filter(state__in=COMING).order_by("supplier__name", "-pk")
    rows = coming.values_list("number", "supplier__name", "job_id", "job__number", "job__title")
    return [OpenOrder(number, name, job, f"{no} {title}") for number, name, job, no, title in rows]


def supplier_names() -> Sequence[str]:
    """Suppliers in use; one query."""
    return list(Supplier.objects.filter(archived_at=None).values_list("name", flat=True))


def order_booked_in(entry: CostEntry) -> str:
    """The order of which something was booked in with this receipt as its cost; one query."""
    delivery = paid_by(entry).select_related("order").first()
    return str(delivery.order) if delivery else ""


def receipt_page(pk: int) -> ReceiptPage:
    """One receipt typed by hand, 404 for any other cost; in a fixed number of queries."""
    entry = get_object_or_404(_receipts(), pk=pk)
    delivery = paid_by(entry).select_related("order__supplier").first()
    orders = [] if delivery else shown_orders(Order.objects.filter(state__in=COMING, job=entry.phase.job_id))
    supplier = delivery.order.supplier if delivery else _supplier_named(entry.supplier)
    choices = _delivered(delivery) if delivery else _sold(supplier)
    return ReceiptPage(
        entry=entry,
        delivery=delivery,
        theirs=[one for one in orders if one.order.supplier == supplier],
        others=[one for one in orders if one.order.supplier != supplier],
        supplier=supplier,
        choices=choices,
        said_price=_price_of_one(entry, delivery),
    )


def _receipts() -> QuerySet[CostEntry]:
    return CostEntry.objects.filter(source=CostSource.HAND, reverses=None, net__gt=0).select_related(
        "phase__job", "photo", "person"
    )


def _supplier_named(name: str) -> Supplier | None:
    return Supplier.objects.filter(name__iexact=name.strip()).first() if name.strip() else None


def _delivered(delivery: Delivery) -> list[Choice]:
    lines = delivery.lines.select_related("line")
    return [Choice(one.line.size_id, one.line.words, one.line.price) for one in lines]


def _sold(supplier: Supplier | None) -> list[Choice]:
    sold = sold_by(supplier.pk) if supplier else {}
    return [Choice(size, one.words, one.price) for size, one in sold.items()]


def _price_of_one(entry: CostEntry, delivery: Delivery | None) -> Decimal | None:
    """What one costs by the receipt, where it is for one thing alone."""
    lines = list(delivery.lines.all()) if delivery else []
    if len(lines) != 1:
        return None
    return round_half_up(entry.net / lines[0].quantity, 4)
