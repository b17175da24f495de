"""Packs that are opened for so many pieces, and what they come to."""

import doctest
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from materials.cutting import sold
from materials.cutting.bar_problem import BarProblem, BarStock
from materials.cutting.sold import Sold, Till


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


@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(0, 99)), min_size=1, max_size=4), st.integers(0, 60)
)
def test_packs_hold_the_pieces_and_cost_no_more_than_one_size_of_them(offers, pieces):
    of_all = till(*offers)
    packs = of_all.packs(0, pieces)
    assert sum(offers[at][0] * count for at, count in packs.items()) >= pieces
    assert of_all.to_pay(0, pieces) <= min(-(-pieces // pack) * price for pack, price in offers)
