"""What is bought by amount: stock and orders of any size count, and the rest is chosen anew."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from jobs.models import Job, Person, Phase
from materials.models import CuttingPlan, Material, OrderLine, Supplier
from materials.queries.by_amount import Asked
from materials.queries.purchase import purchase_list
from materials.services.orders import draft_order
from materials.services.plans import plan_cutting
from materials.services.stock import take
from tests import make


@pytest.fixture
def phase(workshop: Any) -> Phase:
    return make.phase(job=make.job(state="bench"))


@pytest.fixture
def screws() -> Material:
    """In packs of 200 at 8.00 and of 500 at 13.00."""
    screws = make.material(name="Screw", kind="fixing")
    supplier = make.supplier()
    for pack, price in ((200, "8.00"), (500, "13.00")):
        size = make.size(material=screws, length_mm10=None, pack_quantity=Decimal(pack))
        make.price(price, size=size, supplier=supplier)
    return screws


@pytest.fixture
def rail() -> Material:
    """In lengths of 2.4 m at 10.00."""
    return make.board((24000, "10.00"), name="Rail", kind="length")


def draft_all(job: Job, person: Person) -> None:
    for one in purchase_list(job).suppliers:
        draft_order(job=job, supplier=Supplier.objects.get(pk=one.supplier_id), person=person)


def to_order(job: Job) -> list[tuple[Decimal, str, str]]:
    return [(w.count, w.size, w.in_stock) for one in purchase_list(job).suppliers for w in one.lines]


def covered(job: Job) -> list[tuple[str, str]]:
    return [(line.size, line.covered_by) for line in purchase_list(job).covered]


def test_a_pack_on_order_counts_towards_whatever_is_needed(
    phase: Phase, screws: Material, owner: Person
) -> None:
    """250 need one more pack of 200 at 8.00 besides the one on order, not a pack of 500 at 13.00."""
    make.amount_taken_off(screws, "150", phase=phase)
    draft_all(phase.job, owner)
    make.amount_taken_off(screws, "100", phase=phase)
    (line,) = purchase_list(phase.job).suppliers[0].lines
    assert (line.size, line.needed, line.ordered, line.count, line.cost) == ("pack of 200", 2, 1, 1, 8)


def test_a_pack_of_another_size_on_order_is_named(phase: Phase, screws: Material, owner: Person) -> None:
    make.amount_taken_off(screws, "450", phase=phase)
    draft_all(phase.job, owner)
    make.amount_taken_off(screws, "150", phase=phase)
    assert to_order(phase.job) == [(1, "pack of 200", "")]
    assert covered(phase.job) == [("pack of 500", "1 ordered")]


def test_whole_lengths_on_the_rack_are_not_bought(phase: Phase, rail: Material) -> None:
    make.amount_taken_off(rail, "2", phase=phase)
    make.stock_item(material=rail, quantity=Decimal(1), length_mm10=24000)
    make.stock_item(material=rail, quantity=Decimal(9), length_mm10=12000)
    assert to_order(phase.job) == [(1, "2400 mm", "1 in stock")]
    make.stock_item(material=rail, quantity=Decimal(4), length_mm10=30000)
    assert (to_order(phase.job), covered(phase.job)) == ([], [("", "2 in stock")])


def test_metres_are_taken_from_whole_lengths_on_the_rack(phase: Phase, rail: Material) -> None:
    make.amount_taken_off(rail, "12", unit="m", phase=phase)
    make.stock_item(material=rail, quantity=Decimal(2), length_mm10=48000)
    assert to_order(phase.job) == [(1, "2400 mm", "2 in stock")]
    assert purchase_list(phase.job).suppliers[0].lines[0].said == "for 12 m, by length"


def test_what_the_plan_takes_from_the_rack_is_not_there_for_what_is_counted(
    phase: Phase, rail: Material, owner: Person
) -> None:
    item = make.stock_item(material=rail, quantity=Decimal(1), length_mm10=24000)
    make.taken_off(rail, (20000, 1), phase=phase)
    make.amount_taken_off(rail, "1", phase=phase)
    plan_cutting(job=phase.job, person=owner)
    assert to_order(phase.job) == [(1, "2400 mm", "")]
    make.sawn(CuttingPlan.objects.get())
    item.refresh_from_db()
    assert item.quantity == 0
    assert to_order(phase.job) == [(1, "2400 mm", "")]


def test_a_length_taken_from_the_rack_by_hand_is_not_bought(
    phase: Phase, rail: Material, owner: Person
) -> None:
    item = make.stock_item(material=rail, quantity=Decimal(1), length_mm10=24000)
    make.amount_taken_off(rail, "2", phase=phase)
    take(item=item, quantity=Decimal(1), phase=phase, person=owner, key=uuid4())
    assert to_order(phase.job) == [(1, "2400 mm", "1 in stock")]


def test_metres_and_pieces_use_the_rack_once(phase: Phase, rail: Material) -> None:
    make.amount_taken_off(rail, "2", phase=phase)
    make.amount_taken_off(rail, "4.8", unit="m", phase=phase)
    make.stock_item(material=rail, quantity=Decimal(3), length_mm10=24000)
    (line,) = purchase_list(phase.job).suppliers[0].lines
    assert (line.count, line.size) == (1, "2400 mm")


class WhatIsDrafted(TestCase):
    @settings(max_examples=15)
    @given(st.lists(st.tuples(st.sampled_from(["m", "each"]), st.integers(1, 30)), min_size=1, max_size=4))
    def test_holds_all_that_is_asked_and_then_nothing_is_wanted(self, amounts: list[tuple[str, int]]) -> None:
        make.workshop()
        phase, owner = make.phase(job=make.job(state="bench")), make.person(role="owner")
        skirting = make.board((24000, "10.00"), (48000, "18.00"), kind="length")
        asked = {unit: Decimal(0) for unit, _ in amounts}
        for unit, amount in amounts:
            make.amount_taken_off(skirting, str(amount), unit=unit, phase=phase)
            asked[unit] += amount
            for _ in range(2):
                draft_all(phase.job, owner)
            assert purchase_list(phase.job).suppliers == ()
        lines = list(OrderLine.objects.select_related("size"))
        pieces = sum(line.quantity for line in lines)
        metres = sum(line.quantity * (Asked(skirting, "m", {}).held_by(line.size) or 0) for line in lines)
        assert pieces >= asked.get("each", 0)
        assert metres >= asked.get("m", 0) + Decimal("2.4") * asked.get("each", 0)
