"""A delivery booked in by mistake: taken back, cost and commitment are as if it had never come."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.db import DatabaseError, transaction
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from jobs.models import CommitmentEntry, CostEntry, HistoryEntry, Person, Phase
from jobs.refusals import RefusedError
from jobs.services.costs import reverse_cost
from materials.models import Delivery, Order, OrderLine, OrderShare, TakenBack
from materials.services.deliveries import Came, Goods, receive
from materials.services.orders import cancel, place
from materials.services.taking_back import take_back
from tests import make
from tests.checks import says


@pytest.fixture
def phases(workshop: Any) -> list[Phase]:
    job = make.job(state="bench")
    return [make.phase(job=job, title=title) for title in ("Lining", "Bunk")]


@pytest.fixture
def order(phases: list[Phase], owner: Person) -> Order:
    """Ten boards at 3.33, a third of them for the lining."""
    return place(order=make.order("10", "3.33", {phases[0]: "1", phases[1]: "2"}), send=False, person=owner)


def came(order: Order, quantity: str, by: Person, **how: Any) -> Delivery:
    line = order.lines.get()
    goods = Goods([Came(line.pk, Decimal(quantity), Decimal("3.33"))], timezone.localdate(), **how)
    return receive(order=order, goods=goods, person=by, key=uuid4())


def stands(order: Order) -> tuple[str, Decimal, list[Decimal], list[Decimal]]:
    """State, received, and by phase what is committed and what it cost."""
    phases = order.job.phases.order_by("pk")
    return (
        Order.objects.get(pk=order.pk).state,
        OrderLine.objects.get(order=order).received,
        [_sum(CommitmentEntry, phase) for phase in phases],
        [_sum(CostEntry, phase) for phase in phases],
    )


def _sum(ledger: Any, phase: Phase) -> Decimal:
    return ledger.objects.filter(phase=phase).aggregate(Sum("net"))["net__sum"] or Decimal(0)


def test_all_is_as_before(order: Order, owner: Person) -> None:
    before = stands(order)
    delivery = came(order, "10", owner, tax=Decimal("6.66"))
    assert stands(order)[0] == "received"
    take_back(delivery=delivery, person=owner, reason="It was for the other job")
    assert stands(order) == before
    assert before[2] == [Decimal("11.10"), Decimal("22.20")]
    assert CostEntry.objects.aggregate(Sum("tax"))["tax__sum"] == 0


def test_the_other_deliveries_stay(order: Order, owner: Person) -> None:
    four, six = came(order, "4", owner), came(order, "6", owner)
    take_back(delivery=four, person=owner, reason="Counted wrong")
    left, spent = [Decimal("4.44"), Decimal("8.88")], [Decimal("6.66"), Decimal("13.32")]
    assert stands(order) == ("part", Decimal(6), left, spent)
    take_back(delivery=six, person=owner, reason="Counted wrong too")
    assert stands(order)[:2] == ("placed", Decimal(0))


def test_what_is_taken_back_can_come_again(order: Order, owner: Person) -> None:
    take_back(delivery=came(order, "10", owner), person=owner, reason="Counted wrong")
    came(order, "1", owner)
    came(order, "9", owner)
    assert stands(order) == ("received", Decimal(10), [0, 0], [Decimal("11.10"), Decimal("22.20")])
    assert OrderShare.objects.filter(let_go__gt=0).count() == 2


def test_taken_back_twice_it_is_taken_back_once(order: Order, owner: Person) -> None:
    delivery = came(order, "4", owner)
    for _ in range(2):
        take_back(delivery=delivery, person=owner, reason="Counted wrong")
    assert TakenBack.objects.count() == 1
    assert stands(order)[1] == 0


def test_it_says_why_and_is_told_in_the_history(order: Order, owner: Person) -> None:
    delivery = came(order, "4", owner)
    with pytest.raises(RefusedError, match="Say why"):
        take_back(delivery=delivery, person=owner, reason=" ")
    take_back(delivery=delivery, person=owner, reason="Counted wrong")
    told = HistoryEntry.objects.filter(record="order", action="taken back").get()
    assert told.changes["reason"][1] == "Counted wrong"
    assert told.changes["Board, 2400 mm"][0] == "4"


def test_where_the_rest_was_cancelled_nothing_is_expected_again(order: Order, owner: Person) -> None:
    delivery, more = came(order, "4", owner), came(order, "1", owner)
    cancel(order=order, person=owner)
    take_back(delivery=delivery, person=owner, reason="Counted wrong")
    assert stands(order) == ("received", Decimal(1), [0, 0], [Decimal("1.11"), Decimal("2.22")])
    take_back(delivery=more, person=owner, reason="Counted wrong")
    assert stands(order) == ("cancelled", Decimal(0), [0, 0], [0, 0])


def test_a_maker_takes_back_what_they_booked_in_alone(order: Order, owner: Person, maker: Person) -> None:
    theirs, owners = came(order, "4", maker), came(order, "1", owner)
    take_back(delivery=theirs, person=maker, reason="Counted wrong")
    with pytest.raises(RefusedError, match="Somebody else"):
        take_back(delivery=owners, person=maker, reason="Counted wrong")


def test_its_receipt_is_free_for_another_delivery(order: Order, phases: list[Phase], owner: Person) -> None:
    receipt = make.cost(phase=phases[0], net=Decimal("13.32"))
    wrong = came(order, "4", owner, receipt=receipt)
    with pytest.raises(RefusedError, match="another delivery"):
        came(order, "1", owner, receipt=receipt)
    take_back(delivery=wrong, person=owner, reason="It was for the first four of another order")
    assert stands(order)[2:] == ([Decimal("11.10"), Decimal("22.20")], [Decimal("13.32"), 0])
    assert came(order, "4", owner, receipt=receipt).receipt == receipt


def test_reversing_the_receipt_takes_back_what_was_booked_in_with_it(
    order: Order, phases: list[Phase], owner: Person
) -> None:
    receipt = make.cost(phase=phases[0], net=Decimal("13.32"), person=owner)
    before = stands(order)
    came(order, "4", owner, receipt=receipt)
    reverse_cost(entry=receipt, by=owner, key=uuid4(), reason="Not ours")
    assert stands(order)[:3] == before[:3]
    assert stands(order)[3] == [0, 0]
    assert TakenBack.objects.get().reason == "Its receipt was reversed: Not ours"


def test_a_receipt_is_not_reversed_where_its_delivery_cannot_be_taken_back(
    order: Order, phases: list[Phase], owner: Person, maker: Person
) -> None:
    receipt = make.cost(phase=phases[0], net=Decimal("13.32"), person=maker)
    came(order, "4", owner, receipt=receipt)
    with pytest.raises(RefusedError, match="Somebody else"):
        reverse_cost(entry=receipt, by=maker, key=uuid4(), reason="Not ours")
    assert CostEntry.objects.count() == 1


def test_the_database_keeps_it(order: Order, owner: Person) -> None:
    take_back(delivery=came(order, "4", owner), person=owner, reason="Counted wrong")
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic():
        TakenBack.objects.update(reason="None")
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic():
        TakenBack.objects.all().delete()


def test_in_the_browser(order: Order, owner: Person, as_owner: Browser) -> None:
    delivery = came(order, "4", owner)
    address = reverse("materials:delivery-take-back", args=[delivery.pk])
    assert says(as_owner.get(order.get_absolute_url()), f'href="{address}"', "Take it back")
    assert says(as_owner.get(address), "4 × Board, 2400 mm", "count as still to come")
    assert as_owner.post(address, {"reason": ""}).status_code == 422
    assert as_owner.post(address, {"reason": "Counted wrong"}).url == order.get_absolute_url()
    page = as_owner.get(order.get_absolute_url())
    assert says(page, "taken back", "Counted wrong", "ordered")
    assert address not in page.text


def test_a_maker_is_not_shown_the_way_for_others(order: Order, owner: Person, as_maker: Browser) -> None:
    delivery = came(order, "4", owner)
    address = reverse("materials:delivery-take-back", args=[delivery.pk])
    assert address not in as_maker.get(order.get_absolute_url()).text
    assert as_maker.get(address).status_code == 403


def test_whoever_reverses_a_receipt_is_told(
    order: Order, phases: list[Phase], owner: Person, as_owner: Browser
) -> None:
    receipt = make.cost(phase=phases[0], net=Decimal("13.32"), person=owner)
    address = reverse("jobs:cost-reverse", args=[receipt.pk])
    assert "taken back" not in as_owner.get(address).text
    came(order, "4", owner, receipt=receipt)
    assert says(as_owner.get(address), f"booked in on {order}", "taken back with it")
