"""Costs from the bench: the ledger adds up, keeps everything, and takes each cost once."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from uuid import uuid4

import pytest
import time_machine
from django.db.models import Sum
from hypothesis import given
from hypothesis import strategies as st

from jobs.models import CostEntry, Workshop
from jobs.money import tax_inside
from jobs.refusals import RefusedError
from jobs.services.costs import Spent, log_cost, reverse_cost
from jobs.services.hours import Work
from tests import make

TODAY = date(2026, 6, 3)
HUNDRED = Spent(net=Decimal(100), tax=Decimal(20), on_date=TODAY, supplier="Ferry Timber")


@pytest.fixture(autouse=True)
def _today():
    with time_machine.travel("2026-06-03T09:00:00Z", tick=False):
        yield


@pytest.fixture
def phase(workshop):
    return make.phase(job=make.job(state="bench"))


def log(person, phase, spent=HUNDRED, key=None):
    return log_cost(person=person, key=key or uuid4(), work=Work(phase), spent=spent)


def test_a_cost_is_in_the_ledger_once(maker, phase):
    key = uuid4()
    assert [log(maker, phase, key=key).new for _ in range(2)] == [True, False]
    entry = CostEntry.objects.get()
    assert (entry.net, entry.tax, entry.supplier, entry.phase) == (100, 20, "Ferry Timber", phase)


def test_the_same_key_with_another_amount_is_refused(maker, phase):
    key = uuid4()
    log(maker, phase, key=key)
    with pytest.raises(RefusedError, match="something else"):
        log(maker, phase, Spent(net=Decimal(90), tax=Decimal(18), on_date=TODAY), key=key)


@pytest.mark.parametrize(
    ("net", "tax", "words"),
    [
        ("0", "0", "nothing"),
        ("1.005", "0", "0.01"),
        ("1000000.01", "0", "decimal point"),
        ("10", "-2", "same sign"),
        ("10", "11", "part of the amount"),
    ],
)
def test_amounts_that_cannot_be_meant(net, tax, words, maker, phase):
    with pytest.raises(RefusedError, match=words):
        log(maker, phase, Spent(net=Decimal(net), tax=Decimal(tax), on_date=TODAY))


@pytest.mark.parametrize(
    ("currency", "most"), [("GBP", "1000000"), ("JPY", "100000000"), ("IDR", "100000000"), ("KWD", "1000000")]
)
def test_what_is_too_much_goes_by_the_currency(currency, most, maker, phase):
    Workshop.objects.update(currency=currency)
    assert log(maker, phase, Spent(net=Decimal(most), tax=Decimal(0), on_date=TODAY)).new
    with pytest.raises(RefusedError, match="decimal point"):
        log(maker, phase, Spent(net=Decimal(most) + 1, tax=Decimal(0), on_date=TODAY))


@pytest.mark.parametrize("source", ["order", "stock"])
def test_goods_with_quantities_behind_them_may_cost_any_amount(source, maker, phase):
    spent = Spent(net=Decimal(1_500_000), tax=Decimal(0), on_date=TODAY, source=source)
    assert log(maker, phase, spent).new


def test_tax_that_cannot_be_claimed_back_is_part_of_the_cost(maker, phase):
    Workshop.objects.update(not_registered_for_tax=True)
    key = uuid4()
    assert [log(maker, phase, key=key).new for _ in range(2)] == [True, False]
    assert (CostEntry.objects.get().net, CostEntry.objects.get().tax) == (120, 0)


@pytest.mark.parametrize("day", [date(2026, 6, 4), date(2024, 6, 3)])
def test_days_that_cannot_be_meant(day, maker, phase):
    with pytest.raises(RefusedError, match="year"):
        log(maker, phase, Spent(net=Decimal(10), tax=Decimal(0), on_date=day))


def test_a_job_not_won_takes_no_costs(maker, workshop):
    with pytest.raises(RefusedError, match="enquiry"):
        log(maker, make.phase())


def test_a_refund_is_a_minus(maker, phase):
    refund = Spent(net=Decimal(-10), tax=Decimal(-2), on_date=TODAY)
    assert log(maker, phase, refund).row.net == -10


def test_a_reversal_is_the_opposite_and_both_stay(maker, phase):
    entry, key = log(maker, phase).row, uuid4()
    made = [reverse_cost(entry=entry, by=maker, key=key, reason="wrong job") for _ in range(2)]
    assert [one.new for one in made] == [True, False]
    opposite = made[0].row
    assert (opposite.net, opposite.tax, opposite.reverses) == (-100, -20, entry)
    assert opposite.description == "Reversed: wrong job"
    assert CostEntry.objects.aggregate(Sum("net"))["net__sum"] == 0


def test_what_cannot_be_reversed(maker, bookkeeper, owner, phase):
    entry = log(owner, phase).row
    with pytest.raises(RefusedError, match="why"):
        reverse_cost(entry=entry, by=owner, key=uuid4(), reason=" ")
    opposite = reverse_cost(entry=entry, by=bookkeeper, key=uuid4(), reason="wrong job").row
    with pytest.raises(RefusedError, match="reversed already"):
        reverse_cost(entry=entry, by=owner, key=uuid4(), reason="again")
    with pytest.raises(RefusedError, match="reversal already"):
        reverse_cost(entry=opposite, by=owner, key=uuid4(), reason="back")
    ordered = log(owner, phase, Spent(net=Decimal(1), tax=Decimal(0), on_date=TODAY, source="order")).row
    with pytest.raises(RefusedError, match="take it back there"):
        reverse_cost(entry=ordered, by=owner, key=uuid4(), reason="sent back")


pence = st.integers(1, 10**9).map(lambda amount: Decimal(amount) / 100)


@given(gross=pence, percent=st.sampled_from(["0", "5", "7.7", "20", "25"]).map(Decimal))
def test_the_tax_inside_a_price_is_the_tax_on_what_is_left(gross, percent):
    tax = tax_inside(gross, percent, "GBP")
    assert 0 <= tax < gross or tax == 0
    assert abs((gross - tax) * percent / 100 - tax) <= Decimal("0.01") * (1 + percent / 100)
