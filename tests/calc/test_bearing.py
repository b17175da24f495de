"""Which phase bears how many packs."""

import doctest
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from materials.purchasing import bearing
from materials.purchasing.bearing import lacking, spread, together

packs = st.dictionaries(st.integers(1, 4), st.integers(0, 50).map(Decimal), max_size=4)


def test_examples():
    assert doctest.testmod(bearing).failed == 0


def test_weights_of_nothing_spread_nothing():
    assert spread(Decimal(5), {}) == spread(Decimal(5), {1: Decimal(0)}) == {}


def test_where_nobody_lacks_anything_it_goes_by_need():
    assert lacking({1: Decimal(1), 2: Decimal(2)}, {1: Decimal(9), 2: Decimal(9)}) == {1: 1, 2: 2}


@given(st.integers(1, 500).map(Decimal), packs)
def test_what_is_spread_adds_up(number, weights):
    found = sum(spread(number, weights).values())
    assert round(found, 9) == (number if any(weights.values()) else 0)


@given(packs, packs)
def test_what_is_there_and_what_is_lacking_make_up_what_is_needed(needed, there):
    short = lacking(needed, there)
    if short != needed:
        both = together(short, there)
        assert all(both[phase] >= need for phase, need in needed.items() if need)
