"""Decimals go into the database and come out the same, and sums of them are exact."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from django.db.models import Sum
from hypothesis import given
from hypothesis import strategies as st

from jobs.fields import MoneyField, QuantityField
from jobs.models import BudgetEntry, PersonRate
from tests import make

amounts = st.decimals(min_value=-(10**9), max_value=10**9, places=4, allow_nan=False, allow_infinity=False)


@given(amounts)
def test_what_goes_in_comes_out(amount: Decimal) -> None:
    field = MoneyField()
    assert field.from_db_value(field.get_prep_value(amount), None, None) == amount


@pytest.mark.parametrize(
    ("field", "stored", "shown"),
    [
        (MoneyField(), 125000, "12.50"),
        (MoneyField(), 121234, "12.1234"),
        (MoneyField(), 0, "0.00"),
        (QuantityField(), 1200000, "120"),
        (QuantityField(), 75000, "7.5"),
    ],
)
def test_noughts_that_say_nothing_are_dropped(field: MoneyField, stored: int, shown: str) -> None:
    assert str(field.from_db_value(stored, None, None)) == shown


@given(st.integers(-(10**15), 10**15), st.sampled_from([MoneyField(), QuantityField()]))
def test_all_digits_are_read_and_no_nought_beyond_those_usually_written(
    stored: int, field: MoneyField
) -> None:
    read = field.from_db_value(stored, None, None)
    assert read == Decimal(stored) / 10**field.places
    digits = -int(read.as_tuple().exponent)
    assert digits >= field.shown_places
    assert digits == field.shown_places or stored % 10 ** (field.places - digits + 1)


def test_more_digits_are_rounded_half_up() -> None:
    assert MoneyField().get_prep_value(Decimal("0.00005")) == 1
    assert MoneyField().get_prep_value(Decimal("-0.00005")) == -1


@pytest.mark.django_db
def test_a_sum_of_tenths_is_exact() -> None:
    phase = make.phase()
    for at in range(30):
        BudgetEntry.objects.create(phase=phase, source="quote", source_ref=f"Q{at}", price=Decimal("0.1"))
    assert phase.budget_entries.aggregate(total=Sum("price"))["total"] == Decimal("3.00")


@pytest.mark.django_db
def test_a_filter_compares_amounts() -> None:
    person = make.person(rate=None)
    PersonRate.objects.create(
        person=person, from_date=date(2026, 1, 1), cost_rate=Decimal("21.50"), charge_rate=Decimal(45)
    )
    assert PersonRate.objects.filter(cost_rate__gt=Decimal("21.4999")).count() == 1
    assert PersonRate.objects.filter(cost_rate__gt=Decimal("21.5")).count() == 0
