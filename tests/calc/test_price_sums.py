"""A bound is raised to a sum that prices can come to, and never past one."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from materials.cutting import price_sums
from materials.cutting.price_sums import PriceSums

KINDS = st.lists(st.tuples(st.integers(0, 30), st.integers(0, 4)), min_size=1, max_size=4)


def all_sums(kinds):
    """Every choice, tried out."""
    counts = product(*[range(quantity + 1) for _, quantity in kinds])
    return {sum(cost * n for (cost, _), n in zip(kinds, chosen, strict=True)) for chosen in counts}


@given(KINDS, st.integers(0, 200))
def test_the_next_sum_is_the_least_of_those_tried_out(kinds, amount):
    most = max(all_sums(kinds))
    reachable = [total for total in all_sums(kinds) if total >= amount]
    if reachable:
        assert PriceSums(kinds, most).at_least(amount) == min(reachable)


@given(KINDS, st.integers(0, 200))
def test_too_many_sums_to_know_them_all_still_give_a_bound(kinds, amount):
    known, price_sums.MOST_SUMS = price_sums.MOST_SUMS, 0
    try:
        raised = PriceSums(kinds, 200).at_least(amount)
    finally:
        price_sums.MOST_SUMS = known
    assert all(total >= raised for total in all_sums(kinds) if total >= amount)


def test_every_number_of_one_price_is_a_sum():
    """By hand: up to twelve at 7 come to the multiples of 7, each of which is its own next sum."""
    sums = PriceSums([(7, 12)], 84)
    assert [sums.at_least(7 * count - 6) for count in range(1, 13)] == [7 * count for count in range(1, 13)]


def test_nothing_costs_anything():
    assert PriceSums([(0, 5)], 0).at_least(0) == 0
