"""Packs that are opened for so many pieces, and what they come to."""

import doctest
from collections import Counter
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting import sold
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.check_bars import faults_of
from materials.cutting.check_panels import faults_of_plan
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock
from materials.cutting.sold import Sold, Till
from materials.cutting.solve import as_sold, solve


def till(*offers):
    """One length, sold in packs of so many at a price; the last stock is two offcuts of it."""
    stock = [BarStock(100, 1) for _ in offers]
    problem = BarProblem((*stock, BarStock(100, 0, 2)), ())
    return Till(
        problem,
        [*(Sold(Decimal(pack), Decimal(price)) for pack, price in offers), Sold(Decimal(1), Decimal(0))],
    )


def test_examples():
    assert doctest.testmod(sold).failed == 0


def test_pieces_alike_are_bought_in_the_cheapest_packs_of_them():
    """Singly at 8, and six at 42: five are cheaper singly, seven are a pack and one."""
    of_both = till((1, 8), (6, 42))
    assert [of_both.to_pay(1, pieces) for pieces in (1, 5, 6, 7)] == [8, 40, 42, 50]
    assert of_both.packs(0, 7) == {0: 1, 1: 1}


def test_an_offcut_stands_by_itself():
    assert till((1, 8)).to_pay(1, 2) == 0


def test_what_is_left_of_a_pack_begun_costs_nothing():
    begun = Till(BarProblem((BarStock(100, 7),), ()), [Sold(Decimal(6), Decimal(42), begun=2)])
    assert [begun.to_pay(0, pieces) for pieces in (2, 3, 8, 9)] == [0, 42, 42, 84]


def problem_of(*stock, parts=((60, 1),)):
    """Each stock is (length, price of a pack, pack)."""
    problem = BarProblem(
        tuple(BarStock(length, price // pack) for length, price, pack in stock),
        tuple(BarPart(length, count) for length, count in parts),
    )
    return Till(problem, [Sold(Decimal(pack), Decimal(price)) for _, price, pack in stock])


def planned(till):
    return as_sold(solve(till.problem, seconds=0.5), till, seconds=0.5)


@pytest.mark.parametrize(
    ("number", "bars", "cost"),
    [(1, [(0, 1)], 11), (5, [(0, 5)], 55), (6, [(1, 6)], 60), (8, [(0, 2), (1, 6)], 82)],
)
def test_a_plan_takes_packs_where_they_are_cheaper_for_so_many(number, bars, cost):
    """One part from a bar; singly at 11, six at 60."""
    till = problem_of((100, 11, 1), (100, 60, 6), parts=((60, number),))
    plan = planned(till)
    assert sorted((bar.stock, bar.repeat) for bar in plan.bars) == bars
    assert (till.for_plan(plan), faults_of(plan, till.problem)) == (cost, [])


def test_a_longer_bar_sold_singly_is_cheaper_than_a_pack_of_which_one_is_used():
    till = problem_of((100, 60, 6), (120, 14, 1))
    plan = planned(till)
    assert [(bar.stock, bar.repeat) for bar in plan.bars] == [(1, 1)]
    assert (till.for_plan(plan), plan.bound, faults_of(plan, till.problem)) == (14, 10, [])


def test_a_pack_stays_where_nothing_else_would_do():
    till = problem_of((100, 60, 6), (50, 1, 1))
    assert [(bar.stock, bar.repeat) for bar in planned(till).bars] == [(0, 1)]


def test_sheets_are_bought_in_the_cheapest_packs_too():
    problem = SheetProblem((SheetPart(60, 60, 1),), (SheetStock(100, 100, 9), SheetStock(100, 100, 8)))
    till = Till(problem, [Sold(Decimal(1), Decimal(9)), Sold(Decimal(5), Decimal(40))])
    plan = planned(till)
    assert [(sheet.stock, sheet.repeat) for sheet in plan.sheets] == [(0, 1)]
    assert (till.for_plan(plan), faults_of_plan(plan)) == (9, [])


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(st.sampled_from([100, 130]), st.integers(1, 6), st.integers(1, 20)), min_size=1, max_size=4
    ),
    st.lists(st.tuples(st.integers(20, 100), st.integers(1, 4)), min_size=1, max_size=4),
)
def test_as_it_is_sold_a_plan_can_be_cut_and_costs_no_more(offers, parts):
    till = problem_of(*((length, pack * price, pack) for length, pack, price in offers), parts=parts)
    raw = solve(till.problem, seconds=0.3)
    plan = as_sold(raw, till, seconds=0.3)
    assert faults_of(plan, till.problem) == []
    assert till.for_plan(plan) <= till.for_plan(raw)
    counts = Counter()
    for bar in plan.bars:
        counts[bar.stock] += bar.repeat
    opened = sum(till.sold[at].price * till.sold[at].packs_for(count) for at, count in counts.items())
    assert opened == till.for_plan(plan)


@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(0, 99)), min_size=1, max_size=4), st.integers(0, 60)
)
def test_packs_hold_the_pieces_and_cost_no_more_than_one_size_of_them(offers, pieces):
    of_all = till(*offers)
    packs = of_all.packs(0, pieces)
    assert sum(offers[at][0] * count for at, count in packs.items()) >= pieces
    assert of_all.to_pay(0, pieces) <= min(-(-pieces // pack) * price for pack, price in offers)
