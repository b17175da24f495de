"""Stock and offcuts: what a phase pays for what it takes, once, and gets back when it is put back."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.db import DatabaseError, IntegrityError, transaction
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from jobs.models import CostEntry, Person, Phase
from jobs.refusals import RefusedError
from materials.models import StockItem, StockMove
from materials.queries.stock import stock_for
from materials.services.stock import Leftover, bring_in_leftovers, count_again, put_back, take
from tests import make


@pytest.fixture
def phase(workshop: Any) -> Phase:
    return make.phase(job=make.job(state="bench"))


def cost_of(phase: Phase) -> Decimal:
    return CostEntry.objects.filter(phase=phase).aggregate(Sum("net"))["net__sum"] or Decimal(0)


def test_what_is_taken_leaves_stock_and_costs_the_phase_its_value(owner: Person, phase: Phase) -> None:
    item = make.stock_item(quantity=Decimal(3), value=Decimal("4.20"))
    take(item=item, quantity=Decimal(2), phase=phase, person=owner, key=uuid4())
    item.refresh_from_db()
    assert (item.quantity, item.used_up_at) == (Decimal(1), None)
    entry = CostEntry.objects.get()
    assert (entry.net, entry.source, entry.source_ref) == (Decimal("8.40"), "stock", item.label)


def test_the_same_taking_sent_twice_is_one(owner: Person, phase: Phase) -> None:
    item, key = make.stock_item(quantity=Decimal(3), value=Decimal(1)), uuid4()
    for _ in range(2):
        take(item=item, quantity=Decimal(2), phase=phase, person=owner, key=key)
    assert (cost_of(phase), StockItem.objects.get().quantity) == (Decimal(2), Decimal(1))


def test_reclaimed_wood_costs_nothing_and_is_used_up(owner: Person, phase: Phase) -> None:
    item = make.stock_item(source="reclaimed")
    take(item=item, quantity=Decimal(1), phase=phase, person=owner, key=uuid4())
    item.refresh_from_db()
    assert item.used_up_at is not None
    assert not CostEntry.objects.exists()


@pytest.mark.parametrize(
    ("quantity", "words"), [("2", "only 1"), ("0", "more than nothing"), ("-1", "more than")]
)
def test_more_than_there_is_cannot_be_taken(owner: Person, phase: Phase, quantity: str, words: str) -> None:
    with pytest.raises(RefusedError, match=words):
        take(item=make.stock_item(), quantity=Decimal(quantity), phase=phase, person=owner, key=uuid4())
    assert StockMove.objects.count() == 1


def test_what_is_kept_for_another_job_cannot_be_taken(owner: Person, phase: Phase) -> None:
    item = make.stock_item()
    StockItem.objects.update(reserved_for=make.job())
    with pytest.raises(RefusedError, match="reserved"):
        take(item=item, quantity=Decimal(1), phase=phase, person=owner, key=uuid4())


def test_a_job_that_is_not_won_takes_nothing(owner: Person) -> None:
    item = make.stock_item(value=Decimal(1))
    with pytest.raises(RefusedError, match="enquiry"):
        take(item=item, quantity=Decimal(1), phase=make.phase(), person=owner, key=uuid4())
    assert StockItem.objects.get().quantity == 1


def test_put_back_undoes_cost_and_count_even_if_the_value_has_changed_since(
    owner: Person, phase: Phase
) -> None:
    item = make.stock_item(value=Decimal("4.20"))
    move = take(item=item, quantity=Decimal(1), phase=phase, person=owner, key=uuid4())
    StockItem.objects.update(value=Decimal("9.99"))
    put_back(move=move, person=owner, key=uuid4())
    item.refresh_from_db()
    assert (cost_of(phase), item.quantity, item.used_up_at) == (Decimal(0), Decimal(1), None)
    with pytest.raises(RefusedError, match="already"):
        put_back(move=move, person=owner, key=uuid4())


def test_a_count_is_written_down_with_its_reason(owner: Person) -> None:
    item = make.stock_item(quantity=Decimal(5))
    count_again(item=item, quantity=Decimal(3), reason="two warped", person=owner, key=uuid4())
    move = StockMove.objects.first()
    assert (move.quantity, move.reason, StockItem.objects.get().quantity) == (-2, "two warped", 3)


def test_leftovers_come_in_once_and_take_their_value_off_the_phase(owner: Person, phase: Phase) -> None:
    left = Leftover("plan 7, bar 1", make.material(), 8400, value=Decimal("1.50"), phase=phase)
    for _ in range(2):
        bring_in_leftovers(job=phase.job, leftovers=[left], person=owner, place="rack 2")
    item = StockItem.objects.get()
    assert (item.length_mm10, item.origin_job, item.place) == (8400, phase.job, "rack 2")
    assert cost_of(phase) == Decimal("-1.50")


class WhatIsPaid(TestCase):
    @settings(max_examples=20)
    @given(
        value=st.decimals(0, 99, places=4),
        steps=st.lists(st.tuples(st.integers(1, 4), st.booleans()), max_size=8),
    )
    def test_taken_and_put_back_in_any_order_adds_up(
        self, value: Decimal, steps: list[tuple[int, bool]]
    ) -> None:
        make.workshop()
        owner, phase = make.person(role="owner"), make.phase(job=make.job(state="bench"))
        item = make.stock_item(quantity=Decimal(40), value=value)
        kept = Decimal(0)
        for quantity, goes_back in steps:
            move = take(item=item, quantity=Decimal(quantity), phase=phase, person=owner, key=uuid4())
            if goes_back:
                put_back(move=move, person=owner, key=uuid4())
            else:
                kept += move.cost_entry.net if move.cost_entry else 0
        assert cost_of(phase) == kept
        item.refresh_from_db()
        assert item.quantity == item.moves.aggregate(Sum("quantity"))["quantity__sum"]


def test_what_a_job_may_use(workshop: Any) -> None:
    board, job = make.material(), make.job()
    long, short, kept, others, used = [
        make.stock_item(material=board, length_mm10=length) for length in (30000, 9000, 20000, 1000, 2000)
    ]
    StockItem.objects.filter(pk=kept.pk).update(reserved_for=job)
    StockItem.objects.filter(pk=others.pk).update(reserved_for=make.job())
    StockItem.objects.filter(pk=used.pk).update(used_up_at="2026-01-01T00:00Z")
    assert stock_for([board.pk], job) == {board.pk: [kept, short, long]}


def test_the_database_keeps_the_ledger_and_refuses_nonsense(owner: Person) -> None:
    item = make.stock_item()
    with transaction.atomic(), pytest.raises(IntegrityError):
        StockItem.objects.filter(pk=item.pk).update(quantity=-1)
    with transaction.atomic(), pytest.raises(DatabaseError):
        StockMove.objects.update(quantity=7)


def add(browser: Browser, **changes: str) -> Any:
    fields = {"key": str(uuid4()), "quantity": "1", "source": "reclaimed", "length": "1.85 m", **changes}
    return browser.post(reverse("materials:stock-add"), fields)


def test_a_maker_adds_a_reclaimed_board_once(as_maker: Browser) -> None:
    board, key = make.material(), str(uuid4())
    for _ in range(2):
        answer = add(as_maker, material=str(board.pk), key=key, place="loft")
    item = StockItem.objects.get()
    assert answer.url == item.get_absolute_url()
    assert (item.length_mm10, item.source, item.value, item.place) == (18500, "reclaimed", 0, "loft")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"length": ""}, "length"),
        ({"length": "ten"}, "length"),
        ({"quantity": "1.5"}, "quantity"),
        ({"quantity": "0"}, "quantity"),
        ({"material": ""}, "material"),
    ],
)
def test_what_cannot_lie_there_is_told(as_maker: Browser, changes: dict[str, str], field: str) -> None:
    answer = add(as_maker, **{"material": str(make.material().pk), **changes})
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert not StockItem.objects.exists()


def test_taken_and_put_back_in_the_browser(as_maker: Browser, phase: Phase) -> None:
    item = make.stock_item(value=Decimal("2.50"))
    fields = {"take-key": str(uuid4()), "take-phase": phase.pk, "take-quantity": "1"}
    for _ in range(2):
        as_maker.post(reverse("materials:stock-take", args=[item.pk]), fields)
    assert cost_of(phase) == Decimal("2.50")
    move = StockMove.objects.get(step="taken")
    for _ in range(2):
        as_maker.post(reverse("materials:stock-back", args=[move.pk]))
    assert cost_of(phase) == 0


def test_too_many_are_refused_beside_the_field(as_maker: Browser, phase: Phase) -> None:
    item = make.stock_item()
    fields = {"take-key": str(uuid4()), "take-phase": phase.pk, "take-quantity": "7"}
    answer = as_maker.post(reverse("materials:stock-take", args=[item.pk]), fields)
    assert answer.status_code == 422
    assert answer.context["take_form"].errors["quantity"] == ["There are only 1."]
    assert answer.context["take_form"]["quantity"].value() == "7"


def test_a_maker_sees_stock_and_cannot_change_its_value(as_maker: Browser, as_bookkeeper: Browser) -> None:
    item = make.stock_item(value=Decimal("876.54"))
    for address in (reverse("materials:stock"), item.get_absolute_url()):
        assert "876.54" in as_bookkeeper.get(address).content.decode()
        assert "876.54" not in as_maker.get(address).content.decode()
    change = {"item-place": "loft", "item-value": "1", "item-notes": "", "item-version": "1"}
    as_maker.post(reverse("materials:stock-change", args=[item.pk]), change)
    item.refresh_from_db()
    assert (item.place, item.value) == ("loft", Decimal("876.54"))


@pytest.mark.parametrize("name", ["item", "take", "count", "change", "label", "back"])
def test_what_is_not_there_is_not_found(as_owner: Browser, name: str) -> None:
    method = as_owner.get if name in {"item", "label"} else as_owner.post
    assert method(reverse(f"materials:stock-{name}", args=[999_999])).status_code == 404


@pytest.mark.parametrize("many", [1, 3])
def test_the_list_takes_a_fixed_number_of_queries(
    as_owner: Browser, many: int, django_assert_num_queries: Any
) -> None:
    for _ in range(many):
        make.stock_item(origin_job=make.job())
    with django_assert_num_queries(5):  # session, person, workshop, how many, the items
        as_owner.get(reverse("materials:stock"))


def test_a_label_says_size_and_where_from(as_maker: Browser) -> None:
    item = make.stock_item(origin_job=make.job(number="26-099"), source="leftover")
    page = as_maker.get(reverse("materials:stock-label", args=[item.pk])).content.decode()
    assert item.label in page
    assert "2400 mm" in page
    assert "From job 26-099" in page
    assert "<svg" in page
