"""The price that holds on a day."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone

from materials.queries.prices import priced_sizes
from tests import make

TODAY = date(2026, 6, 1)


@pytest.fixture(autouse=True)
def _database(db: None) -> None:
    pass


def only_size(size: Any, **how: Any) -> Any:
    (found,) = priced_sizes([size.material_id], **{"on": TODAY, **how})[size.material_id]
    return found


def test_the_newest_price_up_to_the_day_holds() -> None:
    size, supplier = make.size(), make.supplier()
    for amount, day in [("9.00", date(2025, 1, 1)), ("11.00", date(2026, 5, 1)), ("12.00", date(2026, 7, 1))]:
        make.price(amount, size=size, supplier=supplier, from_date=day)
    assert only_size(size).price == Decimal("11.00")
    assert only_size(size, on=date(2026, 7, 1)).price == Decimal("12.00")


def test_an_old_low_price_does_not_beat_the_same_suppliers_new_one() -> None:
    size, dear, cheap = make.size(), make.supplier(), make.supplier()
    make.price("5.00", size=size, supplier=dear, from_date=date(2025, 1, 1))
    make.price("14.00", size=size, supplier=dear)
    make.price("13.00", size=size, supplier=cheap)
    assert [offer.price for offer in only_size(size).offers] == [Decimal("13.00"), Decimal("14.00")]


def test_among_equal_prices_the_supplier_first_by_name() -> None:
    size = make.size()
    for name in ("Weir Timber", "Ash and Daughters"):
        make.price("7.00", size=size, supplier=make.supplier(name=name))
    assert only_size(size).best.supplier == "Ash and Daughters"


def test_a_chosen_supplier_counts_alone() -> None:
    size, chosen = make.size(), make.supplier()
    make.price("5.00", size=size)
    make.price("6.00", size=size, supplier=chosen)
    assert only_size(size, supplier_id=chosen.pk).price == Decimal("6.00")


def test_archived_suppliers_and_sizes_are_left_out() -> None:
    gone = make.supplier(archived_at=timezone.now())
    size = make.size()
    make.price("1.00", size=size, supplier=gone)
    assert only_size(size).best is None
    old = make.size(archived_at=timezone.now())
    assert priced_sizes([old.material_id], on=TODAY) == {old.material_id: ()}


def test_a_price_of_one_is_a_share_of_the_pack() -> None:
    size = make.size(pack_quantity=Decimal(200))
    make.price("7.90", size=size)
    assert only_size(size).price_of_one == Decimal("0.0395")


@pytest.mark.parametrize("many", [1, 3])
def test_two_queries_however_many_materials(many: int, django_assert_num_queries: Any) -> None:
    prices = [make.price() for _ in range(many)]
    with django_assert_num_queries(2):
        assert len(priced_sizes([price.size.material_id for price in prices], on=TODAY)) == many
