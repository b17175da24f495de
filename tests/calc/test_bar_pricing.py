"""The most valuable bar, against trying all."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutting.bar_pricing import Pattern, Pricer
from materials.cutting.bar_reach import batches, is_within_reach

from .bar_models import model, small_models


def most_by_trying_all(model, values, room):
    best = 0
    for counts in product(*(range(n + 1) for n in model.demand)):
        length = sum(n * size for n, size in zip(counts, model.lengths, strict=True))
        if length <= room:
            best = max(best, sum(n * value for n, value in zip(counts, values, strict=True)))
    return best


def worth(pattern, values):
    return sum(values[i] * n for i, n in pattern.counts)


@settings(max_examples=150, deadline=None)
@given(small_models(), st.data())
def test_the_most_of_every_stock(model, data):
    values = [data.draw(st.integers(0, 1000)) for _ in model.lengths]
    priced = Pricer(model).price(values, model.demand, [0] * len(model.rooms), 50)
    for stock, most in priced.most.items():
        assert most == most_by_trying_all(model, values, model.rooms[stock])


@settings(max_examples=100, deadline=None)
@given(small_models(), st.data())
def test_patterns_fit_are_asked_for_and_beat_the_price(model, data):
    values = [data.draw(st.integers(0, 1000)) for _ in model.lengths]
    over = [data.draw(st.integers(0, 2000)) for _ in model.rooms]
    priced = Pricer(model).price(values, model.demand, over, 50)
    for pattern in priced.patterns:
        assert sum(model.lengths[i] * n for i, n in pattern.counts) <= model.rooms[pattern.stock]
        assert all(0 < n <= model.demand[i] for i, n in pattern.counts)
        assert worth(pattern, values) > over[pattern.stock]
    best = {stock: most for stock, most in priced.most.items() if most > over[stock]}
    found = {pattern.stock: worth(pattern, values) for pattern in reversed(priced.patterns)}
    assert found == best


def test_the_best_pattern_that_ends_with_each_length():
    """Bar of 10, pieces 6, 4 and 3: 6+4 is worth 10, 6+3 is worth 9, and nothing else beats 8."""
    priced = Pricer(model([6, 4, 3], [1, 1, 1], [(10, 1, None)])).price([6, 4, 3], [1, 1, 1], [8], 9)
    assert priced.patterns == [Pattern(0, ((0, 1), (1, 1))), Pattern(0, ((0, 1), (2, 1)))]


def test_no_more_of_a_length_than_is_left():
    pricer = Pricer(model([5], [4], [(20, 1, None)]))
    assert pricer.price([7], [3], [0], 9).most == {0: 21}


@pytest.mark.parametrize(
    ("count", "sizes"), [(0, []), (1, [1]), (3, [1, 2]), (6, [1, 2, 3]), (8, [1, 2, 4, 1])]
)
def test_batches(count, sizes):
    assert batches(count) == sizes


def test_many_odd_lengths_are_out_of_reach():
    """2001 lengths are too many rows; 1500 of them on a bar of a kilometre are too many cells."""
    assert is_within_reach(model(range(300, 0, -1), [1] * 300, [(48000, 1, None)]))
    assert not is_within_reach(model(range(2001, 0, -1), [1] * 2001, [(4800, 1, None)]))
    assert not is_within_reach(model(range(1500, 0, -1), [1] * 1500, [(10_000_000, 1, None)]))
