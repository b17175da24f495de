"""A receipt from the bench and its order: committed becomes actual once, and a price only when asked."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from django.db.models import Sum
from django.urls import reverse
from django.utils import timezone

from jobs.models import CommitmentEntry, CostEntry
from materials.models import Delivery, Order, Price
from tests import make
from tests.checks import queries_of, says


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench", title="Hut"), title="Lining")


def placed(phase):
    """Ten boards at 4.00, as they stand once placed, without the paper."""
    made = make.order(weights={phase: "40"}, state="placed")
    make.commitment(phase=phase, order_ref=made.number, net=Decimal(40))
    return made


@pytest.fixture
def order(phase):
    return placed(phase)


@pytest.fixture
def send(as_maker, maker, phase):
    """A receipt as the phone sends it; 48.00 with 8.00 tax unless said otherwise."""

    def sent(**message):
        plain = {"act": "cost", "key": str(uuid4()), "person": maker.pk, "phase": phase.pk, "total": "48.00",
                 "tax": "8.00", "kind": "material", "on_date": f"{timezone.localdate()}"}  # fmt: skip
        return as_maker.post("/bench/queue/", plain | message, content_type="application/json")

    return sent


def committed():
    return CommitmentEntry.objects.aggregate(Sum("net"))["net__sum"]


def spent():
    return CostEntry.objects.aggregate(Sum("net"))["net__sum"] or 0


def test_all_came_moves_what_was_committed_to_actual_once(send, order):
    message = {"key": str(uuid4()), "order": order.number, "all_came": "on"}
    first, again = send(**message), send(**message)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    assert f"Order {order.number} is all here." in first.json()["words"]
    assert (committed(), spent(), Delivery.objects.count()) == (0, 40, 1)
    assert Order.objects.get().state == "received"
    assert CostEntry.objects.get().supplier == order.supplier.name


def test_a_part_that_came_waits_to_be_booked_in(send, order, as_maker):
    send(order=order.number)
    assert (committed(), spent(), Delivery.objects.count()) == (40, 40, 0)
    assert says(as_maker.get(order.get_absolute_url()), "says it is for this order", "Say what came")
    receipt = CostEntry.objects.get()
    address = reverse("materials:order-receive", args=[order.pk])
    form = as_maker.get(address).context["form"]
    assert form["receipt"].value() == receipt.pk
    line = order.lines.get()
    as_maker.post(address, {"key": str(uuid4()), "on_date": f"{timezone.localdate()}", f"came_{line.pk}": "4",
                            "receipt": receipt.pk})  # fmt: skip
    assert (committed(), spent()) == (24, 40)


def test_an_order_received_meanwhile_is_a_conflict_and_nothing_is_stored(send, order):
    send(order=order.number, all_came="on")
    answer = send(order=order.number, all_came="on")
    assert (answer.status_code, CostEntry.objects.count()) == (409, 1)
    assert "Nothing is to come" in answer.json()["words"]


@pytest.mark.parametrize("number", ["P-none", "x" * 20])
def test_an_order_that_is_none_is_a_conflict(send, order, number):
    assert send(order=number).status_code == 409
    assert spent() == 0


def test_an_order_of_another_job_is_a_conflict(send, order):
    other = make.phase(job=make.job(state="bench"))
    answer = send(order=order.number, phase=other.pk)
    assert (answer.status_code, spent()) == (409, 0)
    assert "choose a phase of that job" in answer.json()["words"]


def test_the_bench_offers_open_orders_under_their_supplier(as_maker, order):
    page = as_maker.get(reverse("jobs:bench-cost"))
    assert says(page, f'<optgroup label="{order.supplier.name}">', order.number, "suppliers")


def test_without_an_open_order_the_bench_does_not_ask(as_maker, phase):
    assert not says(as_maker.get(reverse("jobs:bench-cost")), "For order")


@pytest.fixture
def receipt(phase, order):
    return make.cost(phase=phase, net=Decimal(44), supplier=order.supplier.name.upper())


def test_the_desk_offers_the_suppliers_open_orders_first(as_owner, receipt, order, phase):
    placed(phase)
    page = as_owner.get(reverse("materials:receipt", args=[receipt.pk])).context["page"]
    assert [one.order for one in page.theirs] == [order]
    assert len(page.others) == 1


def test_a_price_goes_to_the_catalogue_only_when_the_owner_writes_it(send, as_owner, order):
    send(total="52.80", tax="8.80", order=order.number, all_came="on")
    assert not Price.objects.exists()
    assert says(as_owner.get(order.get_absolute_url()), "says £44.00, the goods come to £40.00")
    receipt, size = CostEntry.objects.get(), order.lines.get().size
    address = reverse("materials:receipt", args=[receipt.pk])
    assert as_owner.get(address).context["form"]["price"].value() == Decimal("4.4")
    for _ in range(2):
        as_owner.post(address, {"size": size.pk, "price": "4.40"})
    price = Price.objects.get()
    assert (price.price, price.supplier, price.from_date) == (
        Decimal("4.40"), order.supplier, receipt.on_date,
    )  # fmt: skip


def test_a_receipt_without_an_order_prices_what_its_supplier_sells(as_owner, receipt):
    price = make.price()
    loose = make.cost(phase=receipt.phase, supplier=price.supplier.name)
    address = reverse("materials:receipt", args=[loose.pk])
    assert as_owner.post(address, {"size": price.size_id, "price": "lots"}).status_code == 422
    as_owner.post(address, {"size": price.size_id, "price": "9.99"})
    assert Price.objects.filter(size=price.size, price=Decimal("9.99")).exists()


def test_a_cost_that_an_order_wrote_is_no_receipt(as_owner, phase):
    written = make.cost(phase=phase, source="order")
    assert as_owner.get(reverse("materials:receipt", args=[written.pk])).status_code == 404


def test_the_owner_is_led_there_from_the_costs(as_owner, as_maker, receipt):
    address = reverse("jobs:costs", args=[receipt.phase.job_id])
    assert says(as_owner.get(address), reverse("materials:receipt", args=[receipt.pk]))
    assert not says(as_maker.get(address), "Order, prices")


@pytest.mark.parametrize("count", [1, 3])
def test_queries_do_not_grow_with_orders(as_owner, receipt, phase, count):
    for _ in range(count):
        placed(phase)
    assert queries_of(as_owner, reverse("materials:receipt", args=[receipt.pk])) == 12
