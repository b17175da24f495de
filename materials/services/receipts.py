"""Match a receipt of the bench to the order it says it is for, and part them again where it is reversed."""

from __future__ import annotations

from uuid import UUID, uuid5

from django.db import transaction

from jobs.models import CostEntry, Person
from jobs.refusals import RefusedError
from materials.models import Order
from materials.queries.orders import paid_by
from materials.services.deliveries import Came, Goods, receive
from materials.services.taking_back import take_back

_MATCHES = UUID("6f0f0c1c-54c5-4a0e-9a2e-0d8c6a4b7e52")


@transaction.atomic
def take_in_all(entry: CostEntry, person: Person) -> None:
    """All still to come on the order that the receipt names is here, and the receipt is its cost.

    What was committed is let go once; the receipt stands in the ledger already. Refused where nothing is to
    come.
    """
    order = Order.objects.select_for_update().filter(number=entry.source_ref).first()
    if order is None:
        raise RefusedError(f"There is no order {entry.source_ref}.")
    came = [Came(line.pk, line.to_come, line.price) for line in order.lines.all()]
    goods = Goods(came, entry.on_date, paper="receipt", receipt=entry)
    receive(order=order, goods=goods, person=person, key=uuid5(_MATCHES, str(entry.pk)))


@transaction.atomic
def take_back_with(entry: CostEntry, person: Person, reason: str) -> None:
    """What was booked in on a receipt that is reversed is to come again, or the goods would cost nothing."""
    why = f"Its receipt was reversed: {reason.strip()}"[:180]
    for delivery in paid_by(entry):
        take_back(delivery=delivery, person=person, reason=why)
