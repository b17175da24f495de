"""Which deliveries are expected on which day?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from jobs.calendar import Event
from materials.enums import OrderState
from materials.models import Order


def delivery_events(day: date) -> Iterable[Event]:
    """Orders placed, or received in part, on the day their delivery is expected."""
    orders = (
        Order.objects.filter(state__in=[OrderState.PLACED, OrderState.PART], expected_on__gte=day)
        .select_related("job", "supplier")
        .defer("pdf")
    )
    return [_event(order, order.expected_on) for order in orders if order.expected_on]


def _event(order: Order, expected: date) -> Event:
    title = f"Delivery from {order.supplier.name} ({order.job.number} {order.job.title})"
    return Event(f"order-{order.pk}@kerfbook", expected, expected, title, str(order))
