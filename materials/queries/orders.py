"""Which orders are there, what is to come, and does it come in time?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.core.paginator import Page, Paginator
from django.db.models import Exists, OuterRef, Prefetch, QuerySet

from jobs.enums import CostSource
from jobs.models import CostEntry, Job, Phase
from jobs.money import ZERO, round_money
from jobs.workshop import current_workshop
from materials.enums import OrderState
from materials.models import Delivery, Order, OrderLine, OrderShare, TakenBack

A_PAGE = 50
COMING = (OrderState.PLACED, OrderState.PART)


@dataclass(frozen=True)
class ShownOrder:
    """One order of a list; `late_for` names the phase that starts before it comes."""

    order: Order
    total: Decimal
    late_for: str


@dataclass(frozen=True)
class OrderList:
    """A page of orders, the newest first."""

    rows: tuple[ShownOrder, ...]
    page: Page[Order]
    state: str


@dataclass(frozen=True)
class ShownLine:
    """A line with its sum and the titles of the phases that bear it."""

    line: OrderLine
    amount: Decimal
    phases: str


@dataclass(frozen=True)
class ShownDelivery:
    """A delivery, whether it counts, and what its goods come to where its receipt says another sum."""

    delivery: Delivery
    taken_back: TakenBack | None
    booked_other: Decimal | None


@dataclass(frozen=True)
class OrderPage:
    """One order with lines, deliveries and what they mean for the job."""

    order: Order
    lines: tuple[ShownLine, ...]
    total: Decimal
    still_committed: Decimal
    deliveries: Sequence[ShownDelivery]
    late_for: str
    receipts: Sequence[CostEntry]

    @property
    def claims(self) -> Sequence[CostEntry]:
        """Receipts that say they are for this order, with nothing booked in on them yet."""
        return [entry for entry in self.receipts if entry.source_ref == self.order.number]


def order_list(*, state: str, page: str | int, job: Job | None = None) -> OrderList:
    """A page of orders in five queries."""
    orders = _with_lines(Order.objects.select_related("job", "supplier"))
    if job:
        orders = orders.filter(job=job)
    if state == "coming":
        orders = orders.filter(state__in=COMING).order_by("expected_on", "pk")
    elif state in OrderState.values:
        orders = orders.filter(state=state)
    found = Paginator(orders, A_PAGE).get_page(page)
    return OrderList(tuple(_shown(order) for order in found.object_list), found, state)


def shown_orders(orders: QuerySet[Order]) -> list[ShownOrder]:
    """These orders as a list shows them, in three queries."""
    return [_shown(order) for order in _with_lines(orders.select_related("job", "supplier"))]


def _with_lines(orders: QuerySet[Order]) -> QuerySet[Order]:
    by_phase = OrderShare.objects.select_related("phase").order_by("phase__position", "phase_id")
    lines = OrderLine.objects.select_related("size").order_by("position", "pk")
    lines = lines.prefetch_related(Prefetch("shares", by_phase))
    return orders.defer("pdf").prefetch_related(Prefetch("lines", lines))


def _shown(order: Order) -> ShownOrder:
    return ShownOrder(order, sum((_amount(line) for line in order.lines.all()), ZERO), late_for(order))


def _amount(line: OrderLine) -> Decimal:
    return round_money(line.price * line.quantity, current_workshop().currency)


def late_for(order: Order) -> str:
    """The first phase planned to start before the goods come, in words; nothing where all is in time."""
    if order.expected_on is None or not (order.is_draft or order.is_coming):
        return ""
    phases = {share.phase for line in order.lines.all() for share in line.shares.all() if line.to_come}
    late = [(one.planned_start, one.title) for one in phases if _starts_before(one, order.expected_on)]
    return f"{min(late)[1]} starts on {min(late)[0]:%-d %b}" if late else ""


def _starts_before(phase: Phase, day: date) -> bool:
    return phase.planned_start is not None and phase.planned_start < day


def order_page(pk: int) -> OrderPage | None:
    """One order in six queries, or None where there is none."""
    order = _with_lines(Order.objects.select_related("job", "supplier")).filter(pk=pk).first()
    if order is None:
        return None
    lines = [
        ShownLine(line, _amount(line), ", ".join(share.phase.title for share in line.shares.all()))
        for line in order.lines.all()
    ]
    shares = [share for line in order.lines.all() for share in line.shares.all()]
    still = sum((share.amount - share.let_go for share in shares), ZERO) if order.is_coming else ZERO
    deliveries = order.deliveries.select_related("person", "receipt", "taken_back__person")
    deliveries = deliveries.prefetch_related("lines__line")
    return OrderPage(
        order=order,
        lines=tuple(lines),
        total=sum((line.amount for line in lines), ZERO),
        still_committed=still,
        deliveries=[_shown_delivery(one) for one in deliveries],
        late_for=late_for(order),
        receipts=list(receipts_to_match(order)) if order.is_coming else (),
    )


def _shown_delivery(delivery: Delivery) -> ShownDelivery:
    return ShownDelivery(delivery, getattr(delivery, "taken_back", None), _booked_other(delivery))


def _booked_other(delivery: Delivery) -> Decimal | None:
    if delivery.receipt is None:
        return None
    currency = current_workshop().currency
    booked = sum((round_money(one.quantity * one.price, currency) for one in delivery.lines.all()), ZERO)
    return booked if booked != delivery.receipt.net else None


def paid_by(receipt: CostEntry | OuterRef) -> QuerySet[Delivery]:
    """The delivery whose cost a receipt is; what was taken back counts no longer."""
    return Delivery.objects.filter(receipt=receipt, taken_back=None)


def receipts_to_match(order: Order) -> QuerySet[CostEntry]:
    """Receipts logged at the bench for the job that no delivery has claimed, the newest first."""
    return (
        CostEntry.objects.filter(phase__job=order.job_id, source=CostSource.HAND, reverses=None, net__gt=0)
        .exclude(reversed_by__isnull=False)
        .exclude(Exists(paid_by(OuterRef("pk"))))
        .select_related("phase")
        .order_by("-on_date", "-pk")[:50]
    )
