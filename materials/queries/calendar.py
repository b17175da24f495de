"""Which deliveries are expected on which day?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from jobs.calendar import Event
from materials.enums import OrderState
from materials.models import Order, OrderShare
from materials.queries.lateness import late_phases


def delivery_events(day: date) -> Iterable[Event]:
    """Orders placed, or received in part, on the day their delivery is expected; two queries.

    One that comes after the phase that needs it starts says so in its title.
    """
    coming = Order.objects.filter(state__in=[OrderState.PLACED, OrderState.PART], expected_on__gte=day)
    late = late_phases(OrderShare.objects.filter(line__order__in=coming))
    orders = coming.select_related("job", "supplier").defer("pdf")
    return [_event(order, order.expected_on, late.get(order.pk, "")) for order in orders if order.expected_on]


def _event(order: Order, expected: date, late: str) -> Event:
    said = f"Too late, {late}: " if late else ""
    title = f"Delivery from {order.supplier.name} ({order.job.number} {order.job.title})"
    return Event(f"order-{order.pk}@kerfbook", expected, expected, f"{said}{title}", str(order))
