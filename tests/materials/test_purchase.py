"""The purchase list: what the job needs, less what is ordered and what lies in stock."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import CommitmentEntry, Job, Person, Phase
from materials.models import CuttingPlan, Material, Order, OrderLine, Supplier
from materials.queries.purchase import purchase_list
from materials.services.orders import add_line, cancel, draft_order, place, start_order
from materials.services.plans import plan_cutting
from materials.services.stock import take
from tests import make


@pytest.fixture
def phase(workshop: Any) -> Phase:
    return make.phase(job=make.job(state="bench"))


@pytest.fixture
def oil() -> Material:
    material = make.material(name="Oil", kind="liquid", unit="l")
    for pack, price in (("1", "20.00"), ("5", "80.00")):
        size = make.size(material=material, length_mm10=None, pack_quantity=Decimal(pack))
        make.price(price, size=size, supplier_code=f"O{pack}")
    return material


def to_order(job: Job) -> list[tuple[Decimal, str, Decimal]]:
    return [(w.count, w.size, w.price) for one in purchase_list(job).suppliers for w in one.lines]


def test_packs_are_bought_for_what_is_needed(phase: Phase, oil: Material) -> None:
    make.amount_taken_off(oil, "2", phase=phase)
    assert to_order(phase.job) == [(2, "1 l", Decimal("20.00"))]


def test_stock_is_used_before_anything_is_bought(phase: Phase, oil: Material) -> None:
    make.amount_taken_off(oil, "2", phase=phase)
    item = make.stock_item(material=oil, quantity=Decimal("1.5"))
    assert to_order(phase.job) == [(1, "1 l", Decimal("20.00"))]
    make.stock_item(material=oil, quantity=Decimal("0.5"))
    found = purchase_list(phase.job)
    assert found.suppliers == ()
    assert [line.in_stock for line in found.covered] == ["2 l in stock"]
    type(item).objects.update(reserved_for=make.job())
    assert to_order(phase.job) == [(2, "1 l", Decimal("20.00"))]


def test_what_was_taken_from_stock_is_not_bought_again(phase: Phase, oil: Material, owner: Person) -> None:
    make.amount_taken_off(oil, "2", phase=phase)
    item = make.stock_item(material=oil, quantity=Decimal(2))
    take(item=item, quantity=Decimal(2), phase=phase, person=owner, key=uuid4())
    assert to_order(phase.job) == []


def test_what_is_drafted_is_not_bought_again_until_it_is_cancelled(
    phase: Phase, oil: Material, owner: Person
) -> None:
    make.amount_taken_off(oil, "2", phase=phase)
    (one,) = purchase_list(phase.job).suppliers
    supplier = Supplier.objects.get(pk=one.supplier_id)
    order = draft_order(job=phase.job, supplier=supplier, person=owner)
    assert to_order(phase.job) == []
    cancel(order=order, person=owner)
    assert to_order(phase.job) == [(2, "1 l", Decimal("20.00"))]


def test_a_draft_is_made_once_from_the_page(phase: Phase, oil: Material, as_owner: Browser) -> None:
    make.amount_taken_off(oil, "2", phase=phase)
    supplier = purchase_list(phase.job).suppliers[0].supplier_id
    address = reverse("materials:order-draft", args=[phase.job.pk])
    for _ in range(2):
        as_owner.post(address, {"supplier": supplier})
    line = Order.objects.get().lines.get()
    assert (line.quantity, line.words, line.supplier_code) == (2, "Oil, 1 l", "O1")
    assert line.shares.get().phase == phase


@pytest.fixture
def screws() -> Material:
    """In packs of 200 at 5.00."""
    screws = make.material(name="Screw", kind="fixing")
    make.price("5.00", size=make.size(material=screws, length_mm10=None, pack_quantity=Decimal(200)))
    return screws


def press(browser: Browser, job: Job, *, of: Material) -> OrderLine:
    """The button under a supplier's list."""
    supplier = of.sizes.get().prices.get().supplier_id
    browser.post(reverse("materials:order-draft", args=[job.pk]), {"supplier": supplier})
    return OrderLine.objects.get()


def test_a_draft_takes_what_is_wanted_besides(phase: Phase, screws: Material, as_owner: Browser) -> None:
    make.amount_taken_off(screws, "1000", phase=phase)
    assert press(as_owner, phase.job, of=screws).quantity == 5
    make.amount_taken_off(screws, "600", phase=phase)
    assert to_order(phase.job) == [(3, "pack of 200", Decimal("5.00"))]
    for _ in range(2):
        assert press(as_owner, phase.job, of=screws).quantity == 8
    assert to_order(phase.job) == []


def test_a_draft_is_borne_by_the_phases_that_need_it_by_now(
    phase: Phase, screws: Material, as_owner: Browser, owner: Person
) -> None:
    make.amount_taken_off(screws, "400", phase=phase)
    press(as_owner, phase.job, of=screws)
    bench = make.phase(job=phase.job)
    make.amount_taken_off(screws, "1600", phase=bench)
    line = press(as_owner, phase.job, of=screws)
    place(order=line.order, send=False, person=owner)
    assert committed() == {phase.pk: 10, bench.pk: 40}


def committed() -> dict[int, Decimal]:
    sums = CommitmentEntry.objects.values_list("phase").annotate(Sum("net"))
    return dict(sums)


def test_a_second_order_is_borne_by_the_phases_that_still_lack_something(
    phase: Phase, screws: Material, as_owner: Browser, owner: Person
) -> None:
    make.amount_taken_off(screws, "400", phase=phase)
    place(order=press(as_owner, phase.job, of=screws).order, send=False, person=owner)
    bench = make.phase(job=phase.job)
    make.amount_taken_off(screws, "1600", phase=bench)
    supplier = Supplier.objects.get(prices__size__material=screws)
    order = draft_order(job=phase.job, supplier=supplier, person=owner)
    place(order=order, send=False, person=owner)
    assert committed() == {phase.pk: 10, bench.pk: 40}


def test_boards_planned_later_are_borne_by_the_phase_they_are_for(
    phase: Phase, as_owner: Browser, owner: Person
) -> None:
    board = make.board((24000, "10.00"))
    make.taken_off(board, (23000, 1), phase=phase)
    plan_cutting(job=phase.job, person=owner)
    place(order=press(as_owner, phase.job, of=board).order, send=False, person=owner)
    bench = make.phase(job=phase.job)
    make.taken_off(board, (23000, 3), phase=bench)
    plan_cutting(job=phase.job, person=owner)
    supplier = Supplier.objects.get(prices__size__material=board)
    place(order=draft_order(job=phase.job, supplier=supplier, person=owner), send=False, person=owner)
    assert committed() == {phase.pk: 10, bench.pk: 30}


def test_what_was_put_on_a_draft_for_a_phase_stays_with_it(
    phase: Phase, screws: Material, as_owner: Browser, owner: Person
) -> None:
    """Two packs for the bench by hand, one of them spare; then the walls need three besides."""
    bench = make.phase(job=phase.job)
    price = screws.sizes.get().prices.get()
    order = start_order(job=phase.job, supplier=price.supplier, person=owner)
    add_line(
        order=order, size=price.size, words="Screws", quantity=Decimal(2), price=Decimal(5), phase=bench,
        person=owner,
    )  # fmt: skip
    make.amount_taken_off(screws, "200", phase=bench)
    make.amount_taken_off(screws, "800", phase=phase)
    line = press(as_owner, phase.job, of=screws)
    assert line.quantity == 5
    place(order=order, send=False, person=owner)
    assert committed() == {phase.pk: 15, bench.pk: 10}


def test_an_order_begun_by_hand_takes_nothing_from_the_list(
    phase: Phase, screws: Material, as_owner: Browser
) -> None:
    make.amount_taken_off(screws, "400", phase=phase)
    typed = {"supplier": screws.sizes.get().prices.get().supplier_id, "empty": "yes"}
    as_owner.post(reverse("materials:order-draft", args=[phase.job.pk]), typed)
    assert not Order.objects.get().lines.exists()


def test_what_is_planned_is_ordered_once_also_after_some_of_it_is_sawn(phase: Phase, owner: Person) -> None:
    plan = make.plan(phase.job, by=owner)
    (one,) = purchase_list(phase.job).suppliers
    assert [(line.count, line.cost) for line in one.lines] == [(4, Decimal("40.00"))]
    supplier = Supplier.objects.get(pk=one.supplier_id)
    draft_order(job=phase.job, supplier=supplier, person=owner)
    assert to_order(phase.job) == []
    make.sawn(plan)
    found = purchase_list(phase.job)
    assert found.suppliers == ()
    assert [(line.needed, line.ordered) for line in found.covered] == [(3, 3)]


def test_a_pack_ordered_for_a_plan_serves_until_all_of_it_is_sawn(phase: Phase, as_owner: Browser) -> None:
    board = make.material(name="Board")
    make.price("60.00", size=make.size(material=board, pack_quantity=Decimal(6)))
    make.taken_off(board, (23000, 7), phase=phase)
    (plan,) = plan_cutting(job=phase.job, person=make.person())
    line = press(as_owner, phase.job, of=board)
    assert (line.quantity, line.words) == (2, "Board, 2400 mm, pack of 6")
    for _ in range(7):
        assert to_order(phase.job) == []
        make.sawn(type(plan).objects.get())
    assert to_order(phase.job) == []


@pytest.fixture
def rail(phase: Phase, owner: Person) -> Material:
    """Three lengths as planned, and two counted besides."""
    rail = make.board((24000, "10.00"), name="Rail", kind="length")
    make.taken_off(rail, (20000, 3), phase=phase)
    make.amount_taken_off(rail, "2", phase=phase)
    plan_cutting(job=phase.job, person=owner)
    return rail


def test_a_size_planned_and_counted_is_ordered_in_one_line(
    phase: Phase, rail: Material, as_owner: Browser
) -> None:
    assert to_order(phase.job) == [(5, "2400 mm", Decimal("10.00"))]
    line = press(as_owner, phase.job, of=rail)
    assert (line.quantity, line.shares.get().phase) == (5, phase)
    assert to_order(phase.job) == []


def test_what_is_on_order_serves_what_is_planned_and_what_is_counted_once(
    phase: Phase, rail: Material, as_owner: Browser
) -> None:
    press(as_owner, phase.job, of=rail)
    OrderLine.objects.update(quantity=3)
    assert to_order(phase.job) == [(2, "2400 mm", Decimal("10.00"))]


def test_what_is_ordered_and_not_used_by_the_plan_is_named(
    phase: Phase, as_owner: Browser, owner: Person
) -> None:
    """Three of 2.4 m are ordered for parts of 2.3 m; with three of 0.65 m besides, 3 m suits better."""
    rail = make.board((24000, "10.00"), name="Rail", kind="length")
    make.taken_off(rail, (23000, 3), phase=phase)
    plan_cutting(job=phase.job, person=owner)
    press(as_owner, phase.job, of=rail)
    assert purchase_list(phase.job).idle == ()
    make.price("13.00", size=make.size(material=rail, length_mm10=30000))
    make.taken_off(rail, (6500, 3), phase=phase)
    plan_cutting(job=phase.job, person=owner)
    assert [(one.words, one.packs) for one in purchase_list(phase.job).idle] == [("Rail, 2400 mm", 3)]
    assert (
        "Rail, 2400 mm: 3"
        in as_owner.get(reverse("materials:purchase", args=[phase.job.pk])).content.decode()
    )


def test_a_board_sawn_or_counted_is_not_idle(phase: Phase, rail: Material, as_owner: Browser) -> None:
    press(as_owner, phase.job, of=rail)
    for _ in range(3):
        make.sawn(CuttingPlan.objects.get())
        assert purchase_list(phase.job).idle == ()


def test_a_material_without_a_plan_is_told(phase: Phase) -> None:
    make.taken_off(make.board((24000, "4.00")), (20000, 3), phase=phase)
    assert "no cutting plan" in purchase_list(phase.job).gaps[0]


@pytest.mark.parametrize("many", [1, 3])
def test_the_page_takes_a_fixed_number_of_queries(
    phase: Phase, as_owner: Browser, many: int, django_assert_num_queries: Any
) -> None:
    for at in range(many):
        material = make.material(name=f"Oil {at}", kind="liquid", unit="l")
        make.price("20.00", size=make.size(material=material, length_mm10=None))
        make.amount_taken_off(material, "2", phase=phase)
        make.stock_item(material=material, quantity=Decimal(1))
    with django_assert_num_queries(20):
        as_owner.get(reverse("materials:purchase", args=[phase.job.pk]))
