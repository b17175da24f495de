"""The floors under a plan's cost."""

from fractions import Fraction

import pytest

from materials.cutting.bar_bounds import length_bound, next_total
from materials.cutting.cut_model import CutModel


def model(lengths, demand, stock):
    rooms, charges, limits = zip(*stock, strict=True)
    return CutModel(tuple(lengths), tuple(demand), rooms, charges, limits)


LENGTH = [
    ("whole bars", (60,), (5,), [(100, 7, None)], 21),
    ("a hair over", (51,), (2,), [(100, 1, None)], 2),
    ("free offcut first", (60,), (5,), [(100, 7, None), (100, 0, 1)], 14),
    ("cheapest per length", (50,), (4,), [(100, 7, None), (50, 3, None)], 12),
    ("the cheap one runs out", (50,), (4,), [(100, 7, None), (50, 3, 2)], 13),
]


@pytest.mark.parametrize(
    ("lengths", "demand", "stock", "bound"), [pytest.param(*row[1:], id=row[0]) for row in LENGTH]
)
def test_length_bound(lengths, demand, stock, bound):
    assert length_bound(model(lengths, demand, stock)) == bound


def test_totals_are_sums_of_prices():
    """By hand: 410, 540, 820, 950, 1080."""
    assert next_total(model([1], [3], [(5, 410, None), (7, 540, None)]), Fraction(1001)) == 1080


def test_a_total_that_can_be_is_kept():
    assert next_total(model([1], [2], [(5, 410, None)]), Fraction(820)) == 820
