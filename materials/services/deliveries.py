"""Receive an order, in as many parts as it comes: what was committed is let go, what it costs is actual."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID, uuid5

from django.db import transaction

from jobs.enums import CostKind, CostSource
from jobs.history import record
from jobs.models import CostEntry, Person, Phase
from jobs.money import ZERO, split_money
from jobs.refusals import RefusedError
from jobs.services.costs import Spent, log_cost
from jobs.services.hours import Work, hold
from jobs.workshop import current_workshop
from materials.enums import OrderState
from materials.models import Delivery, DeliveryLine, Order, OrderLine, OrderShare
from materials.purchasing.delivery import Delivered, LineSoFar, deliver
from materials.queries.orders import paid_by
from materials.services.catalogue import set_price
from materials.services.orders import step_order, write_commitments

_COSTS = UUID("0b9d5f0e-9a0a-4a64-8f0c-4d5f4b0d3e11")


@dataclass(frozen=True)
class Came:
    """So many of a line came, at a price each; `keep_price` writes that price into the catalogue."""

    line_id: int
    quantity: Decimal
    price: Decimal
    keep_price: bool = False


@dataclass(frozen=True)
class Goods:
    """What came when, with which paper. `receipt` is its cost where that was logged at the bench already."""

    came: Sequence[Came]
    on_date: date
    paper: str = ""
    tax: Decimal = ZERO
    receipt: CostEntry | None = None


@transaction.atomic
def receive(*, order: Order, goods: Goods, person: Person, key: UUID) -> Delivery:
    """The goods are booked in. The same key again is the same delivery.

    Each phase bears its part of what the goods really cost, unless their receipt was logged already; what was
    committed for them is let go either way. Refused for more than is to come, and for an order not placed.
    """
    _hold_in_turn(person, goods.receipt)
    order = Order.objects.select_for_update().select_related("job", "supplier").get(pk=order.pk)
    if same := Delivery.objects.filter(key=key).first():
        return same
    if not order.is_coming:
        raise RefusedError(f"{order} is {order.get_state_display()}: nothing is to come on it.")
    came = [one for one in goods.came if one.quantity]
    if not came:
        raise RefusedError("Say how many came.")
    _check_receipt(order, goods.receipt)
    delivery = Delivery.objects.create(
        key=key, order=order, on_date=goods.on_date, paper=goods.paper, receipt=goods.receipt, person=person
    )
    booked = _Booking(order, delivery)
    for one in came:
        booked.take(one, person)
    write_commitments(order, {phase: -net for phase, net in booked.let_go.items()})
    if goods.receipt is None:
        _write_costs(booked, goods, person, key)
    all_here = not any(line.to_come for line in order.lines.all())
    came_in = {
        one.line.words: f"{one.quantity.normalize():f}" for one in delivery.lines.select_related("line")
    }
    record(
        person=person, thing=order, action="booked in", job=order.job, after={"paper": goods.paper} | came_in
    )
    step_order(order, OrderState.RECEIVED if all_here else OrderState.PART, person=person)
    return delivery


def _hold_in_turn(person: Person, receipt: CostEntry | None) -> None:
    """Person, receipt, order: always in that turn, or two writers would wait for each other."""
    hold(person)
    if receipt:
        CostEntry.objects.select_for_update(of=("self",)).get(pk=receipt.pk)


def _check_receipt(order: Order, receipt: CostEntry | None) -> None:
    if receipt is None:
        return
    if receipt.phase.job_id != order.job_id or receipt.source != CostSource.HAND or receipt.net <= 0:
        raise RefusedError("That is no receipt of this job.")
    if paid_by(receipt).exists():
        raise RefusedError("That receipt belongs to another delivery already.")
    if CostEntry.objects.filter(reverses=receipt).exists():
        raise RefusedError("That receipt was reversed.")


class _Booking:
    """Books the lines of one delivery and adds up what each phase lets go of and bears."""

    def __init__(self, order: Order, delivery: Delivery) -> None:
        self.order, self.delivery = order, delivery
        self.lines = {line.pk: line for line in order.lines.prefetch_related("shares__phase__job")}
        self.let_go: dict[Phase, Decimal] = defaultdict(Decimal)
        self.cost: dict[Phase, Decimal] = defaultdict(Decimal)

    def take(self, came: Came, person: Person) -> None:
        line = self.lines.get(came.line_id)
        if line is None or not 0 < came.quantity <= line.to_come:
            to_come = line.to_come.normalize() if line else 0
            are = "is" if to_come == 1 else "are"
            raise RefusedError(f"Of {line or 'that'} only {to_come:f} {are} to come.")
        shares = list(line.shares.all())
        self._book(line, shares, _delivered(line, shares, came))
        DeliveryLine.objects.create(
            delivery=self.delivery, line=line, quantity=came.quantity, price=came.price
        )
        line.received += came.quantity
        line.save(update_fields=["received"])
        if came.keep_price and came.price != line.price:
            set_price(
                size=line.size,
                supplier=self.order.supplier,
                price=came.price,
                from_date=self.delivery.on_date,
                person=person,
            )

    def _book(self, line: OrderLine, shares: list[OrderShare], found: Delivered) -> None:
        for share in shares:
            share.let_go += found.let_go[share.phase_id]
            share.save(update_fields=["let_go"])
            self.let_go[share.phase] += found.let_go[share.phase_id]
            self.cost[share.phase] += found.cost[share.phase_id]


def _delivered(line: OrderLine, shares: list[OrderShare], came: Came) -> Delivered:
    so_far = LineSoFar(
        quantity=line.quantity,
        received=line.received,
        price=line.price,
        left={share.phase_id: share.amount - share.let_go for share in shares},
        weights={share.phase_id: share.amount for share in shares},
    )
    return deliver(so_far, quantity=came.quantity, price=came.price, currency=current_workshop().currency)


def _write_costs(booked: _Booking, goods: Goods, person: Person, key: UUID) -> None:
    """One cost a phase; the tax is shared like the net."""
    phases = [phase for phase, net in booked.cost.items() if net]
    if not phases:
        return
    taxes = split_money(goods.tax, [booked.cost[phase] for phase in phases], current_workshop().currency)
    for phase, tax in zip(phases, taxes, strict=True):
        spent = Spent(
            net=booked.cost[phase],
            tax=tax,
            on_date=goods.on_date,
            kind=CostKind.MATERIAL,
            supplier=booked.order.supplier.name,
            description=f"{booked.order}{f', {goods.paper}' if goods.paper else ''}",
            source=CostSource.ORDER,
            source_ref=booked.order.number,
        )
        log_cost(person=person, key=cost_key(key, phase.pk), work=Work(phase), spent=spent)


def cost_key(delivery: UUID, phase: int) -> UUID:
    """By which a phase's cost of a delivery is found again."""
    return uuid5(_COSTS, f"{delivery} {phase}")
