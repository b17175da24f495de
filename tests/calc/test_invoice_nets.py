"""How much an invoice or a credit note is for, by rate of tax: parts that add up to the whole."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.pricing import PricingError
from quotes.pricing.invoicing import balance, credit_nets, done_nets, sum_of
from tests.calc.prices import REDUCED, STANDARD, ZERO_RATED

amounts = st.decimals("-9999", "99999", places=2)
nets = st.dictionaries(st.sampled_from([STANDARD, REDUCED, ZERO_RATED]), amounts, max_size=3)
percents = st.decimals(0, 100, places=2)


def total(by_rate):
    return sum(by_rate.values(), Decimal(0))


def test_a_finished_phase_is_asked_for_at_its_own_rate():
    phases = [({STANDARD: Decimal(1000)}, Decimal(100)), ({REDUCED: Decimal(1000)}, Decimal(0))]
    asked = done_nets(phases, {}, currency="GBP")
    assert {rate: net for rate, net in asked.items() if net} == {STANDARD: 1000}


@given(st.lists(nets, max_size=5), nets)
def test_all_work_done_is_the_contract_less_what_is_invoiced(phases, invoiced):
    whole = done_nets([(each, Decimal(100)) for each in phases], invoiced, currency="GBP")
    assert whole == balance(sum_of(phases), invoiced)


@given(st.lists(st.tuples(nets, percents), max_size=5), st.data())
def test_asked_for_step_by_step_it_comes_to_the_same(phases, data):
    """Whatever was invoiced on the way, the next invoice brings the sum up to the work done."""
    early = [(each, data.draw(st.decimals(0, done, places=2))) for each, done in phases]
    first = done_nets(early, {}, currency="GBP")
    second = done_nets(phases, first, currency="GBP")
    assert sum_of([first, second]) == sum_of([done_nets(phases, {}, currency="GBP"), dict.fromkeys(first, 0)])


@pytest.mark.parametrize("percent", ["-0.01", "100.01"])
def test_more_than_all_is_not_done(percent):
    with pytest.raises(PricingError, match="between 0 and 100"):
        done_nets([({STANDARD: Decimal(1)}, Decimal(percent))], {}, currency="GBP")


@given(nets.filter(lambda some: total(some) > 0))
def test_a_credit_of_all_mirrors_the_invoice_rate_by_rate(left):
    assert credit_nets(left, total(left), "GBP") == {rate: net for rate, net in left.items() if net}


@given(nets.filter(lambda some: total(some) > 0), st.data())
def test_credited_in_parts_nothing_is_left(left, data):
    part = data.draw(st.decimals("0.01", total(left), places=2))
    first = credit_nets(left, part, "GBP")
    assert total(first) == part
    rest = balance(left, first)
    assert total(credit_nets(rest, total(rest), "GBP")) == total(left) - part
