"""The look at a finished plan: each way of being wrong is seen, and a right plan passes."""

from dataclasses import replace

import pytest

from materials.cutting.bar_plan import BarPlan, CutBar
from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.check_bars import faults_of

PROBLEM = BarProblem(
    stock=(BarStock(24000, cost=10), BarStock(10000, quantity=1)),
    parts=(BarPart(7980, 3), BarPart(10000, 1)),
    kerf_mm10=30,
)
GOOD = BarPlan(PROBLEM, (CutBar(0, (0, 0, 0)), CutBar(1, (1,))), bound=10)

WRONG = [
    ("short bar", (CutBar(1, (0, 0, 0)), CutBar(0, (1,))), "the parts end at"),
    ("one short", (CutBar(0, (0, 0)), CutBar(1, (1,))), "2 cut, 3 asked for"),
    ("one over", (*GOOD.bars, CutBar(0, (1,))), "2 cut, 1 asked for"),
    ("offcut twice", (CutBar(0, (0, 0)), CutBar(1, (0,)), CutBar(1, (1,))), "2 taken, 1 there"),
    ("no such stock", (CutBar(2, (0, 0, 0)), CutBar(1, (1,))), "there is no stock 2"),
    ("negative stock", (CutBar(-1, (0, 0, 0)), CutBar(1, (1,))), "there is no stock -1"),
    ("no such part", (CutBar(0, (0, 0, 2)), CutBar(1, (1,))), "nobody asked for"),
    ("empty bar", (*GOOD.bars, CutBar(0, ())), "nothing is cut"),
    ("repeat nothing", (CutBar(0, (0, 0, 0), 0), CutBar(1, (1,))), "repeated 0 times"),
]


def test_a_right_plan_passes():
    assert faults_of(GOOD, PROBLEM) == []


@pytest.mark.parametrize(("bars", "words"), [row[1:] for row in WRONG], ids=[row[0] for row in WRONG])
def test_a_wrong_plan_is_seen(bars, words):
    assert any(words in fault for fault in faults_of(replace(GOOD, bars=bars, bound=0), PROBLEM))


def test_a_bound_over_the_cost_is_seen():
    assert "stands above" in faults_of(replace(GOOD, bound=11), PROBLEM)[0]


def test_a_tenth_more_kerf_no_longer_fits():
    """3 x 798 + 2 x 3 is 2400 exactly; with 3.1 it is 2400.2."""
    assert "the parts end at 24002" in faults_of(GOOD, replace(PROBLEM, kerf_mm10=31))[0]


def test_repeats_count_for_parts_and_stock():
    bars = (CutBar(0, (0,), 3), CutBar(1, (1,)))
    assert faults_of(replace(GOOD, bars=bars), PROBLEM) == []
