"""Take back what was booked in by mistake: it is to come again, and its cost and commitment are as before."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from uuid import UUID, uuid5

from django.db import transaction

from jobs.enums import Role
from jobs.history import record
from jobs.models import CostEntry, Person, Phase
from jobs.refusals import RefusedError
from jobs.services.costs import write_opposite
from jobs.services.hours import hold
from jobs.workshop import current_workshop
from materials.enums import OrderState
from materials.models import Delivery, DeliveryLine, Order, OrderLine, TakenBack
from materials.purchasing.delivery import let_go_of
from materials.services.deliveries import cost_key
from materials.services.orders import step_order, write_commitments

_OPPOSITES = UUID("5f1f6c0a-8f5e-4a0b-9d43-2c1b7a6e90d4")


def may_take_back(by: Person, delivery: Delivery) -> bool:
    """Owner and bookkeeper any delivery, a maker what they booked in themselves."""
    return by.role != Role.MAKER or delivery.person_id == by.pk


@transaction.atomic
def take_back(*, delivery: Delivery, person: Person, reason: str) -> Order:
    """The delivery stays written down and counts no longer; a receipt it was matched with is free again.

    Where the rest of the order was cancelled, its goods are not expected again and nothing is committed anew.
    A price written into the catalogue stays. Taken back already: nothing changes. Refused without a reason.
    """
    hold(person)
    order = Order.objects.select_for_update().select_related("job", "supplier").get(pk=delivery.order_id)
    if TakenBack.objects.filter(delivery=delivery).exists():
        return order
    if not may_take_back(person, delivery):
        raise RefusedError("Somebody else booked that in: ask the owner to take it back.")
    if not reason.strip():
        raise RefusedError("Say why it is taken back.")
    rest_cancelled = order.state == OrderState.RECEIVED and any(line.to_come for line in order.lines.all())
    TakenBack.objects.create(delivery=delivery, reason=reason.strip(), person=person)
    went = _take_off_lines(delivery)
    if not rest_cancelled:
        _commit_again(order)
    _reverse_costs(delivery, person, reason)
    record(
        person=person,
        thing=order,
        action="taken back",
        job=order.job,
        before=went,
        after={"reason": reason.strip()},
    )
    return _step_back(order, person, rest_cancelled=rest_cancelled)


def _take_off_lines(delivery: Delivery) -> dict[str, str]:
    went = {}
    for one in delivery.lines.select_related("line"):
        one.line.received -= one.quantity
        one.line.save(update_fields=["received"])
        went[one.line.words] = f"{one.quantity.normalize():f}"
    return went


def _commit_again(order: Order) -> None:
    """Each share has let go of what the deliveries that still count let go of, and no more."""
    again: dict[Phase, Decimal] = defaultdict(Decimal)
    for line in order.lines.prefetch_related("shares__phase"):
        let_go = _let_go_of(line)
        for share in line.shares.all():
            again[share.phase] += share.let_go - let_go[share.phase_id]
            share.let_go = let_go[share.phase_id]
            share.save(update_fields=["let_go"])
    write_commitments(order, again)


def _let_go_of(line: OrderLine) -> dict[int, Decimal]:
    came = DeliveryLine.objects.filter(line=line, delivery__taken_back=None).order_by("delivery_id")
    return let_go_of(
        ordered=line.quantity,
        price=line.price,
        shares={share.phase_id: share.amount for share in line.shares.all()},
        came=list(came.values_list("quantity", flat=True)),
        currency=current_workshop().currency,
    )


def _reverse_costs(delivery: Delivery, person: Person, reason: str) -> None:
    phases = Phase.objects.filter(job=delivery.order.job_id).values_list("pk", flat=True)
    keys = [cost_key(delivery.key, phase) for phase in phases]
    costs = CostEntry.objects.filter(person=delivery.person_id, key__in=keys).select_related("phase__job")
    for cost in costs:
        write_opposite(old=cost, by=person, key=uuid5(_OPPOSITES, str(cost.pk)), reason=reason)


def _step_back(order: Order, person: Person, *, rest_cancelled: bool) -> Order:
    some_came = any(line.received for line in order.lines.all())
    if rest_cancelled:
        to = OrderState.RECEIVED if some_came else OrderState.CANCELLED
    else:
        to = OrderState.PART if some_came else OrderState.PLACED
    return order if order.state == to else step_order(order, to, person=person)
