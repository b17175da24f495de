"""Which of a job's orders are not here yet?"""

from __future__ import annotations

from collections.abc import Iterable

from jobs.models import Job
from jobs.still_open import Open
from materials.enums import OrderState
from materials.models import Order

NOT_HERE = {
    OrderState.DRAFT: "is a draft",
    OrderState.PLACED: "is still to come",
    OrderState.PART: "is not all here",
}


def not_here(job: Job) -> Iterable[Open]:
    """Orders drawn up or placed and not received: one query."""
    orders = Order.objects.filter(job=job, state__in=list(NOT_HERE)).select_related("supplier")
    for order in orders.defer("pdf").order_by("pk"):
        words = f"{order} of {order.supplier} {NOT_HERE[OrderState(order.state)]}."
        yield Open(words, order.get_absolute_url())
