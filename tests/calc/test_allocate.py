"""A plan's cost shared among phases: to the smallest unit, whoever takes more pays more."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.cutting.allocate import share_out, weights_by_phase
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.sheet_problem import SheetPart, SheetProblem, SheetStock

SHARES = [
    ("thirds, the first takes the odd penny", 100, {"a": 1, "b": 1, "c": 1}, {"a": 34, "b": 33, "c": 33}),
    ("largest remainder wins", 10, {"a": 25, "b": 36, "c": 39}, {"a": 2, "b": 4, "c": 4}),
    ("nothing to share", 0, {"a": 1, "b": 2}, {"a": 0, "b": 0}),
    ("one pays all", 7, {"a": 3}, {"a": 7}),
    ("a phase that takes nothing pays nothing", 7, {"a": 3, "b": 0}, {"a": 7, "b": 0}),
    ("no weights: alike", 4, {"a": 0, "b": 0}, {"a": 2, "b": 2}),
    ("below nothing is the mirror", -100, {"a": 1, "b": 1, "c": 1}, {"a": -34, "b": -33, "c": -33}),
    ("nobody and nothing", 0, {}, {}),
]


@pytest.mark.parametrize(
    ("total", "weights", "shares"), [pytest.param(*row[1:], id=row[0]) for row in SHARES]
)
def test_share_out(total, weights, shares):
    assert share_out(total, weights) == shares


def test_a_cost_needs_somebody_to_bear_it():
    with pytest.raises(ValueError, match="among nobody"):
        share_out(1, {})


def test_a_weight_below_nothing_is_refused():
    with pytest.raises(ValueError, match="below nothing"):
        share_out(1, {"a": 2, "b": -1})


weights = st.dictionaries(st.text(max_size=3), st.integers(0, 10**12), min_size=1, max_size=12)


@given(st.integers(-(10**10), 10**10), weights)
def test_shares_add_up_and_lie_within_a_unit_of_their_due(total, weights):
    shares = share_out(total, weights)
    whole = sum(weights.values())
    assert sum(shares.values()) == total
    for name, weight in weights.items():
        due = Fraction(total * weight, whole) if whole else Fraction(total, len(weights))
        assert abs(shares[name] - due) < 1


@given(st.integers(0, 10**10), weights)
def test_who_takes_more_never_pays_less(total, weights):
    shares = share_out(total, weights)
    by_weight = sorted(weights, key=lambda name: (weights[name], shares[name]))
    paid = [shares[name] for name in by_weight]
    assert paid == sorted(paid)


def test_bars_by_length_and_kerf():
    """Two parts of 97 and a kerf of 3 for the walls, one of 197 for the bunk: 200 against 200."""
    problem = BarProblem(
        stock=(BarStock(400, cost=901), BarStock(100, quantity=1, keep_value=50)),
        parts=(BarPart(97, 2, phase="walls"), BarPart(197, 1, phase="bunk")),
        kerf_mm10=3,
    )
    assert weights_by_phase(problem) == {"walls": 200, "bunk": 200}
    assert share_out(901, weights_by_phase(problem)) == {"walls": 451, "bunk": 450}


def test_sheets_by_area():
    problem = SheetProblem(
        stock=(SheetStock(100, 100, cost=1000),),
        parts=(SheetPart(50, 50, 2, phase="galley"), SheetPart(100, 50, 1, phase="bunk")),
    )
    assert weights_by_phase(problem) == {"galley": 5000, "bunk": 5000}
