"""Deliveries stand in the workshop's calendar while they are awaited."""

from __future__ import annotations

from datetime import date

import pytest

from materials.models import Order
from materials.queries.calendar import delivery_events
from tests import make

pytestmark = pytest.mark.django_db
DAY = date(2026, 6, 10)


def order(**fields: object) -> Order:
    told = {"number": "P-26-001", "state": "placed", "expected_on": DAY}
    return Order.objects.create(
        job=make.job(number="26-014", title="Hut"),
        supplier=make.supplier(name="Weir Timber"),
        **{**told, **fields},
    )


@pytest.mark.parametrize("state", ["placed", "part"])
def test_an_awaited_delivery_is_told(state: str) -> None:
    made = order(state=state)
    [event] = delivery_events(DAY)
    assert (event.first, event.last, event.uid) == (DAY, DAY, f"order-{made.pk}@kerfbook")
    assert event.title == "Delivery from Weir Timber (26-014 Hut)"


@pytest.mark.parametrize(
    "fields",
    [{"state": "draft"}, {"state": "received"}, {"expected_on": None}, {"expected_on": date(2026, 6, 9)}],
)
def test_others_are_not(fields: dict[str, object]) -> None:
    order(**fields)
    assert delivery_events(DAY) == []
