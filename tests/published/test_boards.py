"""Cutting plans for boards against published figures: the least number of bars, and that it is proven."""

import pytest

from materials.cutting.bar_problem import BarPart, BarProblem, BarStock
from materials.cutting.bars import solve_bars
from materials.cutting.check_bars import faults_of
from materials.cutting.search import Search

from .bins import INSTANCES

# Wikipedia, "Cutting stock problem" (read 2026): widths in mm and how many, from rolls of 5600 mm.
# The article's best plan takes 73 rolls with a trim loss of 0.401 %.
PAPER = [
    (1380, 22),
    (1520, 25),
    (1560, 12),
    (1710, 14),
    (1820, 18),
    (1880, 18),
    (1930, 20),
    (2000, 10),
    (2050, 12),
    (2100, 14),
    (2140, 16),
    (2150, 18),
    (2200, 20),
]

# Chvátal, Linear Programming (1983), chapter 13: finals in inches from raws of 100 inches; 453 raws suffice
# and 452.25 is the least that the linear program allows.
CHVATAL = [(45, 97), (36, 610), (31, 395), (14, 211)]


def bars_of_one_length(length, pieces):
    return BarProblem((BarStock(length, cost=1),), tuple(BarPart(size, count) for size, count in pieces))


def least(problem):
    """The number of bars, once the plan is seen to be sound and proven."""
    plan = solve_bars(problem, Search(seconds=10))
    assert faults_of(plan, problem) == []
    assert plan.proven
    return plan.bar_count


def test_thirteen_widths_of_paper():
    problem = bars_of_one_length(5600, PAPER)
    plan = solve_bars(problem)
    assert least(problem) == 73
    waste = 1 - plan.used_mm10 / plan.taken_mm10
    assert waste == pytest.approx(0.00401, abs=0.00001)


def test_four_widths_of_chvatal():
    assert least(bars_of_one_length(100, CHVATAL)) == 453


@pytest.mark.parametrize("name", INSTANCES)
def test_published_instances(name):
    published = INSTANCES[name]
    assert least(bars_of_one_length(published.bar, published.pieces)) == published.least


def test_kerf_is_the_same_as_longer_pieces_in_a_longer_bar():
    """A kerf of 3 taken off all pieces and the bar changes nothing: n pieces, n - 1 kerfs."""
    published = INSTANCES["N1W2B1R3"]
    problem = BarProblem(
        (BarStock(published.bar - 3, cost=1),),
        tuple(BarPart(size - 3, count) for size, count in published.pieces),
        kerf_mm10=3,
    )
    assert least(problem) == published.least
